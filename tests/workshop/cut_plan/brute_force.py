"""The optimum of tiny batches by trying everything: independent of the planner, and hopeless beyond a handful of pieces."""

from collections.abc import Sequence
from dataclasses import dataclass, field

Rect = tuple[int, int]
"""Length and width."""


@dataclass
class Hide:
    """A hide that is being cut: what is left of its width, and of the length of each strip."""

    size: int
    rest: int
    strips: list[list[int]] = field(default_factory=list)


def least_area(pieces: Sequence[Rect], stock: Sequence[tuple[int, int, int]], kerf: int = 0) -> int | None:
    """The least area of hides, out of (length, width, count), that a two-stage guillotine needs; `None`: too few.

    Strips of exactly the pieces' width the long way first, then pieces out of strips.
    """
    order = sorted(pieces, key=lambda piece: (-piece[1], -piece[0]))
    best: list[int | None] = [None]
    _place(order, 0, [], [count for *_, count in stock], stock, kerf, best)
    return best[0]


def _place(order, at, hides, counts, stock, kerf, best):
    area = sum(stock[hide.size][0] * stock[hide.size][1] for hide in hides)
    if best[0] is not None and area >= best[0]:
        return
    if at == len(order):
        best[0] = area
        return
    length, width = order[at]
    for hide in hides:
        for strip in hide.strips:
            if strip[0] == width and strip[1] >= length:
                strip[1] -= length + kerf
                _place(order, at + 1, hides, counts, stock, kerf, best)
                strip[1] += length + kerf
        _new_strip(order, at, hide, hides, counts, stock, kerf, best)
    for size, count in enumerate(counts):
        if count:
            counts[size] -= 1
            hides.append(Hide(size, stock[size][1]))
            _new_strip(order, at, hides[-1], hides, counts, stock, kerf, best)
            hides.pop()
            counts[size] += 1


def _new_strip(order, at, hide, hides, counts, stock, kerf, best):
    length, width = order[at]
    long_enough = stock[hide.size][0] >= length
    if long_enough and hide.rest >= width:
        hide.rest -= width + kerf
        hide.strips.append([width, stock[hide.size][0] - length - kerf])
        _place(order, at + 1, hides, counts, stock, kerf, best)
        hide.strips.pop()
        hide.rest += width + kerf
