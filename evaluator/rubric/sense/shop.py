"""Shop files that load but make no sense: prices for what does not exist, rates that cannot be, and the price guide.

A guide may lack a class, have classes that cross, or leave out a size. A shop without any prices has no guide, and
nothing is said of it. Money rises with the class of making in every figure, also where something was mended: else a
worse making would be worth more.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise

from ...basis.document import Document
from ...basis.problem import Message, Messages, Problem, did_you_mean, problem
from ..files.shop_file import latest_place
from ..guide import Guide
from ..shop import Shop
from ..written.kinds import Family

SHOP: Messages = {
    "shop.unknown_job": Message('there is no job "{id}" to price.', "Use the id of a job. {hint}"),
    "shop.unknown_part": Message('there is no part "{id}" to price.', "Use the id of a part price. {hint}"),
    "shop.rate_of_nothing": Message("the likely rate for {skill} is 0.", "Write what an hour costs."),
    "shop.bench_dear": Message(
        "an hour at the bench costs the shop {cost:g}, more than customers pay for any skill.",
        "Correct bench_cost_per_hour or the rates.",
    ),
}
GUIDE: Messages = {
    "guide.class_missing": Message('it has no figure for the class "{id}".', "Write one, as for the other classes."),
    "guide.class_unknown": Message('there is no class of making "{id}".', "Use one of the classes. {hint}"),
    "guide.crosses": Message(
        'the {which} price of the class "{dearer}" is not above that of "{cheaper}".', "Let prices rise with the class."
    ),
    "guide.size_missing": Message("it does not say what the size {size} brings.", "Write its share of the full size."),
    "guide.size_unknown": Message('there is no size "{size}".', "Use one of the sizes. {hint}"),
    "guide.matter_missing": Message(
        'nothing says what is left after the matter "{id}", which checks name.', "Write the share left for each class."
    ),
    "guide.matter_crosses": Message(
        'with this left, one of the class "{dearer}" brings less than one of "{cheaper}".', "Bring the shares nearer."
    ),
}
MESSAGES: Messages = {**SHOP, **GUIDE}
BY_CLASS = ("private_share", "months_to_sell", "unseen", "made_like")


def shop_problems(
    shop: Shop, layers: Sequence[Document], jobs: Collection[str], parts: Collection[str]
) -> Iterator[Problem]:
    """What makes no sense in a shop's figures; `jobs` and `parts` are the ids of all rubrics that it serves."""

    def told(code: str, *path: object, key: bool = False, **words: object) -> Problem:
        return problem(MESSAGES, code, "", latest_place(layers, path, key), **words)

    for code, field, known in (("job", "job_prices", jobs), ("part", "part_prices", parts)):
        for name in getattr(shop, field):
            if name not in known:
                hint = did_you_mean(name, known)
                yield told(f"shop.unknown_{code}", field, name, key=True, id=name, hint=hint)
    for skill, rate in shop.rates.items():
        if rate.likely == 0:
            yield told("shop.rate_of_nothing", "rates", skill, skill=skill)
    if shop.buying.bench_cost_per_hour > max(rate.high for rate in shop.rates.values()):
        cost = shop.buying.bench_cost_per_hour
        yield told("shop.bench_dear", "buying", "bench_cost_per_hour", cost=cost)


class GuideSense:
    """What makes no sense in a guide. `sizes` by family, `matters` those that checks name, `classes` cheapest first."""

    def __init__(
        self,
        guide: Guide,
        layers: Sequence[Document],
        classes: Sequence[str],
        sizes: Mapping[Family, Sequence[str]],
        matters: Collection[str],
    ) -> None:
        self.guide, self.layers = guide, layers
        self.classes, self.sizes, self.matters = tuple(classes), sizes, matters

    def problems(self) -> Iterator[Problem]:
        """All of it; nothing for a shop without prices, or where the rubrics have no classes."""
        if not self.guide.prices or not self.classes:
            return
        for family, prices in self.guide.prices.items():
            yield from self._classes_of(prices, "prices", family)
            yield from self._crossing(family)
        for key in BY_CLASS:
            yield from self._classes_of(getattr(self.guide, key), key)
        for matter, left in self.guide.lasting.items():
            yield from self._classes_of(left, "lasting", matter)
            yield from self._matter_crossing(matter)
        yield from self._sizes()
        for matter in sorted(set(self.matters) - set(self.guide.lasting)):
            yield self._told("guide.matter_missing", "lasting", key=True, id=matter)

    def _told(self, code: str, *path: object, key: bool = False, **words: object) -> Problem:
        where = " ".join(str(part).replace("_", " ") for part in ("guide", *path))
        return problem(MESSAGES, code, where, latest_place(self.layers, ("guide", *path), key), **words)

    def _classes_of(self, figures: Mapping[str, object], *path: object) -> Iterator[Problem]:
        for name in figures:
            if name not in self.classes:
                hint = did_you_mean(name, self.classes)
                yield self._told("guide.class_unknown", *path, name, key=True, id=name, hint=hint)
        for name in self.classes:
            if name not in figures:
                yield self._told("guide.class_missing", *path, key=True, id=name)

    def _crossing(self, family: Family) -> Iterator[Problem]:
        prices = self.guide.prices[family]
        for cheaper, dearer in pairwise(name for name in self.classes if name in prices):
            for key in ("low", "likely", "high"):
                if getattr(prices[dearer], key) <= getattr(prices[cheaper], key):
                    path = ("prices", family, dearer, key)
                    yield self._told("guide.crosses", *path, dearer=dearer, cheaper=cheaper, which=key)

    def _matter_crossing(self, matter: str) -> Iterator[Problem]:
        left = self.guide.lasting[matter]
        for cheaper, dearer in pairwise(name for name in self.classes if name in left):
            for prices in self.guide.prices.values():
                if not {cheaper, dearer} <= prices.keys() or prices[dearer].likely <= prices[cheaper].likely:
                    continue  # told of the prices themselves
                if prices[dearer].likely * left[dearer] < prices[cheaper].likely * left[cheaper]:
                    path = ("lasting", matter, dearer)
                    yield self._told("guide.matter_crosses", *path, dearer=dearer, cheaper=cheaper)
                    break

    def _sizes(self) -> Iterator[Problem]:
        for family in self.guide.prices:
            known, written = self.sizes.get(family, ()), self.guide.sizes.get(family, {})
            for size in known:
                if size not in written:
                    yield self._told("guide.size_missing", "sizes", family, key=True, size=size)
            for size in written:
                if known and size not in known:
                    hint = did_you_mean(size, known)
                    yield self._told("guide.size_unknown", "sizes", family, size, key=True, size=size, hint=hint)
