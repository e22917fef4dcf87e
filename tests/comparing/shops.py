"""Questions of shops that differ from the demo shop: other habits, stricter rules, fewer goods, and mistakes."""

import re
import tomllib
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Any

from openapi.example_requests import examples
from service.shop_file import DEMO
from tests.comparing.other_shop import CHANGED
from tests.comparing.questions import Change, Named, Question
from tests.support.random_straps import random_strap
from tests.support.variations import leaves

DATA = tomllib.loads(DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
WITHOUT_DESIGNS: Change = {"way": ["designs"]}
BENCH = (
    "parade_harness_strap", "dancers_bell_garter", "door_hanging", "dog_collar_lead_ring", "lined_bag_strap",
    "stitched_collar", "staggered_harness_strap", "goat_collar_centrepiece",
)  # fmt: skip
"""Examples that between them meet every rule."""
GOODS = ("leathers", "round_punches", "slot_punches", "end_punches", "fasteners", "buckles", "rings", "ornaments")
TIMES = (Fraction(1, 2), 2, 3, 8)
_MEASURE = re.compile(r"(?:(\d+) )?(\d+/\d+|\d*\.?\d+)( in| mm|)")
WRONG = (
    True,
    0,
    -1,
    0.5,
    99_999,
    "",
    "x",
    "x" * 130,
    "3 qq",
    "-1 in",
    "0",
    "40 in",
    "0.5 mm",
    [],
    ["x", "x"],
    {"x": 1},
)
"""What any key of a shop file may be set to by mistake."""
ALONE = ("x" * 130, 99_999, "40 in", "0.5 mm")
"""What one key of each kind is set to by itself."""


def of_another_shop(count: int) -> Named:
    """Odd straps in a shop whose every rule, default and limit is another."""
    other = (WITHOUT_DESIGNS, *_set_all(tomllib.loads(CHANGED)))
    for seed in range(3000, 3000 + count // 3):
        yield f"odd strap {seed} in another shop", Question(body=random_strap(seed), shop=other)


def of_strict_shops(_count: int) -> Named:
    """Usual straps in shops with one rule as half, twice, three or eight times what it is."""
    for way, value in leaves(DATA["rules"]):
        for times in TIMES:
            new = as_often(value, times)
            if new is not None:
                shop = (WITHOUT_DESIGNS, {"way": ["rules", *way], "value": new})
                yield from _on_the_bench(f"where rules.{'.'.join(map(str, way))} is {new}", shop)


def of_poor_shops(_count: int) -> Named:
    """Usual straps in shops without each one of the goods, and with that one alone of its kind."""
    for table in GOODS:
        for name in DATA[table]:
            others: list[Change] = [{"way": [table, each]} for each in DATA[table] if each != name]
            yield from _on_the_bench(f"without {name}", (WITHOUT_DESIGNS, {"way": [table, name]}))
            yield from _on_the_bench(f"with {name} alone", (WITHOUT_DESIGNS, *others))


def of_mistakes(_count: int) -> Named:
    """Shop files with one key of each kind left out or set wrong, and with all keys set wrong at once."""
    for way in kinds_of_keys():
        name = ".".join(map(str, way))
        yield f"a shop file without {name}", _opened(WITHOUT_DESIGNS, {"way": list(way)})
        for value in ALONE:
            yield f"{name} is {value!r:.12}", _opened(WITHOUT_DESIGNS, {"way": list(way), "value": value})
    for value in WRONG:
        every: Iterator[Change] = ({"way": list(way), "value": value} for way, _ in leaves(DATA))
        yield f"every key is {value!r:.12}", _opened(*every)


def kinds_of_keys() -> list[tuple[str | int, ...]]:
    """One key of each kind: of goods that have the same keys the first; none of a design."""
    goods = {name for name, table in DATA.items() if all(isinstance(entry, dict) for entry in table.values())}
    found: dict[tuple[Any, ...], tuple[str | int, ...]] = {}
    for way, _ in leaves(DATA):
        kind = tuple(each for depth, each in enumerate(way) if not (way[0] in goods and depth == 1))
        found.setdefault(kind, way)
    return [way for way in found.values() if way[0] != "designs"]


def as_often(value: object, times: Fraction | int) -> object:
    """So many times a rule as the shop file has it, or two where it is nothing; none where it is no measure."""
    if isinstance(value, int) and not isinstance(value, bool):
        return int(value * times)
    found = _MEASURE.fullmatch(str(value))
    if not found:
        return None
    whole, part, unit = found.groups()
    measure = (Fraction(whole or 0) + Fraction(part) or 2) * times
    return str(float(measure)) if not unit else f"{measure}{unit}" if unit == " in" else f"{float(measure)}{unit}"


def _on_the_bench(where: str, shop: tuple[Change, ...]) -> Named:
    for name in BENCH:
        yield f"{name} {where}", Question(body=examples()[name], shop=shop)


def _opened(*changes: Change) -> Question:
    return Question(path="/v1/shop", shop=changes)


def _set_all(tables: dict[str, Any]) -> Iterator[Change]:
    for way, value in leaves(tables):
        yield {"way": list(way), "value": value}
