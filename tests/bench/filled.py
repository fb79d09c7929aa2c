"""Records of a shop of some size, put in fast: evaluations, and for one in ten a customer with an instrument."""

from random import Random
from typing import Any

from sqlalchemy import Engine, insert

from evaluator.store.engine import writing
from evaluator.store.finding.tables import found_words
from evaluator.store.finding.words import CUSTOMER, EVALUATION, words_in
from evaluator.store.schema import evaluations
from evaluator.store.workshop.tables import customers, instruments

NAMES = ("Anna", "Berta", "Cleo", "Dora", "Emil", "Franz", "Greta", "Hanna", "Ida", "Jonas", "Karl", "Lena", "Mona")
SORTS = ("red", "old", "dark", "small", "bright", "worn", "flamed", "plain", "new", "heavy")
FAMILIES = ("violin", "viola", "cello", "bow")
AT_ONCE = 2_000


def fill(engine: Engine, count: int) -> None:
    """So many evaluations, the last one changed last; one in fifty is a bow, one in three is finished."""
    chance = Random(1)
    with writing(engine) as connection:
        for first in range(0, count, AT_ONCE):
            numbers = range(first, min(count, first + AT_ONCE))
            rows = [_evaluation(number, chance) for number in numbers]
            words = [_words(EVALUATION, row["id"], row["created"], row["title"]) for row in rows]
            connection.execute(insert(evaluations), rows)
            people = [_customer(number, chance) for number in numbers if number % 10 == 0]
            if people:
                connection.execute(insert(customers), [person for person, _ in people])
                connection.execute(insert(instruments), [thing for _, thing in people])
            for person, thing in people:
                text = " ".join([*person["record"].values(), *thing["record"].values()])
                words.append(_words(CUSTOMER, person["id"], person["made"], text))
            connection.execute(insert(found_words), [word for some in words for word in some])


def _evaluation(number: int, chance: Random) -> dict[str, Any]:
    family = "bow" if number % 50 == 0 else FAMILIES[number % 3]
    title = f"{chance.choice(SORTS).capitalize()} {family} of {chance.choice(NAMES)}, {1800 + number % 200}"
    day = f"20{number // 8_760:02d}-{1 + number // 730 % 12:02d}-{1 + number // 24 % 28:02d}"
    at = f"{day}T{number % 24:02d}:00:00.{number:06d}+00:00"
    start = {"title": title, "size": "4/4", "style": "classical", "tier": "student", "asking": str(500 + number % 900)}
    answers = {f"check_{one}": {"outcome": "meets", "note": "as it should be"} for one in range(30)}
    return {
        "id": f"{number:012x}", "version": 1, "title": title, "rubric": family,
        "state": "finished" if number % 3 == 0 else "draft", "created": at, "changed": at,
        "typed": {"start": start, "answers": answers}, "snapshot": None, "rubric_hash": None, "made_from": None,
    }  # fmt: skip


def _customer(number: int, chance: Random) -> tuple[dict[str, Any], dict[str, Any]]:
    name, at = f"{chance.choice(NAMES)} {chance.choice(NAMES)}son {number}", "2026-01-01T00:00:00+00:00"
    card = {"version": 1, "made": at, "changed": at}
    person = card | {"id": f"c{number:011x}", "name": name, "record": {"name": name}, "erased": None}
    record = {"name": "Violin", "serial": f"K-{number:06d}"}
    return person, card | {"id": f"i{number:011x}", "customer": person["id"], "name": "Violin", "record": record}


def _words(kind: str, identity: object, made: object, text: object) -> list[dict[str, Any]]:
    return [{"kind": kind, "id": identity, "made": made, "word": word} for word in words_in(str(text))]
