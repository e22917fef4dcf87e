"""What a strap is closed by: the buckle with its prong, keepers, and rings on the loop."""

from collections.abc import Iterator
from math import hypot

from service.drawing.finished import buckle as buckles
from service.drawing.finished.keeper import keeper
from service.drawing.finished.placed import PlacedBuckle, PlacedKeeper, PlacedRing
from service.drawing.finished.ring import ring_items, ring_on_strap
from service.drawing.finished.shade import line_shadow
from service.drawing.model import Group, Item
from service.drawing.worn.closed import Closed
from service.strap.plane.lengths import MM


def buckle_under(closed: Closed, held: PlacedBuckle) -> Iterator[Item]:
    """The bar, before the strap goes over it."""
    yield Group(buckles.bar(held.buckle), *_bar(closed, held), matrix=_plane(closed, held))


def buckle_over(closed: Closed, held: PlacedBuckle) -> Iterator[Item]:
    """The frame round the strap, and the prong that goes through its hole and rests on the far rail."""
    buckle, side = held.buckle, held.side
    items = (
        *line_shadow(buckles.frame_way(buckle, side), buckle.frame_thickness / MM, 1.1, 0.42),
        *buckles.frame(buckle, side),
        *(Group(buckles.tongue(buckle, side), 0.0, y / MM) for y in buckle.prong_places),
    )
    yield Group(items, *_bar(closed, held), matrix=_plane(closed, held))


def _bar(closed: Closed, held: PlacedBuckle) -> tuple[float, float]:
    return closed.loop.seen(held.x, 0.0, closed.top_at(held.x))


def _plane(closed: Closed, held: PlacedBuckle) -> tuple[float, float, float, float]:
    """A frame is flat: it lies along the chord from its bar to where its far rail rests on the strap."""
    reach = held.buckle.bar_to_frame / MM
    far = held.x + held.side * reach
    away = closed.loop.seen(far, 0.0, closed.top_at(held.x) + held.buckle.frame_thickness / MM / 2)
    bar, turn = _bar(closed, held), closed.loop.turn(held.x)
    x, y = (held.side * (b - a) / reach for a, b in zip(bar, away, strict=True))
    size = max(1.0, hypot(x, y))
    return x / size, y / size, turn.down[0], turn.down[1]


def band(closed: Closed, placed: PlacedKeeper) -> Iterator[Item]:
    """A keeper round the strap."""
    leather = closed.strap.leather
    items = keeper(leather, placed.width, placed.half, placed.strap_half)
    out = closed.top_at(placed.x) + 0.8
    place = closed.loop.seen(placed.x, 0.0, out)
    yield Group(items, *place, name="keeper", matrix=closed.loop.turn(placed.x).matrix)


def ring_under(closed: Closed) -> Iterator[Item]:
    """The half of the collar ring that the strap hides in part."""
    placed = closed.strap.lead_ring
    if placed:
        yield _on_loop(closed, placed, ring_items(placed.ring, placed.side))


def ring_over(closed: Closed) -> Iterator[Item]:
    """The half of it that lies on the strap."""
    placed = closed.strap.lead_ring
    if placed:
        yield _on_loop(closed, placed, ring_on_strap(placed.ring, placed.side))


def _on_loop(closed: Closed, placed: PlacedRing, items: tuple[Item, ...]) -> Group:
    place = closed.loop.seen(placed.x, 0.0, closed.top_at(placed.x))
    return Group(items, *place, matrix=closed.loop.turn(placed.x).matrix)
