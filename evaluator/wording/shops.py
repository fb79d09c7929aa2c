"""Words for whose a shop's figures are: its own, or the default's, from memory."""

from collections.abc import Collection, Mapping

from ..result.model.instrument import ShopUsed

ALL_DEFAULT = "Rates and prices are defaults from memory; ask a workshop for its own."
FIGURES: Mapping[str, str] = {
    "rates.set_up": "the hourly rate for set-up",
    "rates.repair": "the hourly rate for repair",
    "rates.restoration": "the hourly rate for restoration",
    "minimum_charge": "the least charge",
    "rush_share": "what haste adds",
    "rounding": "the rounding",
    "validity_days": "how long a quote holds",
    "exclusions": "what a quote leaves out",
    "tax.labour": "the tax on work",
    "tax.parts": "the tax on parts",
    "guide": "the guide to prices",
    "buying": "the terms for buying in",
    "sales": "how known sales are read",
    "keeping": "what keeping costs",
    "service_every_months": "the months between two services",
}
OF_WORK = ("rates.set_up", "rates.repair", "rates.restoration", "minimum_charge", "tax.labour", "tax.parts")


def work_line(shop: ShopUsed) -> str:
    """Whose the rates and prices of planned work are, in a sentence or two."""
    if shop.is_default:
        return ALL_DEFAULT
    inherited = borrowed_line(shop.borrowed, OF_WORK)
    return inherited or f"The rates are those of {shop.name}; hours and parts it has set no price for are from memory."


def borrowed_line(borrowed: Collection[str], among: Collection[str] = FIGURES) -> str:
    """'Defaults from memory, not the workshop's own: ...'; empty where none of these is the default's."""
    found = [FIGURES[name] for name in among if name in FIGURES and is_borrowed(borrowed, name)]
    return f"Defaults from memory, not the workshop's own: {_listed(found)}." if found else ""


def is_borrowed(borrowed: Collection[str], name: str) -> bool:
    """Whether a figure, or anything of a group of figures, is the default's."""
    return any(one == name or one.startswith(f"{name}.") for one in borrowed)


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]
