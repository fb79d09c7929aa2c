"""The evaluation within a paper, read back: bounded, and only where it is the one that the paper was drawn from."""

import zlib
from io import BytesIO

from ....basis.problem import Message, Messages, Place, Problem, problem
from .finishing import ATTACHED, fingerprint

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


def evaluation_in(content: bytes, name: str) -> bytes | Problem:
    """The JSON that a paper carries, or why it cannot be had."""
    import pikepdf

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
    import pikepdf

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
