"""Bends against handbooks' worked figures, and the keeper's loop."""

from decimal import Decimal
from math import isclose, pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.strap.plane.bend import (
    bend_allowance,
    flat_for_girth,
    flat_for_reach,
    fold,
    keeper_blank,
    loop_inner_run,
)
from service.strap.plane.lengths import INCH, MM, parse_length

HALF = Decimal("0.5")


def inches(value: float) -> int:
    return round(value * INCH)


@pytest.mark.parametrize(
    ("thickness", "radius", "degrees", "published"),
    [
        (0.050, 0.032, 90, 0.085),  # sheetmetalworkbook.com: BA 0.085
        (0.040, 0.16, 90, 0.279),  # FAA U-channel: R 0.16, T 0.040, BA 0.279
    ],
)
def test_bend_allowance_is_that_of_the_handbooks(thickness, radius, degrees, published):
    """The handbooks' K of about 0.447 (0.0078 / 0.01745) against BA = A·π/180·(R + K·T), Machinery's Handbook 26."""
    found = bend_allowance(radians(degrees), inches(radius), inches(thickness), Decimal("0.447"))
    assert found / INCH == pytest.approx(published, abs=0.0015)


@given(st.floats(1, 180), st.floats(0.01, 0.5), st.floats(0.01, 0.3))
def test_bend_allowance_is_that_of_the_navys_rule(degrees, radius, thickness):
    """US Navy aviation structural training: BA = (0.0173·R + 0.0078·T)·N for N degrees, to its four places."""
    ours = bend_allowance(radians(degrees), inches(radius), inches(thickness), Decimal("0.447"))
    navy = (0.0173 * radius + 0.0078 * thickness) * degrees
    assert ours / INCH == pytest.approx(navy, rel=0.012)


def test_developed_length_of_a_channel_with_three_bends():
    """sheetmetalworkbook.com: 0.740 + 0.420 + 1.050 + 1.000 - 3 x 0.079 = 2.973, from the allowance and the setback."""
    allowance = bend_allowance(pi / 2, inches(0.032), inches(0.050), Decimal("0.447")) / INCH
    deduction = 2 * (0.032 + 0.050) - allowance
    assert deduction == pytest.approx(0.079, abs=0.001)
    assert 0.740 + 0.420 + 1.050 + 1.000 - 3 * deduction == pytest.approx(2.973, abs=0.003)


@given(st.integers(40, 120), st.integers(2, 8), st.integers(1, 5))
def test_a_fold_uses_up_exactly_its_flat_length(flat_mm, bar_mm, thickness_mm):
    """Two straight plies and the half turn make the flat distance; Pythagoras puts the rivet (both by hand)."""
    bent = fold(flat_mm * MM, bar_mm * MM, thickness_mm * MM, HALF)
    arc = pi * (bar_mm / 2 + thickness_mm / 2)
    straight = (flat_mm - arc) / 2
    assert isclose(bent.bar_to_rivet / MM, sqrt(straight**2 - (bar_mm / 2) ** 2), abs_tol=1e-5)
    assert bent.outer_edge == bar_mm * MM // 2 + thickness_mm * MM


@given(st.integers(10, 60), st.integers(2, 8), st.integers(1, 5))
def test_the_flat_distance_for_a_reach_gives_that_reach(reach_mm, bar_mm, thickness_mm):
    bar, thickness = bar_mm * MM, thickness_mm * MM
    flat = flat_for_reach(reach_mm * MM, bar, thickness, HALF)
    assert fold(flat, bar, thickness, HALF).bar_to_rivet == pytest.approx(reach_mm * MM, abs=10)


def test_leather_too_short_to_go_round_has_no_reach():
    assert fold(5 * MM, 6 * MM, 4 * MM, HALF).bar_to_rivet == 0


@pytest.mark.parametrize("ounces", [(8, 9), (6, 7)])
def test_the_keepers_blank_lies_between_its_inner_run_and_the_rule_of_thumb(ounces, shop):
    """Common practice: 1 + 1 + 3/4 + 3/4 + 1/4 overlap = 3 3/4 in for a 1 in strap in 8-9 oz leather."""
    thickness = sum(ounces) * INCH // 64 // 2
    rules = shop.rules
    blank = keeper_blank(
        INCH, 3 * thickness, thickness // 2, rules.neutral_fraction, rules.keeper_lap, rules.keeper_ease
    )
    assert loop_inner_run(INCH, 3 * thickness) < blank < parse_length("3 3/4 in", "in")


def test_a_girth_grows_by_pi_times_the_thickness():
    """The strap's middle lies on a circle half a thickness outside the girth, all round (geometry)."""
    girth, thickness = 400 * MM, 4 * MM
    radius = girth / (2 * pi)
    middle = 2 * pi * (radius + thickness / 2)
    assert flat_for_girth(girth, 0, thickness) == pytest.approx(middle, abs=2)
