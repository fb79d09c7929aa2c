"""Files within a paper: the evaluation that it was drawn from, and a bill as XML; put in (ISO 19005-3, 6.8), and the
evaluation read back: bounded, and only where it is the one that the paper was drawn from.
"""

import hashlib
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from ....basis.problem import Message, Messages, Place, Problem, problem
from .metadata import About

ATTACHED = "evaluation.json"
INVOICE = "factur-x.xml"  # the name by which programs look for it
MOST_BYTES = 5_000_000
AGAIN = "Give the evaluation file, or what score --json printed."
MESSAGES: Messages = {
    "paper.broken": Message("this PDF cannot be read.", AGAIN),
    "paper.empty": Message(
        "no evaluation is in this PDF.",
        "The papers for the buyer, for the shop, in two pages and the technical annex carry one.",
    ),
    "paper.other": Message("the evaluation in this PDF is not the one that the paper was drawn from.", AGAIN),
    "paper.too_large": Message("the file in this PDF unpacks to more than {limit} MB.", AGAIN),
}


@dataclass(frozen=True, slots=True)
class Enclosed:
    """A file within a paper: `relation` says what it is to the paper (ISO 19005-3, 6.8), `says` the same in words."""

    name: str
    kind: str
    relation: str
    says: str
    content: bytes


def evaluation_file(content: bytes) -> Enclosed:
    """The evaluation as JSON, from which a paper was drawn."""
    says = "The evaluation that this paper was drawn from"
    return Enclosed(ATTACHED, "application/json", "Source", says, content)


def invoice_file(content: bytes) -> Enclosed:
    """The same bill as XML, which programs book."""
    return Enclosed(INVOICE, "text/xml", "Alternative", "This bill as EN 16931 has it", content)


def fingerprint(content: bytes) -> str:
    """By which a paper names the evaluation within it."""
    return f"evaluation sha256 {hashlib.sha256(content).hexdigest()}"


def enclose(pdf: Pdf, enclosed: Sequence[Enclosed], about: About) -> None:
    """The files within, by the order of their names, as a name tree wants them."""
    files = [(String(one.name), _file(pdf, one, about)) for one in sorted(enclosed, key=lambda one: one.name)]
    pdf.Root.AF = Array([spec for _, spec in files])
    names = Array([part for pair in files for part in pair])
    pdf.Root.Names = Dictionary(EmbeddedFiles=Dictionary(Names=names))


def _file(pdf: Pdf, one: Enclosed, about: About) -> pikepdf.Object:
    checked = String(hashlib.md5(one.content, usedforsecurity=False).digest())
    params = Dictionary(Size=len(one.content), CheckSum=checked)
    if about.day:
        params.ModDate = String(about.stamp)
    stream = Stream(pdf, one.content, Type=Name.EmbeddedFile, Subtype=Name("/" + one.kind), Params=params)
    name, file = String(one.name), pdf.make_indirect(stream)
    spec = Dictionary(Type=Name.Filespec, F=name, UF=name, EF=Dictionary(F=file, UF=file))
    spec.AFRelationship, spec.Desc = Name("/" + one.relation), String(one.says)
    return pdf.make_indirect(spec)


def evaluation_in(content: bytes, name: str) -> bytes | Problem:
    """The JSON that a paper carries, or why it cannot be had."""
    try:
        with pikepdf.open(BytesIO(content)) as pdf:
            files = pdf.attachments
            if ATTACHED not in files:
                return problem(MESSAGES, "paper.empty", "", Place(name))
            found = _unpacked(files[ATTACHED].obj.EF.F)
            said = str(pdf.trailer.get("/Info", pikepdf.Dictionary()).get("/Keywords", ""))
    except (pikepdf.PdfError, AttributeError, KeyError, TypeError, ValueError, zlib.error):
        return problem(MESSAGES, "paper.broken", "", Place(name))
    if found is None:
        return problem(MESSAGES, "paper.too_large", "", Place(name), limit=MOST_BYTES // 1_000_000)
    if fingerprint(found) != said:
        return problem(MESSAGES, "paper.other", "", Place(name))
    return found


def _unpacked(stream: object) -> bytes | None:
    """What the stream holds; None for more than `MOST_BYTES`. Raises zlib.error or ValueError where it is damaged."""
    assert isinstance(stream, pikepdf.Stream)
    raw = stream.read_raw_bytes()
    if "/Filter" in stream:
        filters = stream.Filter
        names = [str(one) for one in filters] if isinstance(filters, pikepdf.Array) else [str(filters)]
        if names != ["/FlateDecode"]:
            raise ValueError("packed in a way that no paper uses")
        unpacking = zlib.decompressobj()
        raw = unpacking.decompress(raw, MOST_BYTES + 1)
    return raw if len(raw) <= MOST_BYTES else None
