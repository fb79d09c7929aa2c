"""My shop: its own figures set in the browser, checked as a shop file is, taken out and put in as one.

What is saved takes the place of the file that the service was started with. Every version is kept.
"""

from dataclasses import dataclass

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.document import Document, parse_document
from ...basis.problem import Problem
from ...rubric.files.shop_file import read_shop_text
from ...rubric.sense.check import shop_sense
from ...rubric.shop import Shop
from ...store.folders import rubrics_folder
from ...store.people import note_deed
from ...store.photos import keep_photo
from ...store.workshop.figures import (
    LOGO,
    SIGNATURE,
    Figures,
    choice_of,
    figures_at,
    logo_of,
    newest_version,
    save_figures,
    set_choice,
)
from ..looking.answering import sentence
from ..looking.pages import View
from ..people.doors import name_now
from ..result.house_style import dressed, logo_now, pdf, ways_now
from ..service import Service, service
from .fields import Data, Field, Typed, as_yaml, by_field, default_said, shown, with_typed
from .sections import Section, sections

my_shop = Blueprint("my_shop", __name__)
FILE = "your figures"
BARE = "extends: default\n"
MOST_TEXT = 200_000
ELSE_SAVED = (
    "Somebody saved these figures a moment ago. What differs is told beside its field; yours stands in it. Save again "
    "to have yours."
)


@dataclass(frozen=True, slots=True)
class Checked:
    """A text as figures: `shop` None with `problems`."""

    shop: Shop | None
    document: Document | None
    problems: tuple[Problem, ...]


def check(found: Service, text: str) -> Checked:
    """Everything that is wrong with the text of a shop file."""
    shop, layers, problems = read_shop_text(text, FILE, rubrics_folder() / "shop.yaml")
    document = layers[-1] if layers else None
    if shop is not None:
        problems = shop_sense(shop, layers, [found.rubric(name) for name in found.families()])
    return Checked(None if problems else shop, document, problems)


def follow(found: Service, version: int) -> None:
    """Take the figures of this version, which was saved last, here or by another process."""
    if version != found.shop_version:
        kept = figures_at(found.engine, version)
        shop = check(found, kept.text).shop if kept else None
        if shop is not None:
            found.shop = shop
        found.shop_version = version


@my_shop.get("/shop")
def overview() -> str:
    return _overview()


@my_shop.get("/shop/<name>")
def page(name: str) -> View:
    section, (version, data) = _section(name), _figures()
    typed = {key: text for field in section.fields for key, text in shown(field, data).items()}
    return _page(section, version, typed, {})


@my_shop.post("/shop/<name>")
def save(name: str) -> View:
    """Keep what was typed, if a shop file with it is sound; what another saved meanwhile in other fields stays."""
    section, form = _section(name), request.form
    typed = {key: form.get(key, "")[:4_000] for field in section.fields for key in field.names}
    version, data = _figures()
    base = _data_at(form.get("version", ""), data)
    clashes = {field.name: _clash(field, base, data, typed) for field in section.fields}
    wrong = {key: told for key, told in clashes.items() if told}
    if wrong:
        return _page(section, version, typed, {"": ELSE_SAVED, **wrong}), 409
    changed = [field for field in section.fields if _texts(field, typed) != shown(field, base)]
    made = with_typed(data, changed, typed)
    problems = _kept(as_yaml(made), version, name)
    if problems is None:
        return redirect(url_for("my_shop.page", name=name, saved="yes"))
    return _page(section, version, typed, problems), 422


@my_shop.get("/shop/figures.yaml")
def download() -> Response:
    """The figures as the file that --shop takes."""
    _, data = _figures()
    kept = figures_at(service().engine, newest_version(service().engine))
    text = kept.text if kept else service().shop_text or as_yaml({"extends": "default", **data})
    headers = {"Content-Disposition": 'attachment; filename="shop.yaml"'}
    return Response(text, mimetype="application/yaml", headers=headers)


@my_shop.post("/shop/upload")
def upload() -> View:
    """Put a shop file in the place of all figures, if it is sound."""
    sent = request.files.get("file")
    content = sent.read(MOST_TEXT) if sent else b""
    text = content.decode("utf-8-sig", errors="replace") or request.form.get("text", "")
    found = check(service(), text)
    if found.problems:
        told = [f"Line {one.place.line}: {_said(one)}" if one.place else _said(one) for one in found.problems]
        return _overview(tuple(told[:50]), text), 422
    if save_figures(service().engine, newest_version(service().engine), text, service().now(), name_now()) is None:
        return _overview(("Somebody saved these figures a moment ago. Put the file in once more.",), text), 409
    note_deed(
        service().engine, service().now(), name_now(), "put in a shop file", found.shop.shop if found.shop else ""
    )
    return redirect(url_for("my_shop.overview", saved="yes"))


