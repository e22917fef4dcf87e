"""The worn view: the closed strap painted from the back to the front, or the strap hung up, on its background."""

from collections.abc import Iterator

from service.drawing import words
from service.drawing.finished.framing import framed
from service.drawing.finished.made_up import MadeUp, made_up
from service.drawing.finished.placed import Placed, radius
from service.drawing.finished.tint import BLACK
from service.drawing.model import Circle, Colour, Drawing, Group, Item, Layer, RadialGradient, Stop
from service.drawing.worn.closed import Closed, closed
from service.drawing.worn.fittings import band, buckle_over, buckle_under, ring_over, ring_under
from service.drawing.worn.hanging import hanging
from service.drawing.worn.loop import FORESHORTENED, ground
from service.drawing.worn.things import thing
from service.drawing.worn.walls import Part, inside, outside, part_of, shadow
from service.drawing.worn.wording import closed_description, closed_title
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.easing import eased
from service.strap.plane.lengths import MM
from service.words import say

_MARGIN_SHARE = 0.07
_MARGIN = 6.0
_SOFT, _INSIDE = 7, 0.2
"""Steps of a soft shadow to either side of where it is darkest, and how dark its middle is of that."""


def worn_view(
    pattern: Pattern,
    shop: Shop,
    *,
    hole: int | None,
    units: Units,
    aspect: float | None = None,
    background: Colour | None,
) -> Drawing:
    """The strap as it is worn, closed at a hole (the nominal one where none is said), or hung up. To scale.

    `aspect` (width over height) and `background` as of the finished view. Raises `HoleNotWorn`.
    """
    strap = made_up(pattern, shop)
    shut = closed(pattern, strap, hole)
    if shut is None:
        return hanging(pattern, strap, shop, units=units, aspect=aspect, background=background)
    layers, box = _layers(shut, shop), _box(shut)
    left, top, right, bottom = box
    margin = max(_MARGIN, _MARGIN_SHARE * (right - left))
    width, height = right - left + 2 * margin, bottom - top + 2 * margin
    width, height = framed(width, height, aspect)
    x, y = (width - left - right) / 2, (height - top - bottom) / 2
    return Drawing(
        width,
        height,
        closed_title(pattern, shop, shut.hole),
        closed_description(pattern, strap, shop, shut.hole, units),
        words.LANGUAGE,
        tuple(Layer(each.id, each.title, (Group(each.items, x, y),)) for each in layers),
        background,
    )


def _layers(shut: Closed, shop: Shop) -> tuple[Layer, ...]:
    return (
        Layer("shadow", say("Shadow on the ground"), tuple(_ground(shut))),
        Layer("behind", say("What lies behind"), tuple(_behind(shut, shop))),
        Layer("strap", say("Leather and ornaments in front"), tuple(_front(shut, shop))),
        Layer("closure", say("What closes it"), tuple(_closure(shut))),
    )


def _things(strap: MadeUp) -> tuple[Placed, ...]:
    return (*strap.rivets, *strap.snaps, *strap.ornaments)


def _box(shut: Closed) -> tuple[float, float, float, float]:
    """The room that it takes: left, top, right and bottom, from the middle of the loop."""
    loop, half = shut.loop, shut.half
    wide, deep = loop.half_width + 4, loop.half_depth * FORESHORTENED[1] + 2
    boxes = [(-wide, -deep - half, wide, deep + half)]
    for placed in _things(shut.strap):
        sheet = next(each for each in shut.sheets if each.ply is placed.ply)
        size = radius(placed)
        x, y = loop.seen(placed.x, placed.y, sheet.outer(placed.x) + size)
        boxes.append((x - size, y - size, x + size, y + size))
    for held in shut.strap.buckles:
        x, y = loop.seen(held.x, 0, 0)
        reach, high = held.buckle.bar_to_frame / MM, held.buckle.frame_width / MM / 2
        boxes.append((x - reach, y - high, x + reach, y + high))
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _down(shut: Closed) -> float:
    """How far below the middle of the leather it stands on the ground."""
    return max([shut.half, *(placed.y + radius(placed) for placed in _things(shut.strap))])


def _ground(shut: Closed) -> Iterator[Item]:
    """A soft round shadow, darkest where the leather stands, and a wider one away from the light."""
    wide, y = shut.loop.half_width, ground(_down(shut))
    flat = (1.0, 0.0, 0.0, FORESHORTENED[1] * 0.86)
    for x, size, near, dark in ((0.10 * wide, 1.42, 0.55, 0.14), (0.015 * wide, 1.13, 0.86, 0.4)):
        reach = size * wide
        fill = RadialGradient(0, 0, reach, 0, 0, tuple(_soft(near, dark)))
        yield Group((Circle(0, 0, reach, fill=fill),), x, y, matrix=flat)


def _soft(near: float, dark: float) -> Iterator[Stop]:
    """Darkest `near` the rim, lighter inside it, nothing at the end, without a crease anywhere."""
    for n in range(_SOFT + 1):
        share = n / _SOFT
        yield Stop(round(near * share, 3), BLACK, round(dark * (_INSIDE + (1 - _INSIDE) * eased(share)), 3))
    for n in range(1, _SOFT + 1):
        share = n / _SOFT
        yield Stop(round(near + (1 - near) * share, 3), BLACK, round(dark * (1 - eased(share)), 3))


def _placed_in(part: Part, strap: MadeUp) -> list[Placed]:
    """What is set on a part, the farthest first."""
    sheet = part.sheet
    found = [each for each in _things(strap) if each.ply is sheet.ply and part.low <= each.x < part.high]
    return sorted(found, key=lambda each: (sheet.loop.nearness(each.x), each.x))


def _behind(shut: Closed, shop: Shop) -> Iterator[Item]:
    """What stands out behind the back, then the back's inside, the outermost ply first."""
    for turn in (1, -1, 0):
        span = shut.loop.spans(turn, is_front=False)
        parts = [part for sheet in shut.sheets if (part := part_of(sheet, span))]
        for part in parts:
            for placed in _placed_in(part, shut.strap):
                yield from thing(part.sheet, placed, shop, is_front=False)
        for part in reversed(parts):
            yield from inside(part, shut.lining, shut.inner_leather)


def _front(shut: Closed, shop: Shop) -> Iterator[Item]:
    """The front, each ply with what is set on it before the one that lies on it."""
    yield from ring_under(shut)
    for held in shut.strap.buckles:
        yield from buckle_under(shut, held)
    for turn in shut.turns:
        span = shut.loop.spans(turn, is_front=True)
        for sheet in shut.sheets:
            part = part_of(sheet, span)
            if part is None:
                continue
            if sheet is not shut.sheets[0] or turn != shut.turns[0]:
                yield from shadow(part)
            yield from outside(part, shut.strap.holes, shut.lining if sheet is shut.sheets[0] else 0.0)
            for placed in _placed_in(part, shut.strap):
                yield from thing(sheet, placed, shop, is_front=True)


def _closure(shut: Closed) -> Iterator[Item]:
    """Frames and keepers lie over everything."""
    yield from ring_over(shut)
    for held in shut.strap.buckles:
        yield from buckle_over(shut, held)
    for each in (*shut.strap.bands, *shut.strap.keepers):
        if shut.loop.turn(each.x).out[2] > 0.1:
            yield from band(shut, each)
