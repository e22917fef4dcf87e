"""The strap made up: its plies, what is set on it and where, and how much room it takes. Millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass

from service.drawing.finished.keepers import between_keepers, fixed_keepers, is_under_keeper, loose_keepers
from service.drawing.finished.placed import Placed, PlacedBuckle, PlacedKeeper, PlacedRing, radius
from service.drawing.finished.ply import Ply, plies
from service.shop.goods import Leather
from service.shop.shop import Shop
from service.strap.model.lead_ring import lead_ring_at
from service.strap.model.pattern import EndAt, Pattern, Placement, Purpose
from service.strap.model.spec import StrapEnd
from service.strap.plane.lengths import MM

_RIVETS: tuple[Purpose, ...] = ("joint", "fold_rivet")
_SNAPS: tuple[Purpose, ...] = ("snap_stud", "snap_cap")
_ORNAMENTS: tuple[Purpose, ...] = ("border", "between", "ornament")
BESIDE = 14.0
"""Millimetres between a strap and what is laid beside it."""
_OPEN_HOLES: tuple[Purpose, ...] = ("size_hole", "hanger")


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeUp:
    """Everything that is seen. The left buckle's bar, or the left end of a strap without one, lies at x = 0."""

    plies: tuple[Ply, ...]
    leather: Leather
    buckles: tuple[PlacedBuckle, ...]
    rings: tuple[PlacedRing, ...]
    lead_ring: PlacedRing | None
    keepers: tuple[PlacedKeeper, ...]
    bands: tuple[PlacedKeeper, ...]
    """The keepers between the ornaments."""
    holes: tuple[Placed, ...]
    rivets: tuple[Placed, ...]
    snaps: tuple[Placed, ...]
    ornaments: tuple[Placed, ...]
    joining: tuple[Ply, ...]
    """The strap that joins its two buckles, laid beside it."""
    joining_holes: tuple[Placed, ...]

    @property
    def all_rings(self) -> tuple[PlacedRing, ...]:
        """The rings at the ends, and the collar ring."""
        return (*self.rings, *((self.lead_ring,) if self.lead_ring else ()))


def made_up(pattern: Pattern, shop: Shop) -> MadeUp:
    """Lay the pattern's plies and set its goods on them."""
    found = plies(pattern, _folds(pattern))
    seen = [placed for ply in found for placed in _seen(ply)]
    riveted = {(each.x, each.y): each for each in seen if each.feature.purpose in _RIVETS}
    buckles = tuple(_buckles(pattern, shop, seen))
    joining = tuple(_joining(pattern))
    rivets = [each for each in riveted.values() if not is_under_keeper(each.feature)]
    fixed = tuple(fixed_keepers(pattern, shop, seen))
    return MadeUp(
        plies=found,
        leather=pattern.pieces[0].leather,
        buckles=buckles,
        rings=tuple(_rings(pattern, shop)),
        lead_ring=_lead_ring(pattern, shop),
        keepers=(*loose_keepers(pattern, shop, buckles, rivets, fixed), *fixed),
        bands=tuple(between_keepers(pattern, shop, seen)),
        holes=tuple(each for each in seen if each.feature.purpose in _OPEN_HOLES),
        rivets=tuple(rivets),
        snaps=tuple(each for purpose in _SNAPS for each in seen if each.feature.purpose == purpose),
        ornaments=tuple(each for purpose in _ORNAMENTS for each in seen if each.feature.purpose == purpose),
        joining=joining,
        joining_holes=tuple(placed for ply in joining for placed in _seen(ply)),
    )


def _joining(pattern: Pattern) -> Iterator[Ply]:
    """The middle of it lies under the middle of the strap."""
    piece = pattern.piece("joining_strap")
    if piece:
        offset = (pattern.finished.head_at.bar + pattern.finished.foot_at.bar - piece.length) // 2
        placement = Placement(piece=piece.name, offset=offset, direction=1, from_x=0, to_x=piece.length, layer=1)
        ends = offset / MM, (offset + piece.length) / MM
        yield Ply(piece, placement, *ends, piece.outline.head, piece.outline.foot)


