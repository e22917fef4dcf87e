"""The order of the bench and what it is charged by, against common practice and answers worked by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.spec import read_spec
from service.shop.pricing import Operation
from service.shop_file import demo_shop
from service.strap.model.pattern import BETWEEN_KEEPERS, FIXED_KEEPERS, KEEPERS
from service.strap.plane.edges import perimeter
from service.strap.plane.lengths import INCH, MM, tape_reading
from service.strap.solve import solve
from service.workshop.bench.order import work_on
from service.workshop.labour import Labour
from service.workshop.materials import Order
from service.workshop.names import long_reading
from service.workshop.steps import steps
from tests.workshop.test_walker import STRAPS

SHOP = demo_shop()
THIN_FOLDS = replace(SHOP, rules=replace(SHOP.rules, fold_skive=Decimal("0.75")))


def pattern_of(name, shop=SHOP):
    return solve(read_spec(STRAPS[name], "in"), shop)


def carried(name):
    """The same strap, without its lining where that covers what is set: the plain order of the bench."""
    pattern = pattern_of(name)
    lining = pattern.piece("lining")
    if lining is None or lining.purpose == "carry":
        return pattern
    return solve(replace(read_spec(STRAPS[name], "in"), lining=None), SHOP)


def places(work, op):
    return [step.n for step in work if step.op == op]


@pytest.mark.parametrize("name", STRAPS)
def test_edges_are_worked_bare_and_leather_is_damp_before_it_is_folded(name):
    """Bevel, dye, burnish, finish, then holes, then what is set; damp before a sharp fold (common practice).

    Laps are sewn before all of that: they are leather from there on.
    """
    whole = work_on(carried(name), SHOP)
    work = [step for step in whole if not any("splice" in each for each in step.features)]
    laps = [step.n for step in whole if step not in work]
    bare = [*laps, *(step.n for step in work if step.op in ("shape", "skive", "trim"))]
    assert all(len(places(work, op)) == 1 for op in ("bevel", "dye", "burnish", "finish"))
    edges = [places(work, op)[0] for op in ("bevel", "dye", "burnish", "finish")]
    assert edges == sorted(edges)
    assert max(bare, default=0) < edges[0]
    holes = [n for op in ("prick", "punch", "mark") for n in places(work, op)]
    after = [
        n for op in ("pierce", "stitch", "set", "lace", "dampen", "slip", "fold", "rivet") for n in places(work, op)
    ]
    assert edges[-1] < min(holes, default=edges[-1] + 1)
    assert max(holes, default=0) < min(after, default=len(work))
    keepers = sum(piece.name in (*KEEPERS, *FIXED_KEEPERS, *BETWEEN_KEEPERS) for piece in carried(name).pieces)
    assert len(places(work, "dampen")) == len(places(work, "fold")) + keepers


@pytest.mark.parametrize("name", ["lined_bag_strap", "lined_bell_strap", "a lined body"])
def test_a_lining_that_covers_comes_after_all_whose_backs_it_covers_and_before_what_goes_through_it(name):
    """Dress the grain, set, lace, glue, trim, edge, cut through, pierce, sew (common practice)."""
    pattern = pattern_of(name)
    work = work_on(pattern, SHOP)
    (glued,) = (step.n for step in work if step.op == "glue" and "lining" in step.pieces)
    lined = pattern.pieces[0].name
    before = [step.n for op in ("finish", "prick", "mark", "set", "lace") for step in work if step.op == op]
    edged = [step.n for op in ("bevel", "dye", "burnish") for step in work if step.op == op and lined in step.pieces]
    through = [step.n for step in work if step.op in ("punch", "pierce") and step.plies == (lined, "lining")]
    sewn = [step.n for step in work if step.op == "stitch" and step.plies == (lined, "lining")]
    order = [*sorted(before), glued, *places(work, "trim"), *edged, *through, *sewn]
    assert order == sorted(order)
    assert len(edged) == 3
    assert all(step.plies == (lined,) for step in work if step.op in ("set", "lace"))


def test_edges_of_a_covered_strap_are_charged_once():
    """Metres of edge are those of all pieces but the lining, whether they are worked at once or in two goes."""
    for name in ("lined_bag_strap", "lined_bell_strap", "a lined body"):
        done = sum(step.work.amount for step in work_on(pattern_of(name), SHOP) if step.work.operation == "finish_edge")
        assert done == sum(perimeter(piece.outline) for piece in pattern_of(name).pieces if piece.name != "lining")


@pytest.mark.parametrize("name", STRAPS)
def test_each_step_comes_after_those_that_it_needs(name):
    work = work_on(pattern_of(name), SHOP)
    assert [step.n for step in work] == list(range(1, len(work) + 1))
    assert all(n < step.n for step in work for n in step.after)
    needed = {n for step in work for n in step.after}
    assert needed == set(range(1, len(work)))


def test_what_is_done_is_charged_and_what_is_charged_is_done():
    """Every operation of the shop's prices is that of some step, and every step has one.

    This shop leaves the tries before the first cut uncharged; one that says what they take charges them too.
    """
    done = {step.work.operation for name in STRAPS for step in work_on(pattern_of(name), SHOP)}
    assert done - {"try_out"} == set(SHOP.pricing.operations.by_name())
    charging = replace(SHOP.pricing.operations, try_out=Operation(setup=Decimal(5), each=Decimal(0)))
    assert done == set(charging.by_name())
    for name in STRAPS:
        uses = Labour(SHOP).of(Order(pattern=pattern_of(name)), charging)
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
    """Latigo of 6 1/2 oz, 6.5/64 in or 2.58 mm, keeps three quarters, 1.935 mm (by hand)."""
    pattern = pattern_of("lined_bag_strap", THIN_FOLDS)
    told = [step.do for step in steps(pattern, THIN_FOLDS)]
    thinned = [do for do in told if do.startswith("Skive")]
    assert len([do for do in thinned if "Skive the strap across its fold at" in do]) == 2
    assert len([do for do in thinned if "Skive the lining across its fold at" in do]) == 2
    assert all(do.endswith("from ≈ 2.6 mm to ≈ 1.9 mm.") for do in thinned if "strap" in do)
    glued = next(n for n, do in enumerate(told) if do.startswith("Glue the lining"))
    assert max(told.index(do) for do in thinned) < glued
    uses = Labour(THIN_FOLDS).of(Order(pattern=pattern), SHOP.pricing.operations)
    assert next(use.count for use in uses if use.operation == "skive") == 4


@pytest.mark.parametrize(
    ("length", "units", "told"),
    [
        (135 * INCH, "in", "11 ft 3 in"),
        (135 * INCH + 1, "in", "11 ft 4 in"),
        (2 * INCH, "in", "2 in"),
        (36 * INCH, "in", "36 in"),
        (36 * INCH + 1, "in", "3 ft 1 in"),
        (47 * INCH + 1, "in", "4 ft"),
        (995 * MM, "mm", "100 cm"),
        (881 * MM, "mm", "89 cm"),
        (3449 * MM, "mm", "3.45 m"),
        (3451 * MM, "mm", "3.46 m"),
    ],
)
def test_lace_and_thread_are_measured_off_in_whole_units_and_never_short(length, units, told):
    """Up to a yard in inches, then in feet and inches; up to a metre in cm (135 in are 11 ft 3 in, by hand)."""
    assert long_reading(length, units) == told


def test_an_open_strap_is_measured_end_to_end():
    """It has no buckle's fold to measure from (common practice)."""
    assert steps(pattern_of("two forms of end"), SHOP)[-1].do == "Measure: 20 in end to end. Add to it: swing tag."
    assert pattern_of("two forms of end").finished.measured_from == "ends"


