"""What is set on the strap, turned as the loop turns: bells stand out from it, flat things lie on it."""

from collections.abc import Iterator

from service.drawing.finished.ball import ball
from service.drawing.finished.concho import concho_face
from service.drawing.finished.picture import picture_face
from service.drawing.finished.placed import Placed, radius
from service.drawing.finished.shade import round_shadow
from service.drawing.finished.snap import stud_head
from service.drawing.finished.spot import cap_face, spot_face
from service.drawing.finished.tint import BLACK, metal, mix
from service.drawing.finished.turned import Turn
from service.drawing.model import Circle, Colour, Group, Item
from service.drawing.worn.sheet import Sheet
from service.shop.ornaments import Ornament
from service.shop.shop import Shop
from service.strap.plane.lengths import MM

_CAP = 0.22
"""A rivet's cap is so high for each millimetre of its width."""
_FLANK = 0.12
"""Whatever faces the viewer less than so much throws no shadow that is seen."""


def thing(sheet: Sheet, placed: Placed, shop: Shop, *, is_front: bool) -> Iterator[Item]:
    """Whatever is set at a place, the shadow that it throws on the leather first."""
    item = placed.feature.item or ""
    turn, at = sheet.loop.turn(placed.x), (placed.x, placed.y, sheet.outer(placed.x))
    foot = sheet.loop.seen(*at)
    if item in shop.ornaments:
        ornament = shop.ornaments[item]
        size, high = ornament.diameter / MM, ornament.height / MM
        if ornament.family == "bell" and not ornament.picture:
            middle = sheet.loop.seen(at[0], at[1], at[2] + max(high - size / 2, 0.4 * size))
            if is_front:
                yield from _shadow(turn, foot, size / 2, 0.36 * size, 0.75)
            yield Group(ball(size, metal(ornament.colour), turn), *middle, id=placed.feature.id)
            return
        face, colour = _face(ornament, shop), metal(ornament.colour).dark
    else:
        face, colour, size = _fastener(item, placed, shop)
        high = _CAP * size
    if is_front:
        yield from _shadow(turn, foot, radius(placed) or size / 2, 0.5 * high, 0.6)
    yield Group(_raised(face, colour, size / 2, high, turn), *foot, id=placed.feature.id)


def _face(ornament: Ornament, shop: Shop) -> tuple[Item, ...]:
    """What is seen of a flat ornament from the front."""
    size, tones = ornament.diameter / MM, metal(ornament.colour)
    if ornament.picture:
        return picture_face(shop.artwork[ornament.picture], size)
    return spot_face(size, tones) if ornament.family == "spot" else concho_face(size, tones)


def _fastener(item: str, placed: Placed, shop: Shop) -> tuple[tuple[Item, ...], Colour, float]:
    """A rivet's cap, or half of a snap."""
    if item in shop.snaps:
        snap = shop.snaps[item]
        tones, is_cap = metal(snap.colour), placed.feature.purpose == "snap_cap"
        size = (snap.cap_diameter if is_cap else snap.stud_diameter) / MM
        return (*cap_face(size, tones), *(() if is_cap else stud_head(snap))), tones.dark, size
    fastener = shop.fasteners[item]
    size, tones = fastener.cap_diameter / MM, metal(fastener.colour)
    return cap_face(size, tones), tones.dark, size


def _shadow(turn: Turn, foot: tuple[float, float], size: float, high: float, opacity: float) -> Iterator[Item]:
    facing = turn.out[2]
    if facing > _FLANK:
        yield Group((round_shadow(size, high, opacity * min(1.0, 1.6 * facing)),), *foot, matrix=turn.matrix)


def _raised(face: tuple[Item, ...], dark: Colour, size: float, high: float, turn: Turn) -> tuple[Item, ...]:
    """A face as high as it stands where it is seen from the side: its edge, its shoulders, and the face on top."""
    facing = turn.out[2]
    lift = 0.45 * high * max(0.0, 1 - facing)
    if lift < 0.08:
        return (Group(face, matrix=turn.matrix),)
    steps = 3
    found: list[Item] = []
    for n in range(steps):
        x, y = turn.at(0, 0, lift * n / steps)
        found.append(Group((Circle(0, 0, size, fill=mix(dark, BLACK, 0.3 - 0.1 * n)),), x, y, matrix=turn.matrix))
    x, y = turn.at(0, 0, lift)
    return (*found, *((Group(face, x, y, matrix=turn.matrix),) if facing > 0 else ()))
