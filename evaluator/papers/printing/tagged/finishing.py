"""What ReportLab does not write: the structure tree, metadata, the meaning of colours, and the files within the paper.

By ISO 32000-1 (14.7, 14.8), ISO 14289-1 (tagged for everybody) and ISO 19005-3 (to be kept, with a file attached).
Nothing in it is of the clock or of chance, so equal papers give equal bytes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from .enclosed import Enclosed, enclose
from .metadata import About, xmp
from .tree import Leading, Mark, Node


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was drawn: the PDF, its tree, and the nodes of each page's marks by their numbers."""

    pdf: bytes
    root: Node
    pages: Sequence[Sequence[Node]]


def finished(drawn: Drawn, about: About, enclosed: Sequence[Enclosed] = ()) -> bytes:
    """The paper as it is handed out, with the files within it."""
    with Pdf.open(BytesIO(drawn.pdf)) as pdf:
        _structure(pdf, drawn)
        _metadata(pdf, about)
        _colours(pdf)
        _faces(pdf)
        if enclosed:
            enclose(pdf, enclosed, about)
        out = BytesIO()
        pdf.save(out, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    return out.getvalue()


def _structure(pdf: Pdf, drawn: Drawn) -> None:
    """The tree below the catalogue, and from each page's marks back to it."""
    drawn.root.pruned()
    top = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    pages = [page.obj for page in pdf.pages]
    made: dict[int, pikepdf.Object] = {}
    top.K = _element(pdf, drawn.root, top, pages, made)
    parents = Array()
    for number, (page, nodes) in enumerate(zip(pages, drawn.pages, strict=False)):
        page.StructParents = number
        page.Tabs = Name.S
        parents.append(number)
        parents.append(pdf.make_indirect(Array([made[id(node)] for node in nodes])))
    key = len(pages)
    for node in drawn.root.all():
        for kid in node.kids:
            if isinstance(kid, Leading):
                pages[kid.page].Annots[kid.place].StructParent = key
                parents.append(key)
                parents.append(made[id(node)])
                key += 1
    top.ParentTree = pdf.make_indirect(Dictionary(Nums=parents))
    top.ParentTreeNextKey = key
    pdf.Root.StructTreeRoot = top
    pdf.Root.MarkInfo = Dictionary(Marked=True)


def _element(
    pdf: Pdf, node: Node, parent: pikepdf.Object, pages: Sequence[pikepdf.Object], made: dict[int, pikepdf.Object]
) -> pikepdf.Object:
    element = pdf.make_indirect(Dictionary(Type=Name.StructElem, S=Name("/" + node.kind), P=parent))
    made[id(node)] = element
    if node.alt:
        element.Alt = String(node.alt)
    about = _attributes(node)
    if about is not None:
        element.A = about
    marks = [kid for kid in node.kids if isinstance(kid, tuple)]
    if marks:
        element.Pg = pages[marks[0][0]]
    element.K = Array([_kid(pdf, kid, element, marks, pages, made) for kid in node.kids])
    return element


def _kid(
    pdf: Pdf,
    kid: Node | Mark | Leading,
    element: pikepdf.Object,
    marks: Sequence[Mark],
    pages: Sequence[pikepdf.Object],
    made: dict[int, pikepdf.Object],
) -> pikepdf.Object | int:
    if isinstance(kid, Node):
        return _element(pdf, kid, element, pages, made)
    if isinstance(kid, Leading):
        link = pages[kid.page].Annots[kid.place]
        link.Contents, link.F = String(kid.says), 4
        return Dictionary(Type=Name.OBJR, Obj=link, Pg=pages[kid.page])
    return kid[1] if kid[0] == marks[0][0] else Dictionary(Type=Name.MCR, Pg=pages[kid[0]], MCID=kid[1])


def _attributes(node: Node) -> pikepdf.Object | None:
    if node.scope:
        return Dictionary(O=Name.Table, Scope=Name("/" + node.scope))
    if node.numbering:
        return Dictionary(O=Name.List, ListNumbering=Name("/" + node.numbering))
    if node.box:
        return Dictionary(O=Name.Layout, BBox=Array([round(value, 2) for value in node.box]), Placement=Name.Block)
    return None


def _metadata(pdf: Pdf, about: About) -> None:
    """The same in XMP and in the older dictionary; a day that nobody named stands in neither."""
    pdf.Root.Metadata = Stream(pdf, xmp(about).encode(), Type=Name.Metadata, Subtype=Name.XML)
    pdf.Root.Lang = String(about.language)
    known = {"/Title": about.title, "/Author": about.author, "/Subject": about.subject, "/Producer": about.producer}
    told = Dictionary({key: String(value) for key, value in known.items() if value})
    if about.day:
        told.CreationDate = told.ModDate = String(about.stamp)
    if about.fingerprint:
        told.Keywords = String(about.fingerprint)
    pdf.trailer.Info = pdf.make_indirect(told)


def _colours(pdf: Pdf) -> None:
    """What red, green and blue mean, so that a printer years from now mixes the same."""
    profile = Stream(pdf, srgb_profile(), N=3, Alternate=Name.DeviceRGB)
    name = String("sRGB")
    intent = Dictionary(Type=Name.OutputIntent, S=Name.GTS_PDFA1, OutputConditionIdentifier=name, Info=name)
    intent.DestOutputProfile = pdf.make_indirect(profile)
    pdf.Root.OutputIntents = Array([intent])


def _faces(pdf: Pdf) -> None:
    """A subset numbers its letters by itself, so that it must not name an encoding as well (ISO 19005-3, 6.2.11.6)."""
    for face in pdf.objects:
        if isinstance(face, Dictionary) and face.get("/Subtype") == Name.TrueType and "/Encoding" in face:
            del face["/Encoding"]


@cache
def srgb_profile() -> bytes:
    """The profile of sRGB as Pillow makes it, without the time at which it was made (bytes 24 to 35 of its head)."""
    from PIL import ImageCms

    made = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return made[:24] + bytes.fromhex("07d000010001000000000000") + made[36:]