@pytest.mark.parametrize(("name", "rings"), [("door_hanging", "ring"), ("lined_bag_strap", "rings")])
def test_what_hangs_on_an_open_strap_is_not_measured_with_it(name, rings):
    """From the outer edge of one fold to the other, or to the plain end (common practice)."""
    assert steps(pattern_of(name), SHOP)[-1].do.endswith(f" in end to end, without the {rings}. Add to it: swing tag.")


# ---------------------------------------------------------------- before good leather is cut


def test_punches_and_fixings_are_tried_on_an_offcut_and_the_size_in_paper_before_the_first_cut():
    """Common practice. Worked by hand: rivets of the keeper and the fold, and the spots; no buckle, no ring."""
    first, second, cut = steps(pattern_of("dog_collar_lead_ring"), SHOP)[:3]
    assert [first.op, second.op, cut.op] == ["test", "try", "strip"]
    assert not any([*first.pieces, *first.uses, *first.features, *second.pieces, *second.uses, *second.features])
    assert "try every punch and set a spare one of each: " in first.do
    for item in ("double_cap_medium", "double_cap_small"):
        assert SHOP.fasteners[item].title in first.do
    assert SHOP.ornaments["spot_10"].title in first.do
    assert "buckle" not in first.do
    assert cut.after == (1, 2)


def test_the_size_is_tried_at_the_length_and_the_girths_that_the_strap_will_have():
    """From the tightest to the loosest of the holes at which the tip can lie down, read as on a tape."""
    pattern = pattern_of("dancers_bell_garter")
    units = pattern.spec.units
    down = {worn.hole for worn in pattern.worn if worn.lies_down}
    holes = [tape_reading(hole.fits, units) for hole in pattern.finished.holes if hole.hole in down]
    (told,) = (step.do for step in steps(pattern, SHOP) if step.op == "try")
    assert f"it fits girths of {holes[0]} to {holes[-1]}" in told
    assert told.endswith(f"is {tape_reading(pattern.finished.length, units)} from the bar to the middle hole.")


def test_a_bare_strip_is_tried_in_paper_alone():
    pattern = solve(read_spec({"construction": "open", "size": {"body_length": "20 in"}}, "in"), SHOP)
    tries = [step.do for step in steps(pattern, SHOP) if step.op in ("test", "try")]
    assert tries == ["Try the size in paper or string: 20 in end to end."]


def test_a_shop_that_charges_the_tries_charges_them_once_a_batch():
    """5 minutes to set up and none each: 5 minutes for one strap and for twenty (by hand)."""
    charging = replace(SHOP.pricing.operations, try_out=Operation(setup=Decimal(5), each=Decimal(0)))
    for quantity in (1, 20):
        order = Order(pattern=pattern_of("dancers_bell_garter"), quantity=quantity)
        assert next(use.minutes for use in Labour(SHOP).of(order, charging) if use.operation == "try_out") == 5


@pytest.mark.parametrize(
    ("name", "tool"),
    [
        ("dog_collar_lead_ring", "mallet and anvil"),
        ("rings at both ends, riveted", "screwdriver"),
        ("three rows of bells", None),
    ],
)
def test_what_clinches_or_screws_is_named(name, tool):
    """Prongs are clinched on an anvil, a screw post wants its driver, a shank is pushed (common practice)."""
    assert {step.tool for step in work_on(pattern_of(name), SHOP) if step.op == "set"} == {tool}
