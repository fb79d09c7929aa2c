"""What ISO 14289-1 (PDF/UA-1) and ISO 19005-3 (PDF/A-3) ask of a paper, as far as a program can tell: a rule a clause.

Our own reading of the clauses, from memory of the standards: a paper that passes is tagged, not certified.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

import pikepdf
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Pdf, Stream

PAINTING = {"Tj", "TJ", "'", '"', "f", "F", "f*", "S", "s", "B", "B*", "b", "b*", "Do", "sh", "BI"}
KINDS = {"Document", "Div", "P", "H1", "H2", "H3", "L", "LI", "Lbl", "LBody", "Figure", "Link"}
KINDS |= {"Table", "THead", "TBody", "TR", "TH", "TD"}
BELOW = {  # ISO 32000-1, 14.8.4: what may stand right below
    "L": {"LI"},
    "LI": {"Lbl", "LBody"},
    "Table": {"THead", "TBody"},
    "THead": {"TR"},
    "TBody": {"TR"},
    "TR": {"TH", "TD"},
}
FOUND_IN = {kid: kind for kind, kids in BELOW.items() for kid in kids if kid not in ("TR", "THead", "TBody")}
SPACES = {
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "dc": "http://purl.org/dc/elements/1.1/",
    "xmp": "http://ns.adobe.com/xap/1.0/",
    "pdf": "http://ns.adobe.com/pdf/1.3/",
    "pdfaid": "http://www.aiim.org/pdfa/ns/id/",
    "pdfuaid": "http://www.aiim.org/pdfua/ns/id/",
    "fx": "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#",
    "schema": "http://www.aiim.org/pdfa/ns/schema#",
}


@dataclass(frozen=True)
class Element:
    kind: str
    held: Any
    parent: str
    kids: "tuple[Element, ...]"


class Opened:
    """A paper, its elements in reading order, and the marks of its pages."""

    def __init__(self, content: bytes) -> None:
        self.content = content
        self.pdf = Pdf.open(BytesIO(content))
        self.root = self.pdf.Root
        self.xmp = ElementTree.fromstring(bytes(self.root.Metadata.read_bytes()))
        self.top = _element(self.root.StructTreeRoot.K, "StructTreeRoot")
        self.elements = tuple(_all(self.top))
        self.pages = [_marks(page) for page in self.pdf.pages]

    def said(self, path: str) -> str | None:
        return self.xmp.findtext(f".//{path}", namespaces=SPACES)

    def faces(self) -> list[Any]:
        found = {}
        for page in self.pdf.pages:
            for face in page.obj.Resources.get("/Font", {}).values():
                found[face.objgen] = face
        return list(found.values())

    def streams(self) -> Iterator[Any]:
        yield from (one for one in self.pdf.objects if isinstance(one, Stream))


def _element(held: Any, parent: str) -> Element:
    kind = str(held.S).lstrip("/")
    kids = held.get("/K", Array())
    inner = [
        one for one in (kids if isinstance(kids, Array) else [kids]) if isinstance(one, Dictionary) and "/S" in one
    ]
    return Element(kind, held, parent, tuple(_element(one, kind) for one in inner))


def _all(element: Element) -> Iterator[Element]:
    yield element
    for kid in element.kids:
        yield from _all(kid)


def _marks(page: Any) -> dict[str, Any]:
    """The marks of a page: their numbers and kinds, and what is wrong with how they are opened and closed."""
    depth, numbers, wrong, open_at = 0, [], [], []
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            depth += 1
            if depth > 1:
                wrong.append("nested")
            if name == "BDC":
                numbers.append((int(operands[1].MCID), str(operands[0]).lstrip("/")))
        elif name == "EMC":
            depth -= 1
        elif name in ("q", "Q", "BT", "ET"):
            open_at.append((name, depth))
        elif name in PAINTING and depth == 0:
            wrong.append(f"{name} under no tag")
    return {"numbers": numbers, "wrong": wrong + (["open"] if depth else [])}


Rule = Callable[[Opened], Any]
RULES: dict[str, Rule] = {}


def rule(clause: str) -> Callable[[Rule], Rule]:
    """A rule gives what is wrong, anything false for nothing."""

    def kept(check: Rule) -> Rule:
        RULES[clause] = check
        return check

    return kept


def faults(content: bytes) -> dict[str, Any]:
    """What is wrong with a paper, by clause."""
    opened = Opened(content)
    return {clause: wrong for clause, check in RULES.items() if (wrong := check(opened))}


# ISO 14289-1, for everybody
@rule("UA 5: it names the part of the standard")
def _(o: Opened) -> Any:
    return o.said("pdfuaid:part") != "1"


@rule("UA 6.2, 7.1: marked, nothing suspect, a tree")
def _(o: Opened) -> Any:
    return not o.root.MarkInfo.Marked or o.root.MarkInfo.get("/Suspects", False) or "/StructTreeRoot" not in o.root


@rule("UA 7.1: everything that is painted is tagged or an artifact, one not inside the other")
def _(o: Opened) -> Any:
    return [(i, page["wrong"]) for i, page in enumerate(o.pages) if page["wrong"]]


@rule("UA 7.1: every mark of a page leads to its element, of its kind, and back")
def _(o: Opened) -> Any:
    parents = o.root.StructTreeRoot.ParentTree.Nums
    by_key = {int(parents[i]): parents[i + 1] for i in range(0, len(parents), 2)}
    wrong = []
    for page, marks in zip(o.pdf.pages, o.pages, strict=True):
        owners = by_key[int(page.obj.StructParents)]
        for place, (number, kind) in enumerate(marks["numbers"]):
            owner = owners[number]
            if number != place or str(owner.S) != f"/{kind}" or not _holds(owner, number, page.obj):
                wrong.append((kind, number))
    return wrong


def _holds(owner: Any, number: int, page: Any) -> bool:
    for kid in owner.K:
        if isinstance(kid, Dictionary):
            if kid.get("/Type") == Name.MCR and int(kid.MCID) == number and kid.Pg.objgen == page.objgen:
                return True
        elif int(kid) == number and owner.Pg.objgen == page.objgen:
            return True
    return False


@rule("UA 7.1: standard kinds only, and no map of roles")
def _(o: Opened) -> Any:
    return {one.kind for one in o.elements} - KINDS or "/RoleMap" in o.root.StructTreeRoot


@rule("UA 7.1: a title, which the window shows")
def _(o: Opened) -> Any:
    return not o.said("dc:title/rdf:Alt/rdf:li") or not o.root.ViewerPreferences.DisplayDocTitle


@rule("UA 7.2: a language")
def _(o: Opened) -> Any:
    return not re.fullmatch(r"[a-z]{2}(-[A-Z]{2})?", str(o.root.Lang))


@rule("UA 7.2: lists and tables hold what belongs in them, and only there")
def _(o: Opened) -> Any:
    return [
        (one.parent, one.kind)
        for one in o.elements
        if (one.parent in BELOW and one.kind not in BELOW[one.parent])
        or (one.kind in FOUND_IN and one.parent != FOUND_IN[one.kind])
    ]


@rule("UA 7.2: a list's items hold a body")
def _(o: Opened) -> Any:
    return [one for one in o.elements if one.kind == "LI" and "LBody" not in [kid.kind for kid in one.kids]]


@rule("UA 7.3: a figure has words that say what it shows, and where it stands")
def _(o: Opened) -> Any:
    figures = [one for one in o.elements if one.kind == "Figure"]
    return [one.kind for one in figures if not str(one.held.get("/Alt", "")).strip() or "/BBox" not in one.held.A]


@rule("UA 7.4: headings begin at H1 and leave no level out")
def _(o: Opened) -> Any:
    levels = [int(one.kind[1]) for one in o.elements if re.fullmatch(r"H\d", one.kind)]
    return [(a, b) for a, b in zip([0, *levels], levels, strict=False) if b > a + 1]


@rule("UA 7.5: tables are regular, and their heads say what they head")
def _(o: Opened) -> Any:
    wrong = []
    for table in (one for one in o.elements if one.kind == "Table"):
        rows = [row for part in table.kids for row in part.kids]
        heads = [cell for row in rows for cell in row.kids if cell.kind == "TH"]
        if len({len(row.kids) for row in rows}) != 1 or any("/Scope" not in cell.held.A for cell in heads) or not heads:
            wrong.append([len(row.kids) for row in rows])
    return wrong


@rule("UA 7.18: the tab key follows the tags; links say where they lead, stand in a Link, and are printed")
def _(o: Opened) -> Any:
    wrong: list[Any] = [i for i, page in enumerate(o.pdf.pages) if page.obj.get("/Tabs") != Name.S]
    owned = {_link(one.held) for one in o.elements if one.kind == "Link"}
    for page in o.pdf.pages:
        for link in page.obj.get("/Annots", []):
            if link.objgen not in owned or not str(link.get("/Contents", "")) or not int(link.get("/F", 0)) & 4:
                wrong.append(link)
    return wrong


def _link(held: Any) -> Any:
    return next((kid.Obj.objgen for kid in held.K if isinstance(kid, Dictionary) and "/Obj" in kid), None)


@rule("UA 7.21.4, A 6.2.11: every face is embedded and knows its letters; symbolic ones name no encoding")
def _(o: Opened) -> Any:
    wrong = []
    for face in o.faces():
        within = face.FontDescriptor if "/FontDescriptor" in face else {}
        if "/FontFile2" not in within or "/ToUnicode" not in face:
            wrong.append(str(face.BaseFont))
        elif int(within.Flags) & 4 and "/Encoding" in face:
            wrong.append(f"{face.BaseFont} names an encoding")
    return wrong


@rule("UA 7.21.5 and 8, A 6.2.11: the widths are those of the face, and every letter drawn is in it")
def _(o: Opened) -> Any:
    wrong = []
    for face in (one for one in o.faces() if "/FontDescriptor" in one):
        font = TTFont(BytesIO(bytes(face.FontDescriptor.FontFile2.read_bytes())))
        known, units = font["cmap"].tables[0].cmap, font["head"].unitsPerEm
        if len(font["cmap"].tables) != 1:
            wrong.append("cmaps")
        first = int(face.FirstChar)
        for code, width in enumerate(face.Widths, first):
            if code in known and abs(float(width) - font["hmtx"][known[code]][0] * 1000 / units) > 1:
                wrong.append((str(face.BaseFont), code))
        used = _used(o, face)
        wrong += [(str(face.BaseFont), code, "not in it") for code in used if known.get(code, ".notdef") == ".notdef"]
    return wrong


def _used(o: Opened, face: Any) -> set[int]:
    """The codes that the pages draw in a face."""
    found: set[int] = set()
    for page in o.pdf.pages:
        fonts, current = page.obj.Resources.get("/Font", {}), None
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "Tf":
                current = fonts[str(operands[0])].objgen
            elif str(operator) in ("Tj", "'") and current == face.objgen:
                found |= set(bytes(operands[0]))
    return found


# ISO 19005-3, to be kept
@rule("A 6.1.2, 6.1.3: a head of its version, an identity, nothing locked")
def _(o: Opened) -> Any:
    return (
        not re.match(rb"%PDF-1\.[0-7]\n%[\x80-\xff]{4}", o.content) or "/ID" not in o.pdf.trailer or o.pdf.is_encrypted
    )


@rule("A 6.1.7: streams say how long they are, and name no file outside")
def _(o: Opened) -> Any:
    return [one for one in o.streams() if "/F" in one or "/FFilter" in one]


@rule("A 6.1.12: names and texts stay within their limits")
def _(o: Opened) -> Any:
    return [one for one in o.pdf.objects if isinstance(one, pikepdf.String) and len(bytes(one)) > 32767]


@rule("A 6.2.3: red, green and blue have a meaning")
def _(o: Opened) -> Any:
    (intent,) = o.root.OutputIntents
    profile = bytes(intent.DestOutputProfile.read_bytes())
    right = profile[36:40] == b"acsp" and profile[16:20] == b"RGB " and profile[8] < 5
    return not right or intent.S != Name.GTS_PDFA1 or int(intent.DestOutputProfile.N) != 3


@rule("A 6.2.4: no colour but grey and RGB")
def _(o: Opened) -> Any:
    wrong = set()
    for page in o.pdf.pages:
        wrong |= {str(operator) for _, operator in pikepdf.parse_content_stream(page)} & {"k", "K", "scn", "SCN"}
    return wrong | {str(one.ColorSpace) for one in o.streams() if one.get("/ColorSpace") == Name.DeviceCMYK}


@rule("A 6.2.5: no transfer or halftone")
def _(o: Opened) -> Any:
    states = [state for page in o.pdf.pages for state in page.obj.Resources.get("/ExtGState", {}).values()]
    return [state for state in states if {"/TR", "/TR2", "/HTP"} & set(state.keys())]


@rule("A 6.2.8: pictures are neither smoothed by the reader nor elsewhere")
def _(o: Opened) -> Any:
    images = [one for one in o.streams() if one.get("/Subtype") == Name.Image]
    return [one for one in images if one.get("/Interpolate", False) or "/Alternates" in one or "/OPI" in one]


@rule("A 6.5, 6.6.1: nothing runs by itself")
def _(o: Opened) -> Any:
    names = o.root.get("/Names", {})
    return [key for key in ("/OpenAction", "/AA", "/JavaScript") if key in o.root] or "/JavaScript" in names


@rule("A 6.6.2: metadata as it is, told once, and schemas of others described")
def _(o: Opened) -> Any:
    held, text = o.root.Metadata, bytes(o.root.Metadata.read_raw_bytes())
    described = [one.text for one in o.xmp.iterfind(".//schema:namespaceURI", SPACES)]
    foreign = [SPACES["pdfuaid"], *([SPACES["fx"]] if o.said("fx:DocumentType") else [])]
    return "/Filter" in held or not text.startswith(b"<?xpacket begin=") or described != foreign


@rule("A 6.6.2.3: metadata and the older dictionary say the same")
def _(o: Opened) -> Any:
    info = o.pdf.trailer.Info
    pairs = {
        "/Title": o.said("dc:title/rdf:Alt/rdf:li"),
        "/Author": o.said("dc:creator/rdf:Seq/rdf:li"),
        "/Subject": o.said("dc:description/rdf:Alt/rdf:li"),
        "/Producer": o.said("pdf:Producer"),
        "/Keywords": o.said("pdf:Keywords"),
    }
    wrong = {key: said for key, said in pairs.items() if (str(info[key]) if key in info else None) != said}
    day, stamp = o.said("xmp:CreateDate"), str(info.get("/CreationDate", ""))
    return wrong or (day or "")[:10].replace("-", "") != stamp[2:10]


@rule("A 6.6.4: it names part and level")
def _(o: Opened) -> Any:
    return (o.said("pdfaid:part"), o.said("pdfaid:conformance")) != ("3", "A")


@rule("A 6.7: tagged, with no mark that is not closed")
def _(o: Opened) -> Any:
    return [
        one.kind
        for one in o.elements
        if not one.kids and not len(one.held.get("/K", [])) and one.kind not in ("TD", "TH")
    ]


@rule("A 6.8: a file within is named twice, has its kind, and says what it is to the paper")
def _(o: Opened) -> Any:
    wrong = []
    associated = {one.objgen for one in o.root.get("/AF", [])}
    names = o.root.get("/Names", {}).get("/EmbeddedFiles", {}).get("/Names", [])
    for spec in [names[i + 1] for i in range(0, len(names), 2)]:
        file = spec.EF.F
        right = str(spec.F) == str(spec.UF) and "/Subtype" in file and "/AFRelationship" in spec
        if not right or spec.objgen not in associated or int(file.Params.Size) != len(file.read_bytes()):
            wrong.append(str(spec.F))
    return wrong
