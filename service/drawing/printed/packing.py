"""Rectangles on as few pages as a simple rule finds: the tallest first, each where it fits most closely.

No shelves (`service.drawing.shelves`): what is left over beside a short rectangle and below it takes others again.
"""

from collections.abc import Sequence
from dataclasses import dataclass

Size = tuple[float, float]
"""Width and height."""
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the upper left corner of a rectangle comes to lie; pages count from 0."""

    page: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Free:
    """A free rectangle of a page."""

    page: int
    x: float
    y: float
    width: float
    height: float


def pack(
    sizes: Sequence[Size], width: float, height: float, gap: float, ranks: Sequence[float] | None = None
) -> tuple[Spot, ...]:
    """A spot for each rectangle on pages `width` × `height`, `gap` apart.

    Those of the greatest rank come first, their heights where no ranks are given; equals keep their order. Each
    is set into a free rectangle, which leaves one to its right and one below (guillotine cuts). Pages are
    numbered by the first rectangle on them. Raises `ValueError` for a rectangle larger than a page.
    """
    for wide, high in sizes:
        if wide > width + _SLACK or high > height + _SLACK:
            raise ValueError(f"{wide:.1f} × {high:.1f} mm does not fit {width:.1f} × {height:.1f} mm")
    ranked = ranks if ranks is not None else [high for _, high in sizes]
    spots: dict[int, Spot] = {}
    free: list[_Free] = []
    pages = 0
    for index in sorted(range(len(sizes)), key=lambda index: (-ranked[index], index)):
        place = _closest(free, sizes[index])
        if place is None:
            place = _Free(pages, 0.0, 0.0, width, height)
            pages += 1
        else:
            free.remove(place)
        free += _rest(place, sizes[index], gap)
        spots[index] = Spot(place.page, place.x, place.y)
    found = [spots[index] for index in range(len(sizes))]
    numbers = {page: number for number, page in enumerate(dict.fromkeys(spot.page for spot in found))}
    return tuple(Spot(numbers[spot.page], spot.x, spot.y) for spot in found)


def _closest(free: Sequence[_Free], size: Size) -> _Free | None:
    """Of the earliest page with room, the free rectangle that the size leaves least of."""
    wide, high = size
    fitting = [each for each in free if wide <= each.width + _SLACK and high <= each.height + _SLACK]
    return min(
        fitting, key=lambda each: (each.page, each.height - high, each.width - wide, each.y, each.x), default=None
    )


def _rest(place: _Free, size: Size, gap: float) -> list[_Free]:
    wide, high = size
    right = _Free(place.page, place.x + wide + gap, place.y, place.width - wide - gap, high)
    below = _Free(place.page, place.x, place.y + high + gap, place.width, place.height - high - gap)
    return [each for each in (right, below) if each.width > 0 and each.height > 0]
