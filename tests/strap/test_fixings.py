"""Every kind of fixing says all of itself: no table elsewhere forgets one."""

from dataclasses import fields, replace

import pytest

from service.schemas.goods import OrnamentSchema
from service.schemas.spec import read_spec
from service.shop.fixings import FIXINGS, Fixing, SplitPin
from service.shop.pricing import Operations
from service.strap.errors import Refusal
from service.strap.plane.lengths import MM
from service.strap.rules.fixings import RULES_OF
from service.strap.solve import solve
from tests.walker.bench import Bench
from tests.workshop.test_walker import SHOP, answer_for


def test_every_fixing_is_listed_and_has_its_rules():
    assert set(FIXINGS) == set(RULES_OF)
    assert {each.word for each in FIXINGS} == {each.word for each in Fixing.__subclasses__()}


def test_every_fixing_can_be_said_in_a_shop_file():
    assert {each.word for each in FIXINGS} <= set(OrnamentSchema().fields)


def test_setting_is_an_operation_that_a_shop_charges():
    assert {each.operation for each in FIXINGS} <= {each.name for each in fields(Operations)}


def test_a_bell_on_a_split_pin_is_laid_out_checked_set_and_made():
    """Common practice: the pin goes through a round hole, and its legs are spread and bent behind the leather."""
    plain = SHOP.ornaments["bell_25"]
    bells = {
        f"pinned_{length}": replace(plain, id=f"pinned_{length}", fixing=SplitPin(diameter=3 * MM, length=length * MM))
        for length in (4, 9)
    }
    shop = replace(SHOP, ornaments=SHOP.ornaments | bells)
    strap = {"construction": "one_piece", "size": {"girth": "24"}, "ornaments": {"item": "pinned_9", "count": 3}}
    answer = answer_for(read_spec(strap, "in"), shop)
    Bench(answer).make()
    holes = [each for piece in answer["pieces"] for each in piece["features"] if each["purpose"] == "ornament"]
    assert [(each["kind"], each["action"]) for each in holes] == [("hole", "punch")] * 3
    (set_on,) = (step for step in answer["steps"] if step["op"] == "set")
    assert set_on["tool"] == "pliers"
    assert not any(step["op"] == "lace" for step in answer["steps"])
    strap["ornaments"]["item"] = "pinned_4"
    with pytest.raises(Refusal) as refused:
        solve(read_spec(strap, "in"), shop)
    assert [(fault.code, fault.path) for fault in refused.value.faults] == [("split_pin_short", ("ornaments", "item"))]
