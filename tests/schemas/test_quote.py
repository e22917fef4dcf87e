"""Requests for quotes: strict, every fault at once, by its place."""

from decimal import Decimal

import pytest

from service.schemas.codes import code_of
from service.schemas.orders import OrdersError, spec_of
from service.schemas.problem import pointer
from service.schemas.quote import MOST_LINES, MOST_QUANTITIES, read_quote
from service.schemas.spec import read_spec
from service.shop.pricing import Margin, Markup
from service.strap.plane.lengths import INCH, MM

SPEC = {"construction": "one_piece", "size": {"girth": 14}}


def line(**more):
    return {"ref": "A1", "spec": SPEC, **more}


def faults(document, shop):
    with pytest.raises(OrdersError) as caught:
        read_quote(document, shop)
    return {pointer(fault.path): fault.code for fault in caught.value.faults}


def test_the_shortest_request(shop):
    asked = read_quote({"lines": [line()]}, shop)
    assert (asked.lines[0].ref, asked.lines[0].quantity, asked.lines[0].way) == ("A1", 1, "spec")
    assert asked.lines[0].spec.size.girth == 14 * INCH  # bare numbers are in the shop's units
    assert (asked.what_if, asked.profit, asked.leather_by) == ((), None, "waste_share")


def test_a_spec_keeps_its_own_units(shop):
    asked = read_quote({"lines": [line(spec={**SPEC, "units": "mm", "size": {"girth": 360}})]}, shop)
    assert asked.lines[0].spec.size.girth == 360 * MM


def test_a_code_means_the_spec_that_it_was_made_of(shop):
    spec = read_spec(SPEC, shop.defaults.units)
    asked = read_quote({"lines": [{"ref": "A1", "code": code_of(spec, shop.defaults.units)}]}, shop)
    assert spec_of(asked.lines[0], shop) == spec


def test_a_design_means_its_spec_with_the_choices(shop):
    design = next(iter(shop.designs.values()))
    asked = read_quote({"lines": [{"ref": "A1", "design": design.name, "choices": {}}]}, shop)
    assert spec_of(asked.lines[0], shop).construction in ("three_piece", "one_piece", "open")


@pytest.mark.parametrize(
    ("given", "profit"),
    [({"margin": "0.4"}, Margin(Decimal("0.4"))), ({"markup": Decimal("1.5")}, Markup(Decimal("1.5"))), ({}, None)],
)
def test_margin_or_markup(given, profit, shop):
    assert read_quote({"lines": [line()], **given}, shop).profit == profit


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        ([], {"": "wrong_type"}),
        ({}, {"/lines": "missing"}),
        ({"lines": []}, {"/lines": "out_of_range"}),
        ({"lines": [line()] * (MOST_LINES + 1)}, {"/lines": "out_of_range"}),
        ({"lines": "A1"}, {"/lines": "wrong_type"}),
        ({"lines": [1]}, {"/lines/0": "wrong_type"}),
        ({"lines": [line()], "liens": 1}, {"/liens": "unknown_field"}),
        ({"lines": [line(), line()]}, {"/lines/1/ref": "given_twice"}),
        ({"lines": [line(code="x")]}, {"/lines/0": "one_of"}),
        ({"lines": [{"ref": "A1"}]}, {"/lines/0": "one_of"}),
        ({"lines": [line(choices={})]}, {"/lines/0": "without_meaning"}),
        ({"lines": [line(quantity=0)]}, {"/lines/0/quantity": "out_of_range"}),
        ({"lines": [line(quantity=10_001)]}, {"/lines/0/quantity": "out_of_range"}),
        ({"lines": [line(quantity="3")]}, {"/lines/0/quantity": "wrong_type"}),
        ({"lines": [line(quantity=Decimal("3.0"))]}, {"/lines/0/quantity": "wrong_type"}),
        ({"lines": [line(ref="")]}, {"/lines/0/ref": "out_of_range"}),
        ({"lines": [line()], "what_if": []}, {"/what_if": "out_of_range"}),
        ({"lines": [line()], "what_if": list(range(1, MOST_QUANTITIES + 2))}, {"/what_if": "out_of_range"}),
        ({"lines": [line()], "what_if": [1, 5, 1]}, {"/what_if/2": "given_twice"}),
        ({"lines": [line()], "what_if": [0]}, {"/what_if/0": "out_of_range"}),
        ({"lines": [line()], "margin": "1"}, {"/margin": "out_of_range"}),
        ({"lines": [line()], "margin": "0.1", "markup": "0.1"}, {"": "one_of"}),
        ({"lines": [line()], "leather_by": "guess"}, {"/leather_by": "unknown_value"}),
    ],
)
def test_what_cannot_be_read_is_told_by_place(document, expected, shop):
    assert faults(document, shop) == expected


def test_faults_inside_a_spec_are_told_at_their_place_all_at_once(shop):
    document = {
        "lines": [
            line(spec={"construction": "two_piece", "size": {"girth": "x"}, "colour": "red"}, quantity=-1),
            line(ref="A2", spec=5),
        ]
    }
    assert faults(document, shop) == {
        "/lines/0/quantity": "out_of_range",
        "/lines/0/spec/colour": "unknown_field",
        "/lines/0/spec/construction": "unknown_value",
        "/lines/0/spec/size/girth": "not_a_length",
        "/lines/1/spec": "wrong_type",
    }


@pytest.mark.parametrize(
    ("order", "expected"),
    [
        ({"code": "!"}, {"/code": "unknown_code"}),
        ({"code": "e30"}, {"/code"}),  # the code of an empty object
        ({"design": "no_such_design"}, {"/design": "unknown_design"}),
    ],
)
def test_what_a_code_or_a_design_hides_is_told_at_the_order(order, expected, shop):
    asked = read_quote({"lines": [{"ref": "A1", **order}]}, shop)
    with pytest.raises(OrdersError) as caught:
        spec_of(asked.lines[0], shop)
    found = {pointer(fault.path): fault.code for fault in caught.value.faults}
    assert found == expected if isinstance(expected, dict) else found.keys() == expected


def test_choices_that_are_not_offered_are_told_by_name(shop):
    design = next(iter(shop.designs.values()))
    asked = read_quote({"lines": [{"ref": "A1", "design": design.name, "choices": {"moon": 1}}]}, shop)
    with pytest.raises(OrdersError) as caught:
        spec_of(asked.lines[0], shop)
    assert [pointer(fault.path) for fault in caught.value.faults] == ["/choices/moon"]
