"""Requests for cut plans: strict, every fault at once, by its place; and what a request leaves to the shop."""

from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.cut_plan import habits_of, read_cut_plan, stock_of
from service.schemas.orders import OrdersError
from service.schemas.problem import pointer
from service.shop.pricing import Cutting
from service.strap.plane.lengths import INCH, MM

PIECE = {"name": "body", "leather": "harness_8_9", "width": "2 in", "length": "24 in"}
HIDE = {"id": "s1", "leather": "harness_8_9", "length": "48 in", "width": "20 in", "count": 4}


def order(**more):
    return {"ref": "A1", "pieces": [PIECE], "quantity": 3, **more}


def request(**more):
    return {"orders": [order()], "stock": [HIDE], **more}


def faults(document, shop):
    with pytest.raises(OrdersError) as caught:
        read_cut_plan(document, shop)
    return {pointer(fault.path): fault.code for fault in caught.value.faults}


def test_the_contracts_example(shop):
    asked = read_cut_plan(request(kerf="0 mm", time_limit_s=2), shop)
    assert asked.orders[0].pieces[0].length == 24 * INCH
    assert (asked.kerf, asked.time_limit_s, asked.stock[0].count) == (0, 2, 4)
    assert read_cut_plan(request(time_limit_s=10), shop).time_limit_s == 10


def test_bare_numbers_are_in_the_documents_units(shop):
    metric = request(units="mm", kerf=Decimal("0.5"))
    metric["stock"] = [{**HIDE, "length": 1200, "width": 500}]
    asked = read_cut_plan(metric, shop)
    assert (asked.stock[0].length, asked.kerf) == (1200 * MM, MM // 2)


def test_the_documents_units_do_not_change_a_spec(shop):
    """A spec means the same wherever it stands: its bare numbers are in its own units, else the shop's."""
    spec = {"construction": "one_piece", "size": {"girth": 14}}
    asked = read_cut_plan({"units": "mm", "orders": [{"ref": "A1", "spec": spec}]}, shop)
    assert asked.orders[0].spec.size.girth == 14 * INCH


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        (None, {"": "wrong_type"}),
        ({}, {"/orders": "missing"}),
        (request(orders=[]), {"/orders": "out_of_range"}),
        (request(orders=[order(pieces=[])]), {"/orders/0/pieces": "out_of_range"}),
        (request(orders=[order(spec={})]), {"/orders/0": "one_of", "/orders/0/spec/construction": "missing",
                                            "/orders/0/spec/size": "missing"}),
        (request(orders=[order(), order()]), {"/orders/1/ref": "given_twice"}),
        (request(orders=[order(pieces=[PIECE | {"leather": "cork"}])]),
         {"/orders/0/pieces/0/leather": "unknown_item"}),
        (request(orders=[order(pieces=[{**PIECE, "length": 0}])]), {"/orders/0/pieces/0/length": "out_of_range"}),
        (request(orders=[order(pieces=[{**PIECE, "depth": 1}])]), {"/orders/0/pieces/0/depth": "unknown_field"}),
        (request(stock=[{**HIDE, "count": -1}]), {"/stock/0/count": "out_of_range"}),
        (request(stock=[{**HIDE, "leather": "cork"}]), {"/stock/0/leather": "unknown_item"}),
        (request(stock=[HIDE, HIDE]), {"/stock/1/id": "given_twice"}),
        (request(stock=[{}]), {f"/stock/0/{name}": "missing" for name in HIDE}),
        (request(time_limit_s=0), {"/time_limit_s": "out_of_range"}),
        (request(time_limit_s=11), {"/time_limit_s": "out_of_range"}),
        (request(time_limit_s="2"), {"/time_limit_s": "wrong_type"}),
        (request(time_limit_s=True), {"/time_limit_s": "wrong_type"}),
        (request(kerf="-1 mm"), {"/kerf": "not_a_length"}),
        (request(min_offcut={"length": "x", "hight": 1}), {"/min_offcut/length": "not_a_length",
                                                           "/min_offcut/hight": "unknown_field"}),
        (request(units="ft"), {"/units": "unknown_value"}),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_by_place(document, expected, shop):
    assert faults(document, shop) == expected


def test_what_a_request_leaves_unsaid_is_the_shops_to_say(shop):
    cutting = Cutting(kerf=1, straighten=2, end_trim=3, offcut_length=4, offcut_width=5)
    own = replace(shop, cutting=cutting)
    asked = read_cut_plan(request(), own)
    habits = habits_of(asked, own)
    assert (habits.kerf, habits.offcut_length, habits.offcut_width) == (1, 4, 5)
    (entry,) = stock_of(asked, ["harness_8_9"], 9, own)
    assert (entry.straighten, entry.end_trim) == (2, 3)


def test_what_a_request_says_counts_and_a_hides_own_word_counts_most(shop):
    asked = read_cut_plan(
        request(
            straighten="1 in",
            end_trim="1/2 in",
            min_offcut={"length": "2 in"},
            stock=[HIDE, {**HIDE, "id": "s2", "straighten": 0}],
        ),
        shop,
    )
    first, second = stock_of(asked, ["harness_8_9"], 9, shop)
    assert (first.straighten, second.straighten) == (INCH, 0)
    assert first.end_trim == second.end_trim == INCH // 2
    assert habits_of(asked, shop).offcut_length == 2 * INCH


def test_without_a_stock_the_shops_own_hides_are_taken_as_many_as_needed(shop):
    asked = read_cut_plan({"orders": [order()]}, shop)
    (entry,) = stock_of(asked, ["harness_8_9", "harness_8_9"], 9, shop)
    leather = shop.leathers["harness_8_9"]
    assert (entry.id, entry.length, entry.width, entry.count) == (
        "harness_8_9",
        leather.strip_length,
        leather.usable_width,
        9,
    )


def test_an_empty_stock_is_a_stock(shop):
    assert stock_of(read_cut_plan(request(stock=[]), shop), ["harness_8_9"], 9, shop) == ()
