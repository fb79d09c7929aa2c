"""What a paper says of itself: title, author, language and day, as XMP (ISO 16684-1).

`pdfuaid` is no schema of PDF/A, so that it is described beside, as ISO 19005-3 asks (6.6.2.3).
"""

from dataclasses import dataclass
from unicodedata import category
from xml.sax.saxutils import escape


@dataclass(frozen=True, slots=True)
class About:
    """`day`: ISO, of what the paper tells, empty where it is not known. `fingerprint`: of the attached evaluation."""

    title: str
    author: str = ""
    subject: str = ""
    day: str = ""
    fingerprint: str = ""
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


DESCRIBED = """<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name><pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289 that the file follows</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>"""


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
        DESCRIBED,
    )
    inside = "\n".join(part for part in told if part)
    return f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
{inside}
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>"""
