"""A fetched page as a tree, what must hold for every page, and its forms as a browser without JavaScript sends them."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from html.parser import HTMLParser

VOID = frozenset({"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"})
SVG_EMPTY = frozenset({"line", "rect", "circle", "path"})
CONTROLS = frozenset({"input", "select", "textarea"})
NEED_NO_LABEL = frozenset({"hidden", "submit", "button"})


@dataclass(slots=True)
class Element:
    """An element; it and what is inside stand from `at` to before `end` in `every`, all of the page in order."""

    name: str
    attributes: dict[str, str]
    parent: "Element | None" = None
    children: list["Element | str"] = field(default_factory=list)
    every: list["Element"] = field(default_factory=list, repr=False, compare=False)
    at: int = 0
    end: int | None = None

    def walk(self) -> list["Element"]:
        return self.every[self.at : self.end]

    def find(self, name: str, **attributes: str) -> list["Element"]:
        """Every element of this name with these attributes."""
        wanted = {key.replace("_", "-").strip("-"): value for key, value in attributes.items()}
        return [one for one in self.walk() if one.name == name and wanted.items() <= one.attributes.items()]

    @property
    def text(self) -> str:
        """All text inside, white space folded."""
        return " ".join(" ".join(self._texts()).split())

    def _texts(self) -> Iterator[str]:
        for child in self.children:
            if isinstance(child, str):
                yield child
            else:
                yield from child._texts()

    def inside(self, name: str) -> bool:
        above = self.parent
        while above is not None and above.name != name:
            above = above.parent
        return above is not None


class _Reader(HTMLParser):
    """Builds the tree and collects what is not well formed: every element that is not void must be closed, in order."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = self.here = Element("document", {})
        self.root.every.append(self.root)
        self.faults: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        if len(attributes) < len(attrs):
            twice = [name for name, count in Counter(name for name, _ in attrs).items() if count > 1]
            self.faults.append(f"<{tag}> has {twice[0]} twice")
        every = self.root.every
        element = Element(tag, attributes, self.here, every=every, at=len(every))
        every.append(element)
        self.here.children.append(element)
        if tag in VOID:
            element.end = len(every)
        else:
            self.here = element

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag in SVG_EMPTY:
            self.handle_endtag(tag)
        elif tag not in VOID:
            self.faults.append(f"<{tag}/> closes itself")

    def handle_endtag(self, tag: str) -> None:
        if tag != self.here.name or self.here.parent is None:
            self.faults.append(f"</{tag}> closes <{self.here.name}> at {self.getpos()}")
            return
        self.here.end = len(self.root.every)
        self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        self.here.children.append(data)


class Page:
    """A page's tree with its source; `faults` says in words what does not hold."""

    def __init__(self, path: str, source: str) -> None:
        reader = _Reader()
        reader.feed(source)
        reader.close()
        self.path, self.source, self.tree = path, source, reader.root
        self._malformed = reader.faults + ([f"<{reader.here.name}> stays open"] if reader.here.parent else [])

    @property
    def text(self) -> str:
        return self.tree.find("main")[0].text

    @property
    def heading(self) -> str:
        return self.tree.find("h1")[0].text

    def faults(self) -> list[str]:
        return self._faults

    @cached_property
    def _faults(self) -> list[str]:
        return [*self._malformed, *self._heads(), *self._ids(), *self._labels(), *self._inline()]

    def _heads(self) -> Iterator[str]:
        for name in ("h1", "title", "main"):
            found = self.tree.find(name)
            if len(found) != 1:
                yield f"{len(found)} <{name}>"
            elif not found[0].text:
                yield f"<{name}> is empty"
        if not self.source.startswith("<!doctype html>") or not self.tree.find("html", lang="en"):
            yield "no doctype or language"

    def _ids(self) -> Iterator[str]:
        ids = Counter(one.attributes["id"] for one in self.tree.walk() if "id" in one.attributes)
        yield from (f"id {name!r} {count} times" for name, count in ids.items() if count > 1)
        for one in self.tree.walk():
            target = one.attributes.get("href", "")
            if target.startswith("#") and target[1:] not in ids:
                yield f"link to {target}, which is nowhere"
            for name in ("for", "aria-describedby", "aria-labelledby"):
                missing = set(one.attributes.get(name, "").split()) - set(ids)
                if missing:
                    yield f"{name} names {sorted(missing)}, which is nowhere"

    def _labels(self) -> Iterator[str]:
        labelled = {one.attributes.get("for") for one in self.tree.find("label") if one.text}
        for one in self.tree.walk():
            if one.name not in CONTROLS or one.attributes.get("type") in NEED_NO_LABEL:
                continue
            if not (one.attributes.get("id") in labelled or one.inside("label") or one.attributes.get("aria-label")):
                yield f"<{one.name} name={one.attributes.get('name')!r}> has no label"
        for one in self.tree.walk():
            if one.name in {"a", "button", "summary"} and not (one.text or one.attributes.get("aria-label")):
                yield f"<{one.name}> without words"
        for one in self.tree.find("fieldset"):
            if not one.find("legend") or not one.find("legend")[0].text:
                yield "<fieldset> without a legend"

    def _inline(self) -> Iterator[str]:
        for one in self.tree.walk():
            handlers = [name for name in one.attributes if name.startswith("on")]
            if "style" in one.attributes or handlers or one.name == "style":
                yield f"<{one.name}> carries style or script: {handlers or 'style'}"
            if one.name == "script" and ("src" not in one.attributes or one.text):
                yield "<script> inside the page"

    def form(self, action: str = "") -> dict[str, str]:
        """What the first form (with `action` in its address) sends as it stands, without any button."""
        return form_fields(self.form_element(action))

    def form_element(self, action: str = "") -> Element:
        return next(one for one in self.tree.find("form") if action in one.attributes.get("action", ""))


def field_names(form: Element) -> set[str]:
    """The names that a person can fill in or press on a form."""
    return {one.attributes.get("name", "") for one in form.walk() if one.name in {*CONTROLS, "button"}} - {""}


def form_fields(form: Element) -> dict[str, str]:
    sent: dict[str, str] = {}
    for one in form.walk():
        name = one.attributes.get("name")
        if not name or one.name not in CONTROLS:
            continue
        if one.name == "textarea":
            text = "".join(child for child in one.children if isinstance(child, str))
            sent[name] = text.replace("\r\n", "\n").removeprefix("\n")  # as a browser reads it
        elif one.name == "select":
            options = one.find("option")
            chosen = [option for option in options if "selected" in option.attributes] or options[:1]
            sent[name] = chosen[0].attributes.get("value", chosen[0].text)
        elif one.attributes.get("type") not in {"radio", "checkbox"} or "checked" in one.attributes:
            sent[name] = one.attributes.get("value", "")
    return sent
