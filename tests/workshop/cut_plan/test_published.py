"""Instances with a published or recomputed optimum: the plan reaches it and says so."""

from itertools import product

import pytest

from service.workshop.cut_plan.batch import Hide
from service.workshop.cut_plan.one_hide import solve_one_size
from tests.workshop.cut_plan.brute_force import least_bars
from tests.workshop.cut_plan.support import assert_valid, hides, pieces, plan, unhurried

INSTANCES = {
    # A roll-cutting instance of a paper mill: 73 rolls (result published; its demands from memory, reproduced).
    "73 rolls": (
        5600,
        {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16,
         2150: 18, 2200: 20},
        73,
    ),
    # Chvátal, *Linear Programming*, chapter 13, as told at neos-guide.org: the relaxation costs 452.25.
    "453 rolls": (100, {14: 211, 31: 395, 36: 610, 45: 97}, 453),
    # Stock of 100 (data published, optimum computed by us: 82).
    "82 rolls": (100, {20: 100, 30: 120, 40: 40, 50: 20}, 82),
}  # fmt: skip

CGCUT1 = [
    # length, width, value, most: Christofides and Whitlock, 1977, instance 1; the sheet is 15 × 10.
    (8, 4, 66, 2), (3, 7, 35, 1), (8, 2, 24, 3), (3, 4, 17, 5), (3, 3, 11, 2), (3, 2, 8, 2), (2, 1, 2, 1),
]  # fmt: skip


@pytest.mark.parametrize("name", INSTANCES)
def test_one_width_needs_the_published_number_of_hides_and_it_is_proven(name, shop):
    length, demands, optimum = INSTANCES[name]
    wanted = pieces([(size, 1) for size, count in demands.items() for _ in range(count)])
    stock = hides((length, 1, 1000))
    found = plan(wanted, stock, shop)
    assert_valid(found, wanted, stock)
    assert (found.used.sheets, found.lower_bound.sheets, found.proven) == (optimum, optimum, True)


@pytest.mark.parametrize("name", INSTANCES)
def test_strips_out_of_hides_need_the_published_number_too(name, shop):
    """The same problem turned by a right angle: each piece a strip of its own, as long as the hide."""
    width, demands, optimum = INSTANCES[name]
    wanted = pieces([(1, size) for size, count in demands.items() for _ in range(count)])
    found = plan(wanted, hides((1, width, 1000)), shop)
    assert (found.used.sheets, found.proven) == (optimum, True)


@pytest.mark.parametrize(("along", "published"), [("length", 240), ("width", 244)])
def test_the_best_selection_that_fits_one_sheet_is_worth_the_published_two_stage_value(along, published):
    """CGCUT1, two-stage: 244 or 240 by the first cut's direction.

    The published values allow a third cut that trims pieces to width, so they are bounds on ours, whose strips have
    exactly their pieces' width; here the bounds are reached.
    """
    items = CGCUT1 if along == "length" else [(width, length, value, most) for length, width, value, most in CGCUT1]
    sheet = (15, 10) if along == "length" else (10, 15)
    assert best_value(items, sheet, fits_by_plan) == published
    assert best_value(items, sheet, fits_by_brute_force) == published


def best_value(items, sheet, fits):
    """The most valuable selection that fits: selections are tried from the most valuable down."""
    counts = product(*(range(most + 1) for *_, most in items))
    worth = [(sum(n * item[2] for n, item in zip(each, items, strict=True)), each) for each in counts]
    for value, each in sorted(worth, reverse=True):
        chosen = [item[:2] for n, item in zip(each, items, strict=True) for _ in range(n)]
        if sum(length * width for length, width in chosen) <= sheet[0] * sheet[1] and fits(chosen, sheet):
            return value
    return 0


def fits_by_plan(chosen, sheet):
    if any(length > sheet[0] or width > sheet[1] for length, width in chosen):
        return False
    wanted = {}
    for length, width in chosen:
        wanted.setdefault(width, {}).setdefault(length, 0)
        wanted[width][length] += 1
    return len(solve_one_size(wanted, Hide(*sheet, 100, 1, 0), unhurried()).cuts) == 1


def fits_by_brute_force(chosen, sheet):
    if any(length > sheet[0] or width > sheet[1] for length, width in chosen):
        return False
    widths = {width for _, width in chosen}
    strips = {width: least_bars([length for length, w in chosen if w == width], sheet[0]) for width in widths}
    return sum(width * count for width, count in strips.items()) <= sheet[1]
