"""A part of the sheet drawn from its upper left corner (0, 0), and how to put parts in rows."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from service.drawing.model import Group, Item
from service.drawing.shelves import Spot, shelved


@dataclass(frozen=True, slots=True)
class Panel:
    """Items in a frame of their own, with what they take up in millimetres."""

    items: tuple[Item, ...]
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle from its upper left corner to its lower right one, in millimetres."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom."""
        return self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Placed:
    """Where the upper left corner of a thing comes to lie."""

    x: float
    y: float


def shelves(
    sizes: Sequence[tuple[float, float]], width: float, gap: float, line_gap: float
) -> tuple[tuple[Placed, ...], float]:
    """Places for things of (width, height), each on the first shelf with room for it, and the height of all.

    A thing wider than `width` gets a shelf of its own.
    """
    spots = shelved([wide for wide, _ in sizes], width, gap)
    tops, height = _tops(spots, [high for _, high in sizes], line_gap)
    return tuple(Placed(spot.at, tops[spot.shelf]) for spot in spots), height


def flow(panels: Sequence[Panel], width: float, gap: float, line_gap: float) -> Panel:
    """The panels set side by side, in as many rows as `width` asks for, in their order."""
    spots = shelved([panel.width for panel in panels], width, gap, in_order=True)
    tops, height = _tops(spots, [panel.height for panel in panels], line_gap)
    items = tuple(Group(each.items, spot.at, tops[spot.shelf]) for each, spot in zip(panels, spots, strict=True))
    reach = max((spot.at + panel.width for panel, spot in zip(panels, spots, strict=True)), default=0.0)
    return Panel(items, reach, height)


def _tops(spots: Sequence[Spot], heights: Sequence[float], line_gap: float) -> tuple[list[float], float]:
    """The top of each shelf, as high as the tallest thing on it, and the height of all."""
    tallest: dict[int, float] = {}
    for spot, high in zip(spots, heights, strict=True):
        tallest[spot.shelf] = max(tallest.get(spot.shelf, 0.0), high)
    tops = list(accumulate(tallest.values(), lambda top, high: top + high + line_gap, initial=0.0))
    return tops, tops[-1] - line_gap if tallest else 0.0
