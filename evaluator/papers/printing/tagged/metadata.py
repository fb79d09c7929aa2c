"""What a paper says of itself: title, author, language and day, as XMP (ISO 16684-1).

`pdfuaid` and `fx` are no schemas of PDF/A, so that they are described beside, as ISO 19005-3 asks (6.6.2.3).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from unicodedata import category
from xml.sax.saxutils import escape


@dataclass(frozen=True, slots=True)
class About:
    """`day`: ISO, of what the paper tells, empty where it is not known. `fingerprint`: of the attached evaluation.
    `booked`: whether the paper carries a bill as XML.
    """

    title: str
    author: str = ""
    subject: str = ""
    day: str = ""
    fingerprint: str = ""
    booked: bool = False
    language: str = "en"
    producer: str = "evaluator, with ReportLab and pikepdf"

    @property
    def stamp(self) -> str:
        """The day as PDF writes it, from its first minute in UTC."""
        return f"D:{self.day[:10].replace('-', '')}000000+00'00'"


def clean(text: str) -> str:
    """The text without control characters, which XML does not take."""
    return "".join(" " if category(char) in {"Cc", "Cs", "Cn"} else char for char in text).strip()


def _sequence(name: str, kind: str, text: str, language: str = "") -> str:
    """One text of Dublin Core; empty where there is none."""
    if not text:
        return ""
    said = f' xml:lang="{language}"' if language else ""
    return f"<{name}><rdf:{kind}><rdf:li{said}>{escape(text)}</rdf:li></rdf:{kind}></{name}>"


def _told(name: str, text: str) -> str:
    return f"<{name}>{escape(text)}</{name}>" if text else ""


@dataclass(frozen=True, slots=True)
class Schema:
    """Metadata that PDF/A does not know: its properties as (name, type, category, what it says)."""

    title: str
    space: str
    prefix: str
    properties: tuple[tuple[str, str, str, str], ...]


UA = Schema(
    "PDF/UA identification",
    "http://www.aiim.org/pdfua/ns/id/",
    "pdfuaid",
    (("part", "Integer", "internal", "Part of ISO 14289 that the file follows"),),
)
FX = Schema(
    "Factur-X PDFA Extension Schema",
    "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#",
    "fx",
    (
        ("DocumentFileName", "Text", "external", "Name of the invoice within this file"),
        ("DocumentType", "Text", "external", "What the file within is"),
        ("Version", "Text", "external", "Version of its schema"),
        ("ConformanceLevel", "Text", "external", "How much of the standard it follows"),
    ),
)
BOOKED = (
    "<fx:DocumentType>INVOICE</fx:DocumentType><fx:DocumentFileName>factur-x.xml</fx:DocumentFileName>"
    "<fx:Version>1.0</fx:Version><fx:ConformanceLevel>EN 16931</fx:ConformanceLevel>"
)


def _described(schemas: Sequence[Schema]) -> str:
    listed = "".join(
        f"""<rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>{one.title}</pdfaSchema:schema>
<pdfaSchema:namespaceURI>{one.space}</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>{one.prefix}</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq>{"".join(map(_property, one.properties))}</rdf:Seq></pdfaSchema:property>
</rdf:li>"""
        for one in schemas
    )
    return f"<pdfaExtension:schemas><rdf:Bag>{listed}</rdf:Bag></pdfaExtension:schemas>"


def _property(of: tuple[str, str, str, str]) -> str:
    name, kind, category, says = of
    return f"""<rdf:li rdf:parseType="Resource">
<pdfaProperty:name>{name}</pdfaProperty:name><pdfaProperty:valueType>{kind}</pdfaProperty:valueType>
<pdfaProperty:category>{category}</pdfaProperty:category>
<pdfaProperty:description>{says}</pdfaProperty:description>
</rdf:li>"""


def xmp(about: About) -> str:
    """The packet of metadata."""
    day = f"{about.day[:10]}T00:00:00+00:00" if about.day else ""
    told = (
        _sequence("dc:title", "Alt", about.title, "x-default"),
        _sequence("dc:creator", "Seq", about.author),
        _sequence("dc:description", "Alt", about.subject, "x-default"),
        _sequence("dc:language", "Bag", about.language),
        _told("xmp:CreateDate", day),
        _told("xmp:ModifyDate", day),
        _told("pdf:Producer", about.producer),
        _told("pdf:Keywords", about.fingerprint),
        "<pdfaid:part>3</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance><pdfuaid:part>1</pdfuaid:part>",
        BOOKED if about.booked else "",
        _described((UA, FX) if about.booked else (UA,)),
    )
    inside = "\n".join(part for part in told if part)
    return f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#"
 xmlns:fx="{FX.space}">
{inside}
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>"""
