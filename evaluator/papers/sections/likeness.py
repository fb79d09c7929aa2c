"""Which drawing shows a fault: the one that fits what was found, and none where it would show something else."""

from collections.abc import Mapping

from ...drawings.geometry.model import Drawing, Panel
from ...result.model.score import Check


def likeness(drawings: Mapping[str, Drawing], check: Check | None, outcome: str) -> Drawing | None:
    """The drawing that shows this outcome, as the rubric says; where it says nothing, the check's own one, if it has a
    wrong side.

    So a shop's own check is drawn as it asks for; a drawing that only says where to measure is for its card alone.
    """
    if check is None or not check.drawing:
        return None
    if check.likeness is not None:
        return drawings.get(check.likeness.drawing) if outcome in check.likeness.outcomes else None
    drawing = drawings.get(check.drawing)
    return drawing if drawing and any(panel.judged == "wrong" for panel in drawing.panels) else None


def panels_of(drawing: Drawing) -> tuple[Panel, ...]:
    """What to print: right (else what to look for) beside wrong; the first panel where nothing is wrong on any."""
    wrong = next((panel for panel in drawing.panels if panel.judged == "wrong"), None)
    if wrong is None:
        return drawing.panels[:1]
    beside = next((panel for judged in ("right", None) for panel in drawing.panels if panel.judged == judged), None)
    return (wrong,) if beside is None else (beside, wrong)
