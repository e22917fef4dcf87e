"""Pieces side by side on a leather: strips along it, each as wide as its pieces, the widest first."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from service.drawing.shelves import shelved


@dataclass(frozen=True, slots=True)
class Nested:
    """Upper left corners of the pieces, in their order, and the size of it all, in millimetres."""

    places: tuple[tuple[float, float], ...]
    width: float
    height: float


def nest(sizes: Sequence[tuple[float, float]], leather: tuple[float, float], apart: float, edge: float) -> Nested:
    """Places for pieces of (length, width) on leathers of that length and usable width, `apart` from each other.

    A strip is as wide as its pieces and no longer than the longest of all, so that the drawing is compact. Where
    one leather is full another follows to its right. A piece longer or wider than the leather has a leather of
    its own. `edge` is left free around it all.
    """
    longest = max(length for length, _ in sizes)
    ordered = sorted(range(len(sizes)), key=lambda index: (-sizes[index][1], -sizes[index][0], index))
    strips: list[float] = []
    along: dict[int, tuple[int, float]] = {}
    for width, group in groupby(ordered, key=lambda index: sizes[index][1]):
        indices = list(group)
        spots = shelved([sizes[index][0] for index in indices], longest, apart)
        for index, spot in zip(indices, spots, strict=True):
            along[index] = len(strips) + spot.shelf, spot.at
        strips += [width] * (max(spot.shelf for spot in spots) + 1)
    across = shelved(strips, leather[1], apart, in_order=True)
    corners = [(across[strip].shelf, x, across[strip].at) for strip, x in (along[n] for n in range(len(sizes)))]
    return _set_out(corners, sizes, leather[0], apart, edge)


def _set_out(
    corners: Sequence[tuple[int, float, float]],
    sizes: Sequence[tuple[float, float]],
    longest: float,
    apart: float,
    edge: float,
) -> Nested:
    """Every leather to the right of the one before, and what all of it takes."""
    step = max(longest, *(length for length, _ in sizes)) + 10 * apart
    places = tuple((edge + sheet * step + x, edge + y) for sheet, x, y in corners)
    width = max(x + length for (x, _), (length, _) in zip(places, sizes, strict=True)) + edge
    height = max(y + across for (_, y), (_, across) in zip(places, sizes, strict=True)) + edge
    return Nested(places, width, height)
