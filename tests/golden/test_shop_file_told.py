"""What the maker is told of mistakes in the shop file, word by word: a key of each kind, and all of them at once."""

import tomllib
from decimal import Decimal
from zlib import crc32

import pytest
from marshmallow import ValidationError

from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop_file import DEMO, dotted
from tests.comparing.shops import ALONE, DATA, kinds_of_keys
from tests.golden.kept import hold
from tests.schemas.test_designs import WRONG_DESIGNS
from tests.schemas.test_designs import changed as design_changed
from tests.schemas.test_shop_file import SPOILED
from tests.support.variations import changed, leaves, without

WRONG = (True, -1, "", "x", "900 in", ["x", "x"], {"x": 1})
"""What all keys of a shop file are set to at once."""


def mistakes(data) -> str:
    """Each with its key, on a line."""
    try:
        SHOP_SCHEMA.load(data)
    except ValidationError as error:
        faults = faults_of(error.messages, SHOP_SCHEMA)
        return "".join(f"  {dotted(fault.path)}: {fault.code}: {fault.detail}\n" for fault in faults)
    return "  none\n"


@pytest.mark.parametrize("number", range(len(WRONG)))
def test_every_mistake_in_a_shop_file_is_told_as_it_was(number):
    data = tomllib.loads(DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
    for path, _ in list(leaves(data)):
        data = changed(data, path, WRONG[number])
    hold(f"told/shop_file-all-{number}.txt", f"every key is {WRONG[number]!r}\n{mistakes(data)}")


def test_one_mistake_in_a_shop_file_is_told_as_it_was():
    found = []
    for old, new, _ in SPOILED:
        text = DEMO.read_text(encoding="utf-8").replace(old, new, 1)
        found.append(f"{old} becomes {new}\n{mistakes(tomllib.loads(text, parse_float=Decimal))}")
    hold("told/shop_file-one.txt", "".join(found))


def test_a_key_of_each_kind_left_out_or_set_wrong_is_told_as_it_was():
    """Each wrong in one of four ways, by its name, so that another key leaves it as it is.

    The words are those of its kind of field, which many keys share.
    """
    found = []
    for way in kinds_of_keys():
        key = dotted(tuple(map(str, way)))
        wrong = ALONE[crc32(key.encode()) % len(ALONE)]
        for what, data in (("left out", without(DATA, way)), (f"is {wrong!r:.12}", changed(DATA, way, wrong))):
            found.append(f"{key} {what}\n{mistakes(data)}")
    hold("told/shop_file-keys.txt", "".join(found))


def test_one_mistake_in_a_design_is_told_as_it_was():
    found = []
    for change, _, _ in WRONG_DESIGNS:
        told = mistakes({**DATA, "designs": {"garter": design_changed(**change)}, "exports": {}})
        found.append(f"{', '.join(f'{place} = {str(value)[:60]}' for place, value in change.items())}\n{told}")
    hold("told/shop_file-designs.txt", "".join(found))


FILES = {"shop_file-one", "shop_file-keys", "shop_file-designs", *(f"shop_file-all-{n}" for n in range(len(WRONG)))}
