"""The order of the bench and what it is charged by, against common practice and answers worked by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.lengths import INCH, MM
from service.strap.solve import solve
from service.workshop.bench.order import work_on
from service.workshop.bench.sentences import long_reading
from service.workshop.labour import Labour
from service.workshop.materials import Order
from service.workshop.steps import steps
from tests.workshop.test_walker import STRAPS

SHOP = demo_shop()
THIN_FOLDS = replace(SHOP, rules=replace(SHOP.rules, fold_skive=Decimal("0.75")))


def pattern_of(name, shop=SHOP):
    return solve(read_spec(STRAPS[name], "in"), shop)


def places(work, op):
    return [step.n for step in work if step.op == op]


@pytest.mark.parametrize("name", STRAPS)
def test_edges_are_worked_bare_and_leather_is_damp_before_it_is_folded(name):
    """Bevel, dye, burnish, finish, then holes, then what is set; damp before a sharp fold (common practice)."""
    work = work_on(pattern_of(name), SHOP)
    bare = [step.n for step in work if step.op in ("shape", "skive", "trim")]
    assert all(len(places(work, op)) == 1 for op in ("bevel", "dye", "burnish", "finish"))
    edges = [places(work, op)[0] for op in ("bevel", "dye", "burnish", "finish")]
    assert edges == sorted(edges)
    assert max(bare, default=0) < edges[0]
    holes = [n for op in ("prick", "punch", "mark") for n in places(work, op)]
    after = [n for op in ("stitch", "set", "lace", "dampen", "slip", "fold", "rivet") for n in places(work, op)]
    assert edges[-1] < min(holes, default=edges[-1] + 1)
    assert max(holes, default=0) < min(after, default=len(work))
    assert len(places(work, "dampen")) == len(places(work, "fold")) + (pattern_of(name).piece("keeper") is not None)


@pytest.mark.parametrize("name", STRAPS)
def test_each_step_comes_after_those_that_it_needs(name):
    work = work_on(pattern_of(name), SHOP)
    assert [step.n for step in work] == list(range(1, len(work) + 1))
    assert all(n < step.n for step in work for n in step.after)
    needed = {n for step in work for n in step.after}
    assert needed == set(range(1, len(work)))


def test_what_is_done_is_charged_and_what_is_charged_is_done():
    """Every operation of the shop's prices is that of some step, and every step has one."""
    done = {step.work.operation for name in STRAPS for step in work_on(pattern_of(name), SHOP)}
    assert done == set(SHOP.pricing.operations.by_name())
    for name in STRAPS:
        uses = Labour(SHOP).of(Order(pattern=pattern_of(name)), SHOP.pricing.operations)
        assert {use.operation for use in uses} == {step.work.operation for step in work_on(pattern_of(name), SHOP)}


def test_the_work_on_a_lead_ring_collar_by_hand():
    """Worked by hand: two pieces off two settings of the cutter, one point, one keeper thinned.

    Punched: 2 keeper holes, 4 fold holes, 5 size holes, 1 slot, with four punches. 5 marks and 5 spots; one fold; two
    rivets in it and one in the keeper, with two setters.
    """
    uses = Labour(SHOP).of(Order(pattern=pattern_of("dog_collar_lead_ring")), SHOP.pricing.operations)
    counted = {use.operation: (use.tools, use.count) for use in uses if use.unit == "piece"}
    assert counted == {
        "cut_length": (1, 2), "shape_end": (1, 1), "punch": (4, 12), "mark": (1, 5), "skive": (1, 1),
        "set_spot": (1, 5), "rivet": (2, 3), "fold": (1, 1), "inspect": (1, 1),
    }  # fmt: skip
    assert next(use.tools for use in uses if use.operation == "cut_strip") == 2


def test_folds_are_thinned_before_the_lining_is_glued_on():
    """Latigo of 6 1/2 oz, 6.5/64 in, keeps three quarters, 4.875/64 in or ≈ 5/64 in (by hand)."""
    pattern = pattern_of("lined_bag_strap", THIN_FOLDS)
    told = [step.do for step in steps(pattern, THIN_FOLDS)]
    thinned = [do for do in told if do.startswith("Skive")]
    assert len([do for do in thinned if "Skive the strap across its fold at" in do]) == 2
    assert len([do for do in thinned if "Skive the lining across its fold at" in do]) == 2
    assert all(do.endswith("to ≈ 5/64 in.") for do in thinned if "strap" in do)
    glued = next(n for n, do in enumerate(told) if do.startswith("Glue the lining"))
    assert max(told.index(do) for do in thinned) < glued
    uses = Labour(THIN_FOLDS).of(Order(pattern=pattern), SHOP.pricing.operations)
    assert next(use.count for use in uses if use.operation == "skive") == 4


@pytest.mark.parametrize(
    ("length", "units", "told"),
    [
        (135 * INCH, "in", "11 1/4 ft"),
        (136 * INCH, "in", "11 1/2 ft"),
        (2 * INCH, "in", "1/4 ft"),
        (24 * INCH, "in", "2 ft"),
        (3449 * MM, "mm", "3.45 m"),
        (3451 * MM, "mm", "3.50 m"),
    ],
)
def test_thread_is_measured_off_in_feet_or_metres_and_never_short(length, units, told):
    """135 in are 11 ft 3 in; 136 in are up to 11 ft 6 in (by hand)."""
    assert long_reading(length, units) == told


def test_an_open_strap_is_measured_end_to_end():
    """It has no buckle's fold to measure from (common practice)."""
    assert steps(pattern_of("two forms of end"), SHOP)[-1].do == "Measure: 20 in end to end."
