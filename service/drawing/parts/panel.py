"""A part of the sheet drawn from its upper left corner (0, 0), and how to put parts in rows."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing.model import Group, Item


@dataclass(frozen=True, slots=True)
class Panel:
    """Items in a frame of their own, with what they take up in millimetres."""

    items: tuple[Item, ...]
    width: float
    height: float


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
    used: list[float] = []
    heights: list[float] = []
    chosen: list[tuple[int, float]] = []
    for wide, high in sizes:
        shelf = next((i for i, end in enumerate(used) if end + gap + wide <= width), len(used))
        if shelf == len(used):
            used.append(-gap)
            heights.append(0.0)
        chosen.append((shelf, used[shelf] + gap))
        used[shelf] += gap + wide
        heights[shelf] = max(heights[shelf], high)
    tops = [sum(heights[:i]) + i * line_gap for i in range(len(heights) + 1)]
    places = tuple(Placed(x, tops[shelf]) for shelf, x in chosen)
    return places, (tops[-1] - line_gap if heights else 0.0)


def flow(panels: Sequence[Panel], width: float, gap: float, line_gap: float) -> Panel:
    """The panels set side by side, in as many rows as `width` asks for, in their order."""
    items: list[Item] = []
    x = y = reach = row_height = 0.0
    for panel in panels:
        if x and x + panel.width > width:
            x, y, row_height = 0.0, y + row_height + line_gap, 0.0
        items.append(Group(panel.items, x, y))
        reach, row_height = max(reach, x + panel.width), max(row_height, panel.height)
        x += panel.width + gap
    return Panel(tuple(items), reach, y + row_height)
