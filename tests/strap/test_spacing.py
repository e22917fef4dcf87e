"""Spacing against published worked examples."""

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.strap.plane.clear_gaps import gap_places
from service.strap.plane.lengths import INCH, MM, parse_length
from service.strap.plane.spacing import (
    Span,
    largest_count,
    least_span,
    register_parts,
    ruler_for,
    space,
)

TENTH = Decimal("0.10")
IN, MM_RULER = ruler_for("in", INCH // 16, TENTH), ruler_for("mm", MM, TENTH)
RULERS = {"in": IN, "mm": MM_RULER}


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


def free_span(length: int, pitch_min: int = 1, end_min: int = 0) -> Span:
    return Span(start=0, end=length, pitch_min=pitch_min, end_min=end_min)


@pytest.mark.parametrize(
    ("length", "places"),
    [
        ("48", ["8", "16", "24", "32", "40"]),  # Woodworker's Journal: five points on 48 in
        ("36", ["6", "12", "18", "24", "30"]),  # Woodworker's Journal: five points on 36 in
    ],
)
@pytest.mark.parametrize("rule", ["even", "ruler"])
def test_equal_points(length, places, rule):
    row = space(free_span(inches(length)), len(places), rule, IN)
    assert list(row.places) == [inches(place) for place in places]


@pytest.mark.parametrize(
    ("length", "width", "count", "gap"),
    [
        ("156", "1 1/2", 28, 3.93103),  # a railing manual: 3 15/16 in
        ("72", "1 1/2", 13, 3.75),  # eHow: 52.5 over 14 spaces
        ("52", "1 1/2", 10, 3.3636),  # an ironwork text: 37 over 11 spaces
        ("68", "3", 13, 2.0714),  # hunker.com: 29 over 14 spaces
    ],
)
def test_equal_clear_gaps_between_things_of_one_width(length, width, count, gap):
    """gap = (L - n·w) / (n + 1), the carpenters' formula, is what stands between things in one clear gap."""
    clear, size = inches(length), inches(width)
    places = gap_places(0, clear, (size,) * count)
    edges = [0, *(x + side for x in places for side in (-size // 2, size // 2)), clear]
    gaps = [(right - left) / INCH for left, right in zip(edges[::2], edges[1::2], strict=True)]
    assert gaps == pytest.approx([gap] * (count + 1), abs=6e-5)


def test_twelve_hooks_with_half_spaces_at_the_ends():
    """92 in, 12 hooks, half a space at each end: 7 2/3 in (gm-567.com). A given pitch is centred."""
    pitch = inches("7 2/3")
    row = space(free_span(inches("92")), 12, pitch, IN)
    assert row.places[0] == pytest.approx(pitch / 2, abs=10)
    assert row.pitch == pitch


def test_least_count_for_a_greatest_gap():
    """ceil((R - g) / (w + g)); 120 / 1 1/2 / g 4 → 22 (roughlogic.com): one fewer would leave wider gaps than 4 in."""
    run, width, gap = inches("120"), inches("1 1/2"), inches("4")
    span = free_span(run, pitch_min=width + gap, end_min=gap + width // 2)
    too_wide_apart = [count for count in range(1, 40) if (run - count * width) / (count + 1) > gap]
    assert max(too_wide_apart) + 1 == 22
    assert largest_count(span, width + gap) in (21, 22)


def test_forty_one_bells_at_an_inch_and_a_quarter_span_fifty_inches():
    """A harness-bell history (classicbells.com): 41 bells of 1 in at 1 1/4 in span 50 in."""
    pitch = inches("1 1/4")
    row = space(free_span(inches("66")), 41, pitch, IN)
    assert row.places[-1] - row.places[0] == inches("50")


def test_six_bells_on_twenty_and_a_half_inches():
    """Common practice: 20 1/2 in is an awkward seventh, so the pitch is 3 in and both end gaps 2 3/4."""
    span = Span(start=inches("1 3/4"), end=inches("22 1/4"), pitch_min=inches("1 1/4"), end_min=inches("1 3/8"))
    row = space(span, 6, "ruler", IN)
    assert [Fraction(x, INCH) for x in row.places] == [Fraction(2 * n + 9, 2) + n for n in range(6)] or list(
        row.places
    ) == [inches(x) for x in ("4 1/2", "7 1/2", "10 1/2", "13 1/2", "16 1/2", "19 1/2")]
    assert row.places[0] - span.start == inches("2 3/4")


@given(st.integers(1, 2000), st.integers(0, 60), st.sampled_from(["in", "mm"]))
def test_a_ruler_row_stands_on_graduations_and_its_ends_are_near_the_pitch(length_mm, count, units):
    span = free_span(length_mm * MM)
    row = space(span, count, "ruler", RULERS[units])
    xs = row.places
    assert len(xs) == count
    if count > 1:
        end = row.places[0] - span.start
        finest, even = RULERS[units].finest, Fraction(span.length, count + 1)
        on_ruler = all(x % finest == 0 for x in xs)
        of_one_pitch = all(b - a == row.pitch for a, b in pairwise(xs))
        at_the_ends = abs(end - row.pitch) <= 2 * row.pitch * TENTH + finest
        near = abs(row.pitch - even) <= 2 * finest
        nearest = all(abs(x - even * n) <= finest for n, x in enumerate(xs, 1))
        assert even < finest or (on_ruler and ((of_one_pitch and (at_the_ends or near)) or nearest))


@given(st.integers(1, 3000), st.integers(1, 60))
def test_even_gaps_add_up_to_the_span(length_mm, count):
    span = free_span(length_mm * MM)
    xs = (0, *space(span, count, "even", MM_RULER).places, span.end)
    gaps = [b - a for a, b in pairwise(xs)]
    assert sum(gaps) == span.length
    assert max(gaps) - min(gaps) <= 2


@given(st.integers(1, 2000), st.integers(5, 60), st.integers(5, 60))
def test_the_largest_count_keeps_the_clearances_and_one_more_would_not(length_mm, pitch_mm, end_mm):
    span = free_span(length_mm * MM, pitch_min=pitch_mm * MM, end_min=end_mm * MM)

    def keeps(count: int) -> bool:
        row = space(span, count, "even", MM_RULER)
        roomy = count < 2 or row.pitch >= span.pitch_min
        return roomy and row.places[0] >= span.end_min and span.end - row.places[-1] >= span.end_min

    count = largest_count(span, "even")
    assert count == 0 or keeps(count)
    assert not keeps(count + 1)


@given(st.integers(1, 40), st.integers(5, 60), st.integers(5, 60), st.sampled_from(["even", 70 * MM]))
def test_the_least_span_holds_the_count_and_a_hair_less_does_not(count, pitch_mm, end_mm, rule):
    span = free_span(10**9, pitch_min=pitch_mm * MM, end_min=end_mm * MM)
    least = least_span(span, count, rule)
    enough = free_span(least, span.pitch_min, span.end_min)
    short = free_span(least - 2 * count - 2, span.pitch_min, span.end_min)
    assert largest_count(enough, rule) >= count
    assert largest_count(short, rule) < count


@pytest.mark.parametrize(
    ("pitch", "step", "parts"), [("3", "1", 3), ("3", "1 1/4", 2), ("2", "3", 1), ("2 1/2", "1", 3)]
)
def test_the_border_step_is_the_whole_part_of_the_pitch_nearest_the_wanted_one(pitch, step, parts):
    """Common practice: one spot level with each ornament and a whole number of steps between."""
    found = register_parts(inches(pitch), inches(step))
    assert found == parts
    best = min(range(1, 20), key=lambda k: abs(Fraction(inches(pitch), k) - inches(step)))
    assert abs(Fraction(inches(pitch), found) - inches(step)) == abs(Fraction(inches(pitch), best) - inches(step))


@pytest.mark.parametrize("rule", ["ruler", "even"])
def test_a_pitch_may_be_just_the_least_that_is_allowed(rule):
    """Five points on 36 in stand 6 in apart (Woodworker's Journal): so they may where 6 in is the least."""
    six = inches("6")
    assert space(free_span(6 * six, six, six), 5, rule, IN).pitch == six
    assert largest_count(free_span(6 * six, six, six), rule) == 5
    assert largest_count(free_span(6 * six, six + 1, six), rule) == 4


def test_a_pitch_below_the_least_leaves_room_for_one_where_its_ends_have_room():
    assert largest_count(free_span(inches("6"), inches("2"), inches("3")), inches("1")) == 1
    assert largest_count(free_span(inches("6") - 1, inches("2"), inches("3")), inches("1")) == 0
