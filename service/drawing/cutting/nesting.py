"""Pieces side by side on a leather: strips along it, each as wide as its pieces, the widest first."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Nested:
    """Upper left corners of the pieces, in their order, and the size of it all, in millimetres."""

    places: tuple[tuple[float, float], ...]
    width: float
    height: float


@dataclass(slots=True)
class _Strip:
    """A strip across which nothing else lies. `used` counts along it."""

    sheet: int
    y: float
    width: float
    used: float


def nest(sizes: Sequence[tuple[float, float]], leather: tuple[float, float], apart: float, edge: float) -> Nested:
    """Places for pieces of (length, width) on leathers of that length and usable width, `apart` from each other.

    A strip is as wide as its pieces and no longer than the longest of all, so that the drawing is compact. Where
    one leather is full another follows to its right. A piece longer or wider than the leather has a leather of
    its own. `edge` is left free around it all.
    """
    longest, widest = max(length for length, _ in sizes), leather[1]
    strips: list[_Strip] = []
    corners: dict[int, tuple[int, float, float]] = {}
    for index in sorted(range(len(sizes)), key=lambda index: (-sizes[index][1], -sizes[index][0], index)):
        length, width = sizes[index]
        strip = next((s for s in strips if s.width == width and s.used + apart + length <= longest), None)
        if strip is None:
            strip = _new_strip(strips, width, widest, apart)
            strips.append(strip)
        x = strip.used + apart if strip.used else 0.0
        corners[index] = (strip.sheet, x, strip.y)
        strip.used = x + length
    return _set_out([corners[index] for index in range(len(sizes))], sizes, leather[0], apart, edge)


def _new_strip(strips: Sequence[_Strip], width: float, widest: float, apart: float) -> _Strip:
    if not strips:
        return _Strip(0, 0.0, width, 0.0)
    last = strips[-1]
    below = last.y + last.width + apart
    if below + width <= widest:
        return _Strip(last.sheet, below, width, 0.0)
    return _Strip(last.sheet + 1, 0.0, width, 0.0)


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
