"""Shop files that load but make no sense: prices for what does not exist, and rates that cannot be."""

from collections.abc import Collection, Iterator, Sequence

from ...basis.documents.document import Document
from ...basis.problem import Message, Messages, Problem, did_you_mean, problem
from ..files.shop_file import latest_place
from ..shop import Shop

MESSAGES: Messages = {
    "shop.unknown_job": Message('there is no job "{id}" to price.', "Use the id of a job. {hint}"),
    "shop.unknown_part": Message('there is no part "{id}" to price.', "Use the id of a part price. {hint}"),
    "shop.rate_of_nothing": Message("the likely rate for {skill} is 0.", "Write what an hour costs."),
    "shop.bench_dear": Message(
        "an hour at the bench costs the shop {cost:g}, more than customers pay for any skill.",
        "Correct bench_cost_per_hour or the rates.",
    ),
}


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
