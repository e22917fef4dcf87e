"""The finished view: the made-up strap painted from the back to the front, framed on its background."""

from collections.abc import Iterator

from service.drawing import words
from service.drawing.finished import buckle as buckles
from service.drawing.finished.bell import bell
from service.drawing.finished.concho import concho
from service.drawing.finished.edging import edging
from service.drawing.finished.framing import framed
from service.drawing.finished.holes import hole, opening, slot
from service.drawing.finished.keeper import keeper, keeper_shadow
from service.drawing.finished.leather import leather, ply_shadow, thickness_of
from service.drawing.finished.made_up import MadeUp, bounds, made_up
from service.drawing.finished.picture import picture
from service.drawing.finished.placed import PlacedBuckle
from service.drawing.finished.ply import Ply
from service.drawing.finished.ring import ring_items, ring_on_strap, ring_shadow
from service.drawing.finished.shapes import backwards, moved
from service.drawing.finished.snap import snap_half
from service.drawing.finished.spot import cap, spot
from service.drawing.finished.tint import metal
from service.drawing.finished.wording import description, title
from service.drawing.model import Colour, Drawing, Group, Item, Layer, Stamp
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern, Purpose
from service.strap.plane.lengths import MM
from service.words import say

_GROUND, _WIDE = 1.8, 6.0
"""Heights of the two shadows on the ground, in millimetres: one close and dark, one wide and faint."""
_MARGIN = 10.0
_MARGIN_SHARE = 0.028


def finished_view(
    pattern: Pattern, shop: Shop, *, units: Units, aspect: float | None = None, background: Colour | None
) -> Drawing:
    """The strap as it will look, in true proportion.

    `aspect` (width over height) adds background above and below, or at both sides, to fill a given frame.
    Without a `background` the picture is transparent around the strap. Readings are in `units`.
    """
    strap = made_up(pattern, shop)
    room = bounds(strap)
    margin = max(_MARGIN, _MARGIN_SHARE * (room.right - room.left))
    width, height = room.right - room.left + 2 * margin, 2 * (room.half + margin) + room.below
    width, height = framed(width, height, aspect)
    x, y = (width - room.left - room.right) / 2, (height - room.below) / 2
    beside = Group(tuple(_beside(strap)), x, y + room.half + room.below - sum(ply.half for ply in strap.joining))
    layers = (
        Layer("shadow", say("Shadow on the ground"), (Group(tuple(_ground(strap)), x, y),)),
        Layer(
            "strap",
            say("Leather and buckle"),
            (Group(tuple(_strap(strap)), x, y), *((beside,) if strap.joining else ())),
        ),
        Layer("ornaments", say("Ornaments and rivets"), (Group(tuple(_set_on(strap, shop)), x, y),)),
    )
    return Drawing(
        width,
        height,
        title(pattern, strap, shop, units),
        description(pattern, strap, shop, units),
        words.LANGUAGE,
        layers,
        background,
    )


def _ground(strap: MadeUp) -> Iterator[Item]:
    for held in strap.buckles:
        yield from _at_bar(held, buckles.frame_shadow(held.buckle, held.side))
    for placed in strap.all_rings:
        yield Group(ring_shadow(placed.ring, placed.side), placed.x)
    for each in (*strap.bands, *strap.keepers):
        yield Group(keeper_shadow(each.width, each.half), each.x)
    for height, opacity in ((_WIDE, 0.24), (_GROUND, 0.45)):
        for ply in strap.plies:
            if ply.faces_front:
                yield Group(ply_shadow(ply, height, opacity), ply.left)


def _strap(strap: MadeUp) -> Iterator[Item]:
    behind = [ply for ply in strap.plies if not ply.faces_front]
    front = [ply for ply in strap.plies if ply.faces_front]
    yield from (_ply(ply, strap) for ply in behind)
    yield from _under(strap)
    yield from (item for ply in front if ply.shows_edging for item in edging(ply))
    for ply in front:
        yield from _shadow_on(ply, front)
        yield _ply(ply, strap)
    yield from _over(strap)


def _beside(strap: MadeUp) -> Iterator[Item]:
    """The joining strap on the ground beside the strap."""
    for ply in strap.joining:
        for height, opacity in ((_WIDE, 0.24), (_GROUND, 0.45)):
            yield Group(ply_shadow(ply, height, opacity), ply.left)
        yield _ply(ply, strap)
    for placed in strap.joining_holes:
        yield Group(hole(placed.feature, strap.leather.edge_colour), placed.x, placed.y, id=placed.feature.id)


