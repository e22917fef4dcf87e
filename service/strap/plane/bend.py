"""Leather bent round a bar, and the loop of a keeper.

Bend allowance: arc = angle · (r + K · t), with inside radius r, thickness t and neutral fraction K
(Machinery's Handbook 26). All lengths in nanometres.
"""

from dataclasses import dataclass
from decimal import Decimal
from math import isqrt, pi

from service.shop.goods import Nm


def bend_allowance(angle: float, radius: Nm, thickness: Nm, neutral_fraction: Decimal) -> Nm:
    """Length along the neutral line of a bend through `angle` radians with inside `radius`."""
    return round(angle * (radius + float(neutral_fraction) * thickness))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A strap folded half round a bar and riveted, `flat` apart between its mated holes when flat.

    `bar_to_rivet` runs from the bar's axis to the rivet once folded, `outer_edge` from the bar's axis to
    the outside of the fold. `bar_to_rivet` is 0 where the flat distance is too short to go round.
    """

    flat: Nm
    bar_to_rivet: Nm
    outer_edge: Nm


def fold(flat: Nm, bar: Nm, thickness: Nm, neutral_fraction: Decimal) -> Fold:
    """Fold leather of `thickness` round a `bar` thick.

    The straight part of each ply is l = (flat - arc) / 2, the rivet lies u = sqrt(l² - (bar / 2)²) from the
    bar's axis, and the outer edge bar / 2 + t beyond it.
    """
    straight = (flat - bend_allowance(pi, bar // 2, thickness, neutral_fraction)) // 2
    square = straight * straight - (bar // 2) ** 2
    reach = isqrt(square) if straight > 0 and square > 0 else 0
    return Fold(flat=flat, bar_to_rivet=reach, outer_edge=bar // 2 + thickness)


def flat_for_reach(reach: Nm, bar: Nm, thickness: Nm, neutral_fraction: Decimal) -> Nm:
    """The flat distance between mated holes whose rivet then lies `reach` from the bar's axis."""
    straight = isqrt(reach * reach + (bar // 2) ** 2)
    return 2 * straight + bend_allowance(pi, bar // 2, thickness, neutral_fraction)


def loop_inner_run(width: Nm, stack: Nm) -> Nm:
    """Once round the inside of a loop that holds a strap of `width` and a stack of plies."""
    return 2 * (width + stack)


def keeper_blank(width: Nm, stack: Nm, thickness: Nm, neutral_fraction: Decimal, lap: Nm, ease: Nm) -> Nm:
    """Blank of a closed loop: the inner run, four corners bent square without an inside radius, lap and ease."""
    corners = 4 * bend_allowance(pi / 2, 0, thickness, neutral_fraction)
    return loop_inner_run(width, stack) + corners + lap + ease


def girth_for_flat(flat: Nm, ease: Nm, thickness: Nm) -> Nm:
    """The girth that a strap fits once it is closed at this flat length from the bar: never less than nothing."""
    return max(flat - round(pi * thickness) - ease, 0)


def flat_for_girth(girth: Nm, ease: Nm, thickness: Nm) -> Nm:
    """A girth is an inside length: the strap's middle lies half a thickness outside it all round, π·t in all."""
    return girth + ease + round(pi * thickness)