@my_shop.post("/shop/logo")
def logo() -> View:
    """Keep a picture for the head of papers, or take it off."""
    return _pictured(LOGO)


@my_shop.post("/shop/signature")
def signature() -> View:
    """Keep a picture of the signature for where the workshop signs, or take it off."""
    return _pictured(SIGNATURE)


@my_shop.get("/shop/preview.pdf")
def preview() -> Response:
    """How the shop's papers look, on a sheet that is none: head, logo, ways to reach it, and signature."""
    from ...papers.printing.pdf import PAPERS
    from ...papers.shop_story import preview_paper

    size = request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    shop = service().shop
    paper = preview_paper("" if shop.is_default else shop.shop, ways_now(), logo_now() or b"")
    return pdf(service().drawn(dressed(paper), size), "preview.pdf")


def _pictured(choice: str) -> View:
    sent = request.files.get("photo")
    content = sent.read() if sent else b""
    if not content and request.form.get("go") == "off":
        set_choice(service().engine, choice, None)
        return redirect(url_for("my_shop.overview"))
    name = keep_photo(service().photos_folder, content)
    if isinstance(name, Problem):
        return _overview((sentence(name),)), 422
    set_choice(service().engine, choice, name)
    return redirect(url_for("my_shop.overview"))


def _section(name: str) -> Section:
    found = sections().get(name)
    if found is None:
        abort(404)
    return found


def _figures() -> tuple[int, Data]:
    """(number, data) of the last version, or of the file that the service was started with."""
    version = newest_version(service().engine)
    kept = figures_at(service().engine, version)
    return version, _data(kept.text if kept else service().shop_text or BARE)


def _data(text: str) -> Data:
    document, _ = parse_document(text, FILE)
    return dict(document.data) if document is not None else {}


def _data_at(typed: str, now: Data) -> Data:
    kept = figures_at(service().engine, int(typed)) if typed.isdecimal() and len(typed) < 9 else None
    return _data(kept.text) if kept else _data(service().shop_text or BARE) if typed == "0" else now


def _texts(field: Field, typed: Typed) -> dict[str, str]:
    return {name: typed[name].strip().replace("\r\n", "\n") for name in field.names}


def _clash(field: Field, base: Data, now: Data, typed: Typed) -> str:
    """What somebody else made of this field meanwhile, where it is neither what was there nor what is typed."""
    before, theirs, mine = shown(field, base), shown(field, now), _texts(field, typed)
    if theirs in (before, mine) or mine == before:
        return ""
    return f"Saved meanwhile: {', '.join(text for text in theirs.values() if text) or 'nothing'}."


def own_figures() -> tuple[int, Data]:
    """(number, data) of the figures that count, as they are saved."""
    return _figures()


def keep_figures(data: Data, version: int, what: str) -> dict[str, str] | None:
    """Keep these figures, made on that version; None where they are kept, else what is wrong."""
    return _kept(as_yaml(data), version, what)


def _kept(text: str, version: int, name: str) -> dict[str, str] | None:
    """None where the text is sound and kept; else what is wrong, by field."""
    found = check(service(), text)
    if found.problems:
        fields = [field for section in sections().values() for field in section.fields]
        return by_field(found.problems, found.document, fields) if found.document else {"": _said(found.problems[0])}
    saved: Figures | None = save_figures(service().engine, version, text, service().now(), name_now())
    if saved is None:
        return {"": "Somebody saved these figures this very moment. Save yours once more."}
    note_deed(service().engine, service().now(), name_now(), "changed the shop's figures", name)
    follow(service(), saved.version)
    return None


def _said(one: Problem) -> str:
    told = f"{one.what} {one.what_to_do}".strip()
    return told[:1].upper() + told[1:]


def _overview(wrong: tuple[str, ...] = (), text: str = "") -> str:
    kept = figures_at(service().engine, newest_version(service().engine))
    return render_template(
        "workshop/shop.html",
        shop=service().shop,
        sections=sections(),
        kept=kept,
        started_with=bool(service().shop_text),
        logo=logo_of(service().engine),
        signature=choice_of(service().engine, SIGNATURE),
        wrong=wrong,
        text=text,
        saved=request.args.get("saved"),
    )


def _page(section: Section, version: int, typed: Typed, wrong: dict[str, str]) -> str:
    here = {field.name for field in section.fields}
    elsewhere = {key: told for key, told in wrong.items() if key and key not in here}
    return render_template(
        "workshop/figures.html",
        section=section,
        sections=sections(),
        version=version,
        typed=typed,
        set_ones=[field.name for field in section.fields if any(map(typed.get, field.names)) or field.name in wrong],
        wrong=wrong,
        elsewhere=elsewhere,
        notes={field.name: default_said(field, service().shop) for field in section.fields},
        currency=service().shop.currency,
        saved=request.args.get("saved"),
    )