def _ply(ply: Ply, strap: MadeUp) -> Group:
    openings = tuple(
        segment
        for each in (*strap.holes, *strap.joining_holes)
        if each.ply is ply
        for segment in moved(backwards(opening(each.feature)), each.x - ply.left, each.y)
    )
    return Group(leather(ply, openings), ply.left, name=ply.piece.name)


def _under(strap: MadeUp) -> Iterator[Item]:
    """What the front ply hides in part: the bar, the frame that it closes, rings."""
    for held in strap.buckles:
        yield from _at_bar(held, buckles.bar(held.buckle))
        if held.buckle.bar_place == "heel":
            yield from _at_bar(held, buckles.frame(held.buckle, held.side))
    for placed in strap.all_rings:
        yield Group(ring_items(placed.ring, placed.side), placed.x)


def _shadow_on(ply: Ply, front: list[Ply]) -> Iterator[Item]:
    """The shadow of a ply on those beneath it, as far as they reach under it."""
    for other in front:
        if other.placement.layer < ply.placement.layer:
            part = ply.over(other)
            if part:
                yield Group(ply_shadow(part, 0.6 * thickness_of(ply), 0.6), part.left)


def _over(strap: MadeUp) -> Iterator[Item]:
    """What lies on the front ply: the slot with the prong in it, a frame all round, the keeper, holes."""
    edge = strap.leather.edge_colour
    for placed in strap.holes:
        yield Group(hole(placed.feature, edge), placed.x, placed.y, id=placed.feature.id)
    if strap.lead_ring:
        yield Group(ring_on_strap(strap.lead_ring.ring, strap.lead_ring.side), strap.lead_ring.x)
    for held in strap.buckles:
        yield from _prong(held, edge)
    for each in (*strap.bands, *strap.keepers):
        yield Group(keeper(strap.leather, each.width, each.half, each.strap_half), each.x, name="keeper")


def _prong(held: PlacedBuckle, edge: Colour) -> Iterator[Item]:
    """A prong in its slot, and a frame that lies round the strap."""
    feature, ply, buckle = held.slot.feature, held.slot.ply, held.buckle
    fold = ply.left if held.side < 0 else ply.right
    reach = held.inwards(held.slot.x) + (feature.length or 0) / MM / 2 - held.inwards(fold)
    places = [y / MM for y in buckle.prong_places]
    yield from (Group(slot(reach, (feature.width or 0) / MM, edge, held.side), fold, y) for y in places)
    if buckle.bar_place == "centre":
        yield from _at_bar(held, buckles.heel_shadow(buckle, ply.halves[held.side > 0], held.side))
        yield from _at_bar(held, buckles.frame(buckle, held.side))
    yield from _at_bar(held, tuple(item for y in places for item in _aside(buckles.prong(buckle, held.side), y)))


def _aside(items: tuple[Item, ...], y: float) -> tuple[Item, ...]:
    """Items beside the middle line."""
    return (Group(items, 0.0, y),) if y else items


def _at_bar(held: PlacedBuckle, items: tuple[Item, ...]) -> Iterator[Item]:
    """Items that are drawn about the bar's axis; the left one is where a strap begins."""
    if held.x:
        yield Group(items, held.x)
    else:
        yield from items


def _set_on(strap: MadeUp, shop: Shop) -> Iterator[Item]:
    """Everything that is riveted or set, the same items for the same thing."""
    known: dict[str, tuple[Item, ...]] = {}
    for placed in (*strap.rivets, *strap.snaps, *strap.ornaments):
        item = placed.feature.item
        if item is None:
            continue
        look = f"{item} {placed.feature.purpose}" if item in shop.snaps else item
        if look not in known:
            known[look] = _goods(item, placed.feature.purpose, shop)
        yield Stamp(known[look], placed.x, placed.y, placed.feature.id)


def _goods(item: str, purpose: Purpose, shop: Shop) -> tuple[Item, ...]:
    if item in shop.snaps:
        return snap_half(shop.snaps[item], is_cap=purpose == "snap_cap")
    if item in shop.fasteners:
        fastener = shop.fasteners[item]
        return cap(fastener.cap_diameter / MM, metal(fastener.colour))
    ornament = shop.ornaments[item]
    diameter = ornament.diameter / MM
    if ornament.picture:
        return picture(shop.artwork[ornament.picture], diameter)
    draw = {"bell": bell, "spot": spot, "concho": concho}[ornament.family]
    return draw(diameter, metal(ornament.colour))
