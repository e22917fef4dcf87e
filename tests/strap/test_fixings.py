"""Every kind of fixing says all of itself: no table elsewhere forgets one."""

from dataclasses import fields

from service.schemas.goods import OrnamentSchema
from service.shop.fixings import FIXINGS, Fixing
from service.shop.pricing import Operations
from service.strap.rules.fixings import RULES_OF


def test_every_fixing_is_listed_and_has_its_rules():
    assert set(FIXINGS) == set(Fixing.__subclasses__()) == set(RULES_OF)


def test_every_fixing_can_be_said_in_a_shop_file():
    assert {each.word for each in FIXINGS} <= set(OrnamentSchema().fields)


def test_setting_is_an_operation_that_a_shop_charges():
    assert {each.operation for each in FIXINGS} <= {each.name for each in fields(Operations)}