def _seen(ply: Ply) -> Iterator[Placed]:
    for feature in ply.piece.features:
        if ply.shows(feature):
            yield Placed(feature, ply, *ply.place(feature))


def _folds(pattern: Pattern) -> tuple[float, float]:
    """The outer edges of the folds at the left and right ends."""
    return pattern.finished.head_at.edge / MM, pattern.finished.foot_at.edge / MM


def _ends(pattern: Pattern) -> Iterator[tuple[StrapEnd, EndAt, int]]:
    """What each end is, where it lies, and its side."""
    head, foot = pattern.ends.outermost
    yield head, pattern.finished.head_at, -1
    yield foot, pattern.finished.foot_at, 1


def _buckles(pattern: Pattern, shop: Shop, seen: list[Placed]) -> Iterator[PlacedBuckle]:
    slots = sorted((each for each in seen if each.feature.purpose == "prong_slot"), key=lambda each: each.x)
    for end, at, side in _ends(pattern):
        if end.buckle:
            slot = slots[0 if side < 0 else -1]
            yield PlacedBuckle(buckle=shop.buckles[end.buckle], x=at.bar / MM, side=side, slot=slot)


def _rings(pattern: Pattern, shop: Shop) -> Iterator[PlacedRing]:
    """The rail's axis lies half its thickness and one leather inside the fold's outer edge."""
    leather = pattern.pieces[0].leather
    skived = float(leather.thickness * shop.rules.fold_skive)
    for end, at, side in _ends(pattern):
        if end.kind == "ring" and end.ring:
            ring = shop.rings[end.ring]
            axis = at.edge / MM - side * (ring.thickness / 2 + skived) / MM
            yield PlacedRing(ring, axis, side)


def _lead_ring(pattern: Pattern, shop: Shop) -> PlacedRing | None:
    """Threaded on the front ply midway between what holds the fold first and next, laid away from the buckle."""
    head = pattern.ends.head.outermost
    name = head.ring if head.kind == "buckle" else None
    return PlacedRing(shop.rings[name], lead_ring_at(pattern) / MM, 1) if name else None


@dataclass(frozen=True, slots=True)
class Bounds:
    """The room that the strap takes: from `left` to `right`, and `half` above and below its middle line.

    What is laid beside it takes `below` more, down from there.
    """

    left: float
    right: float
    half: float
    below: float = 0.0


def bounds(strap: MadeUp) -> Bounds:
    """Everything that is set on the strap included; shadows are not."""
    boxes = [(ply.left, ply.right, ply.half + ply.piece.stands_out / MM) for ply in strap.plies]
    boxes += [(each.x - radius(each), each.x + radius(each), abs(each.y) + radius(each)) for each in strap.ornaments]
    for held in strap.buckles:
        buckle = held.buckle
        sides = (held.x + held.side * buckle.bar_to_frame / MM, held.x - held.side * buckle.bar_to_heel / MM)
        boxes.append((min(sides), max(sides), buckle.frame_width / MM / 2))
    for placed in strap.all_rings:
        reach = placed.x + placed.side * placed.ring.reach / MM
        half = (placed.ring.inside_width / 2 + placed.ring.thickness) / MM
        boxes.append((min(placed.x, reach), max(placed.x, reach), half))
    boxes += [(keeper.x, keeper.x, keeper.half) for keeper in strap.keepers]
    lefts, rights, halves = zip(*boxes, strict=True)
    lefts, rights = (*lefts, *(ply.left for ply in strap.joining)), (*rights, *(ply.right for ply in strap.joining))
    below = sum(BESIDE + 2 * ply.half for ply in strap.joining)
    return Bounds(min(lefts), max(rights), max(halves), below)
