"""What the maker is told of mistakes in the shop file, word by word: every key set wrong, all at once and alone."""

import tomllib
from decimal import Decimal

import pytest
from marshmallow import ValidationError

from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop_file import DEMO, dotted
from tests.golden.telling import compare
from tests.schemas.test_designs import WRONG_DESIGNS
from tests.schemas.test_designs import changed as design_changed
from tests.schemas.test_shop_file import SPOILED
from tests.support.variations import changed, leaves, without

WRONG = (
    True,
    0,
    -1,
    Decimal("0.5"),
    Decimal("1e9"),
    "",
    "x",
    "3 qq",
    "-1 in",
    "0",
    "900 in",
    "1/0 in",
    [],
    ["x", "x"],
    {},
    {"x": 1},
)
"""What any key of the shop file may be set to by mistake."""


@pytest.mark.parametrize("number", range(len(WRONG)))
def test_every_mistake_in_a_shop_file_is_told_as_it_was(number):
    data = tomllib.loads(DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
    for path, _ in list(leaves(data)):
        data = changed(data, path, WRONG[number])
    compare(f"shop_file-{number:02}", "mistakes", mistakes(data))


@pytest.mark.parametrize("number", range(len(SPOILED)))
def test_one_mistake_in_a_shop_file_is_told_as_it_was(number):
    old, new, _ = SPOILED[number]
    text = DEMO.read_text(encoding="utf-8").replace(old, new, 1)
    compare("shop_file-spoiled", f"{old} becomes {new}", mistakes(tomllib.loads(text, parse_float=Decimal)))


ALONE = ("left out", "x" * 130, 99_999, "40 in", "0.5 mm", [], {"_": 1})
"""What each kind of key is set to by itself."""
DATA = tomllib.loads(DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
GOODS = {name for name, table in DATA.items() if all(isinstance(entry, dict) for entry in table.values())}


def kinds_of_keys() -> list[tuple]:
    """One key of each kind: of goods that have the same keys the first."""
    found: dict[tuple, tuple] = {}
    for path, _ in leaves(DATA):
        kind = tuple(each for depth, each in enumerate(path) if not (path[0] in GOODS and depth == 1))
        found.setdefault(kind, path)
    return [path for path in found.values() if path[0] != "designs"]


KEYS = kinds_of_keys()


@pytest.mark.parametrize("first", range(0, len(KEYS), 5))
def test_a_key_of_a_shop_file_set_wrong_alone_is_told_as_it_was(first):
    found = {}
    for path in KEYS[first : first + 5]:
        for value in ALONE:
            data = without(DATA, path) if value == "left out" else changed(DATA, path, value)
            found[f"{dotted(map(str, path))} {str(value)[:10]}"] = mistakes(data)
    compare("shop_file-alone", f"from {first:03}", found)


@pytest.mark.parametrize("number", range(len(WRONG_DESIGNS)))
def test_one_mistake_in_a_design_is_told_as_it_was(number):
    change, key, _ = WRONG_DESIGNS[number]
    data = {**DATA, "designs": {"garter": design_changed(**change)}}
    compare("shop_file-designs", f"{number:02} {key}", mistakes(data))


def mistakes(data) -> dict[str, str]:
    try:
        SHOP_SCHEMA.load(data)
    except ValidationError as error:
        return {dotted(fault.path): f"{fault.code}: {fault.detail}" for fault in faults_of(error.messages, SHOP_SCHEMA)}
    return {}


FILES = {
    "shop_file-alone",
    "shop_file-designs",
    "shop_file-spoiled",
    *(f"shop_file-{number:02}" for number in range(len(WRONG))),
}
