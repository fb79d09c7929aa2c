"""The names of columns and the words in them, ours and the trade's, in English and what neighbours write."""

import re

HEADINGS: dict[str, tuple[str, ...]] = {
    "name": ("name", "what", "item", "instrument", "title", "description", "object", "article",
             "bezeichnung", "artikel",
             "instrumento", "beschreibung", "nom", "désignation", "désignation article"),
    "sold_on": ("sold on", "date", "sold", "sale date", "date sold", "date of sale", "invoice date", "day", "datum",
                "verkauft am", "verkaufsdatum", "rechnungsdatum", "date de vente", "fecha", "data"),
    "kind": ("kind", "kind of sale", "type", "type of sale", "sale type", "channel", "how", "venue", "market", "art",
             "verkaufsart", "canal"),
    "price": ("price", "sale price", "sold for", "amount", "total", "gross", "selling price", "price sold",
              "paid", "preis",
              "verkaufspreis", "vk", "betrag", "prix", "prix de vente", "precio", "prezzo"),
    "currency": ("currency", "ccy", "curr", "cur", "währung", "devise", "moneda", "valuta"),
    "family": ("family", "instrument type", "instrument family", "category", "gattung", "instrumentenart", "familie",
               "famille"),
    "size": ("size", "length", "body length", "back length", "grösse", "größe", "groesse", "taille", "tamaño"),
    "tier": ("tier", "standard", "level", "grade level", "player level", "class of player", "niveau", "stufe", "nivel"),
    "made": ("made", "workmanship", "workmanship score", "score", "made score", "verarbeitung"),
    "making": ("making", "class", "class of making", "made as", "making class", "klasse", "machart", "herkunft"),
    "extras": ("extras", "case and bow", "accessories", "bow and case", "outfit", "zubehör", "accessoires"),
    "grade": ("grade", "factor", "own factor", "faktor"),
    "retention": ("retention", "condition", "condition share", "left of value", "zustand"),
    "set_up": ("set up", "setup", "set-up", "set up cost", "to make ready", "einrichtung", "réglage"),
    "note": ("note", "notes", "comment", "comments", "remark", "remarks", "bemerkung", "notiz", "remarque"),
}  # fmt: skip
KINDS_SAID: dict[str, tuple[str, ...]] = {
    "dealer_sale": (
        "shop",
        "dealer",
        "retail",
        "store",
        "sold in the shop",
        "sold by shop",
        "trade",
        "laden",
        "geschäft",
    ),
    "private_sale": ("private", "privately", "private party", "privat"),
    "auction": ("auction", "hammer", "hammer price", "at auction", "auktion"),
    "listing": ("listing", "listed", "offered", "asking", "asking price", "advert", "for sale", "inserat"),
}
FAMILIES_SAID: dict[str, tuple[str, ...]] = {
    "violin": ("violin", "violins", "fiddle", "vln", "vn", "geige", "violine", "violon", "violino", "violín"),
    "viola": ("viola", "violas", "vla", "va", "bratsche", "alto"),
    "cello": ("cello", "cellos", "violoncello", "vlc", "vc", "violoncelle", "violonchelo"),
    "bow": ("bow", "bows", "bogen", "archet", "arco", "archetto"),
}
TIERS_SAID: dict[str, tuple[str, ...]] = {
    "student": ("student", "students", "learner", "schüler"),
    "intermediate": ("intermediate", "advancing", "advanced", "step up", "step-up", "fortgeschritten"),
    "professional": ("professional", "pro", "soloist", "concert", "orchestra", "profi"),
}
MAKINGS_SAID: dict[str, tuple[str, ...]] = {
    "outfit": ("outfit", "sold as an outfit", "set", "starter outfit"),
    "factory": ("factory", "factory work", "trade", "manufaktur", "fabrik", "commercial"),
    "workshop": ("workshop", "workshop work", "werkstatt", "atelier"),
    "fine_workshop": ("fine workshop", "fine workshop work", "feine werkstatt", "master workshop"),
    "maker": ("maker", "maker's own", "maker's own work", "one maker", "handmade by one maker", "meister"),
}
FULL = ("full", "full size", "fullsize", "1/1", "ganz")


def plainly(text: str) -> str:
    """A heading or word in small letters, without units in brackets, lines and repeated spaces."""
    bare = re.sub(r"[\(\[].*?[\)\]]", " ", text.lower().removeprefix("\ufeff"))
    return " ".join(re.sub(r"[_\s:*#.]+", " ", bare).split())


def column_of(heading: str) -> str | None:
    """Our name of a column; None for one that we do not use."""
    bare = plainly(heading)
    return next((name for name, known in HEADINGS.items() if bare == name.replace("_", " ") or bare in known), None)


def word_of(text: str, said: dict[str, tuple[str, ...]]) -> str | None:
    """Our word for what was written; None where it is none of them."""
    bare = plainly(text)
    return next((ours for ours, known in said.items() if bare == ours.replace("_", " ") or bare in known), None)
