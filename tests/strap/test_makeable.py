"""What can be made at which lengths and counts: every answer against the solver's own, pair by pair."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.desk.selling import spec_of
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec import Body, Ends, Joint, Lining, Size, Spec, Stitching, StrapEnd
from service.strap.model.spec_changes import sized
from service.strap.model.spec_leather import KeepersBetween
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.offers.excerpts import EndExcerpt
from service.strap.offers.makeable import Accepted, Makeable, is_understood
from service.strap.offers.row_grid import RowGrid
from service.strap.offers.thresholds import Threshold
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.straps import specs
from tests.support.thorough import few_or

SHOP = demo_shop()
CONSTRUCTIONS = st.sampled_from(["three_piece", "one_piece", "open"])
ANY_SPEC = CONSTRUCTIONS.flatmap(specs).filter(lambda spec: spec.size.table is None)


def accepted(spec):
    try:
        solve(spec, SHOP)
    except Refusal:
        return False
    return True


def assert_agrees(spec, lengths, counts):
    makeable = Makeable(spec, Accepted(SHOP))
    wrong = [
        (length, count, makeable(length, count))
        for length in lengths
        for count in counts
        if makeable(length, count) != accepted(sized(spec, length, count))
    ]
    assert not wrong, (spec, wrong)


def combinations(design):
    chosen = [design.defaults()]
    for choice in design.others:
        chosen = [{**each, choice.name: value} for each in chosen for value in choice.offer]
    return chosen


WHOLE = [(design, chosen) for design in SHOP.designs.values() for chosen in combinations(design)]
APART = few_or(4, 1)
"""Of the lengths on offer so manieth ones are tried, beginning with another one in each grid."""


@pytest.mark.slow
@pytest.mark.parametrize("number", range(len(WHOLE)))
def test_the_grid_of_every_demo_design_agrees_with_the_solver(number):
    design, chosen = WHOLE[number]
    counts = design.count.offer if design.count else (None,)
    assert_agrees(spec_of(design, chosen, SHOP), tuple(design.length.offer)[number % APART :: APART], counts)


@settings(max_examples=50)
@given(ANY_SPEC, st.integers(4, 60), st.sampled_from([INCH // 4, INCH, 7 * MM]), st.integers(0, 12))
def test_any_spec_agrees_with_the_solver_on_a_grid(spec, shortest, step, fewest):
    lengths = [shortest * INCH + n * step for n in range(5)]
    assert_agrees(spec, lengths, range(fewest, fewest + 6) if spec.ornaments else (None,))


@settings(max_examples=50)
@given(ANY_SPEC)
def test_a_spec_agrees_where_it_turns_from_refused_to_accepted(spec):
    """Round the shortest length at which its own count is accepted, to the nanometre where rules meet their limits."""
    count = spec.ornaments.count if spec.ornaments else None
    low, high = 3 * INCH, 84 * INCH
    if not accepted(sized(spec, high, count)) or accepted(sized(spec, low, count)):
        return
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if accepted(sized(spec, middle, count)) else (middle, high)
    counts = (None,) if count is None else (max(count - 1, 0), count, count + 1)
    assert_agrees(spec, (low - 1, low, high, high + 1), counts)


STRAPS = {
    "three_piece": Spec(construction="three_piece", size=Size(body_length=30 * INCH), body=Body(width=3 * INCH)),
    "one_piece": Spec(construction="one_piece", size=Size(girth=30 * INCH), body=Body(width=3 * INCH // 2)),
    "joint that covers what is left over": Spec(
        construction="three_piece", size=Size(finished_length=30 * INCH), body=Body(width=3 * INCH)
    ),
    "tip that takes up what is left over": Spec(
        construction="one_piece", size=Size(body_length=30 * INCH), body=Body(width=38 * MM)
    ),
    "ring": Spec(
        construction="open",
        size=Size(finished_length=30 * INCH),
        body=Body(width=INCH),
        ends=Ends(head=StrapEnd(kind="ring"), foot=StrapEnd(kind="plain", shape="english_point")),
    ),
    "hole": Spec(
        construction="open",
        size=Size(body_length=30 * INCH),
        body=Body(width=5 * INCH // 2),
        ends=Ends(head=StrapEnd(kind="hole"), foot=StrapEnd(kind="hole", shape="round")),
    ),
}
ROWS = {
    "ruler": Row(item="bell_25", count=3),
    "even": Row(item="spot_10", count=3, spacing="even"),
    "pitch": Row(item="bell_30", count=3, spacing=2 * INCH),
    "mixed": Row(items=("spot_10", "bell_30", "spot_6"), arrange="sequence", count=3, mirrored=True),
    "centred": Row(item="spot_10", count=3, centrepiece="concho_25", spacing="even"),
}
BETWEENS = {"none": None, "one": Between(item="spot_6"), "three": Between(item="spot_6", per_gap=3)}
BORDERS = {
    "none": None,
    "usual": Border(item="spot_6"),
    "dense": Border(item="spot_6", step=INCH * 3 // 8),
    "near": Border(item="spot_10", inset=INCH * 7 // 16, step=INCH),
}


def mixed():
    """Every strap with every row and every border, in turn with one of the kinds between; thoroughly, with each."""
    every = product(STRAPS, ROWS, BETWEENS, BORDERS)
    places = product(*(range(len(each)) for each in (STRAPS, ROWS, BETWEENS, BORDERS)))
    return [each for each, at in zip(every, places, strict=True) if sum(at) % few_or(3, 1) == 0]


@pytest.mark.parametrize(("strap", "row", "between", "border"), mixed())
def test_each_length_at_which_a_count_becomes_makeable_is_the_solver_s(strap, row, between, border):
    """To the nanometre: the solver accepts it, and refuses one nanometre less."""
    spec = replace(STRAPS[strap], ornaments=ROWS[row], between=BETWEENS[between], border=BORDERS[border])
    assert_turns_as_the_solver_does(spec, (1, 2, 3, 4, 5, 8))


def assert_turns_as_the_solver_does(spec, counts):
    makeable = Makeable(spec, Accepted(SHOP))
    for count in counts:
        low, high = 3 * INCH, 70 * INCH
        if makeable(low, count) or not makeable(high, count):
            continue
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if makeable(middle, count) else (middle, high)
        assert accepted(sized(spec, high, count)), (count, high)
        assert not accepted(sized(spec, low, count)), (count, low)


ACROSS = {
    "level": Rows(count=2, across="level", distance=INCH // 2),
    "staggered": Rows(count=2, across="staggered", distance=INCH // 2),
    "three staggered": Rows(count=3, across="staggered", distance=INCH // 2),
}


def mixed_rows():
    """Every strap with every way to set rows, and a border in turn; thoroughly, with each."""
    every = product(STRAPS, ACROSS, BORDERS)
    places = product(*(range(len(each)) for each in (STRAPS, ACROSS, BORDERS)))
    return [each for each, at in zip(every, places, strict=True) if sum(at) % few_or(6, 1) == 0]


@pytest.mark.parametrize(("strap", "across", "border"), mixed_rows())
def test_each_length_at_which_a_count_of_rows_becomes_makeable_is_the_solver_s(strap, across, border):
    row = replace(ROWS["ruler"], item="spot_10", rows=ACROSS[across])
    spec = replace(STRAPS[strap], ornaments=row, border=BORDERS[border])
    assert is_understood(spec)
    assert_turns_as_the_solver_does(spec, (1, 2, 3, 8))


def test_rows_with_things_between_turn_as_the_solver_does():
    for across in ACROSS.values():
        row = replace(ROWS["ruler"], item="spot_10", rows=across)
        assert_turns_as_the_solver_does(replace(STRAPS["ring"], ornaments=row, between=BETWEENS["one"]), (2, 3))


SEWN = {
    "stitched": {"stitching": Stitching(per_inch=6)},
    "stitched far in": {"stitching": Stitching(inset=INCH * 3 // 8)},
    "stitched fold": {"stitching": Stitching(edges=False, turn_back=True)},
    "lined": {"lining": "lining_2_3"},
    "covered": {"lining": Lining(leather="lining_2_3", purpose="cover")},
    "carried": {"lining": Lining(leather="lining_2_3", purpose="carry"), "stitching": Stitching(inset=4 * MM)},
}


def mixed_sewn():
    """Every strap with every seam, and a border in turn; thoroughly, with each."""
    every = product(STRAPS, SEWN, BORDERS)
    places = product(*(range(len(each)) for each in (STRAPS, SEWN, BORDERS)))
    return [each for each, at in zip(every, places, strict=True) if sum(at) % few_or(7, 1) == 0]


@pytest.mark.parametrize(("strap", "sewn", "border"), mixed_sewn())
def test_each_length_at_which_a_sewn_strap_becomes_makeable_is_the_solver_s(strap, sewn, border):
    spec = replace(STRAPS[strap], ornaments=Row(item="spot_10", count=3), border=BORDERS[border], **SEWN[sewn])
    assert is_understood(spec)
    assert_turns_as_the_solver_does(spec, (1, 8))


def test_a_lined_strap_is_no_longer_than_a_strip_of_its_lining_lies_over_the_backs():
    """A lining that rises over shanks is longer than its strap: there the solver is asked, beyond it nobody."""
    lining = Lining(leather="lining_2_3", purpose="cover")
    size, body = Size(body_length=30 * INCH), Body(width=3 * INCH)
    spec = Spec(construction="three_piece", size=size, body=body, lining=lining, ornaments=Row(item="bell_25", count=3))
    strip = SHOP.leathers["lining_2_3"].strip_length
    assert_agrees(spec, range(strip - 6 * MM, strip + 2 * MM, MM), (0, 3, 12))


def test_what_stands_in_the_seam_of_every_strap_is_refused_without_solving_it():
    spec = replace(STRAPS["ring"], ornaments=Row(item="bell_30", count=3), stitching=Stitching(inset=INCH // 4))
    spec = replace(spec, body=Body(width=INCH * 5 // 4))
    grid = RowGrid(spec, SHOP)
    assert {grid.verdict(length * INCH, count) for length in range(20, 40, 4) for count in (2, 3)} == {False}
    assert_agrees(spec, range(8 * INCH, 40 * INCH, 4 * INCH), (0, 1, 2, 3))


@pytest.mark.parametrize("step", [INCH, INCH * 3 // 8, INCH // 4])
@pytest.mark.parametrize("strap", ["one_piece", "ring"])
def test_a_single_ornament_stands_on_a_strap_too_short_for_its_border(strap, step):
    """Where no border spot has room, none is beside the ornament, so that nothing clashes with it."""
    spec = replace(STRAPS[strap], body=Body(width=INCH), border=Border(item="spot_10", inset=INCH // 4, step=step))
    spec = replace(spec, ornaments=Row(item="bell_25", count=1))
    assert_agrees(spec, range(4 * INCH, 14 * INCH, INCH // 2), (0, 1))


UNFIT = {
    "thin leather": {"leather": "lining_2_3"},
    "thick leather": {"leather": "bridle_10_11"},
    "a loose cap": {"joint": Joint(fastener="double_cap_large_long")},
    "a narrow strap": {"body": Body(width=INCH * 3 // 4)},
    "rows that meet": {"border": Border(item="spot_10", inset=INCH)},
    "a row off the edge": {"border": Border(item="spot_10", inset=INCH // 8)},
    "dense borders": {"border": Border(item="spot_6", step=INCH // 4)},
}


@pytest.mark.parametrize("wrong", UNFIT)
@pytest.mark.parametrize("border", BORDERS)
@pytest.mark.parametrize("strap", STRAPS)
def test_what_cannot_be_made_at_any_length_is_not(strap, border, wrong):
    spec = replace(STRAPS[strap], ornaments=Row(item="spot_10", count=3), border=BORDERS[border])
    assert_agrees(replace(spec, **UNFIT[wrong]), (9 * INCH, 20 * INCH, 40 * INCH), (0, 1, 4))


@pytest.mark.parametrize("strap", STRAPS)
def test_what_the_shop_does_not_take_on_cannot_be_made(strap):
    spec, limits = replace(STRAPS[strap], ornaments=Row(item="spot_10", count=3)), SHOP.limits
    lengths = (limits.length_min - 1, limits.length_max, limits.length_max + 1, 100 * INCH)
    assert_agrees(spec, lengths, (0, 3, limits.ornaments_max + 1))


@pytest.mark.parametrize(("name", "counts"), [("door_strap", range(1, 21)), ("staggered_garter", range(1, 31))])
def test_few_pairs_of_a_row_have_to_be_solved(name, counts):
    design = SHOP.designs[name]
    grid = RowGrid(spec_of(design, design.defaults(), SHOP), SHOP)
    verdicts = [grid.verdict(length, count) for length in design.length.offer for count in counts]
    assert verdicts.count(None) == 0
    assert 0 < verdicts.count(True) < len(verdicts)


@pytest.mark.parametrize("name", ["bell_garter", "herding_dog_collar", "goat_collar"])
def test_where_a_row_may_begin_is_tried_a_few_times_for_a_whole_grid(name, monkeypatch):
    """At either end: how much is lacking beside the hardware, where it turns, and a nanometre nearer."""
    design, tried, room = SHOP.designs[name], [], EndExcerpt.room

    def counted_room(end, *what):
        tried.append(what)
        return room(end, *what)

    monkeypatch.setattr(EndExcerpt, "room", counted_room)
    grid = RowGrid(spec_of(design, design.defaults(), SHOP), SHOP)
    verdicts = {grid.verdict(length, count) for length in design.length.offer for count in design.count.offer}
    assert True in verdicts
    assert len(tried) == 2 * 3


def test_a_field_that_the_grid_does_not_know_is_left_to_the_solver():
    row = Row(item="bell_30", count=5)
    spec = Spec(construction="open", size=Size(body_length=30 * INCH), ornaments=row, border=Border(item="spot_6"))
    assert is_understood(spec)
    assert not is_understood(replace(spec, border=(Border(item="spot_6"), Border(item="spot_10"))))
    assert is_understood(replace(spec, ornaments=replace(row, rows=Rows(count=2))))
    assert not is_understood(replace(spec, keepers_between=KeepersBetween(every=1)))


def test_a_threshold_asks_a_few_times_for_many_lengths():
    asked = []

    def at_least_700(length):
        asked.append(length)
        return length >= 700

    threshold = Threshold(at_least_700)
    lengths = [(n * 379) % 1000 for n in range(1000)]
    assert [threshold(length) for length in lengths] == [length >= 700 for length in lengths]
    assert len(asked) < 30
    assert threshold(700)
    assert not threshold(699)


@pytest.mark.parametrize(("guess", "most"), [(700, 2), (650, 30), (0, 30), (5000, 30)])
def test_a_guess_spares_questions_and_changes_no_answer(guess, most):
    asked = []

    def at_least_700(length):
        asked.append(length)
        return length >= 700

    threshold = Threshold(at_least_700, guess)
    lengths = [(n * 379) % 1000 for n in range(1000)]
    assert [threshold(length) for length in lengths] == [length >= 700 for length in lengths]
    assert len(asked) <= most
