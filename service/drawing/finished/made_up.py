"""The strap made up: its plies, what is set on it and where, and how much room it takes. Millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass

from service.drawing.finished.ply import Ply, plies
from service.shop.goods import Buckle, Leather, Ring
from service.shop.shop import Shop
from service.strap.model.pattern import Feature, Pattern, Purpose
from service.strap.plane.lengths import MM

_RIVETS: tuple[Purpose, ...] = ("joint", "fold_rivet")
_ORNAMENTS: tuple[Purpose, ...] = ("border", "between", "ornament")
_OPEN_HOLES: tuple[Purpose, ...] = ("size_hole", "hanger")


@dataclass(frozen=True, slots=True)
class Placed:
    """A feature of the pattern that is seen from the front, at its place on the made-up strap."""

    feature: Feature
    ply: Ply
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class PlacedRing:
    """A ring, its rail's axis at `x`; `side` is -1 where it hangs out to the left, 1 to the right."""

    ring: Ring
    x: float
    side: int


@dataclass(frozen=True, slots=True)
class PlacedKeeper:
    """The keeper: its middle, its width along the strap, half its own and half the strap's width across."""

    x: float
    width: float
    half: float
    strap_half: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeUp:
    """Everything that is seen. The bar's axis, or an open strap's left end, lies at x = 0."""

    plies: tuple[Ply, ...]
    leather: Leather
    buckle: Buckle | None
    rings: tuple[PlacedRing, ...]
    lead_ring: PlacedRing | None
    keeper: PlacedKeeper | None
    slot: Placed | None
    holes: tuple[Placed, ...]
    rivets: tuple[Placed, ...]
    ornaments: tuple[Placed, ...]

    @property
    def all_rings(self) -> tuple[PlacedRing, ...]:
        """The rings at the ends, and the collar ring."""
        return (*self.rings, *((self.lead_ring,) if self.lead_ring else ()))


def made_up(pattern: Pattern, shop: Shop) -> MadeUp:
    """Lay the pattern's plies and set its goods on them."""
    found = plies(pattern, _folds(pattern))
    seen = [placed for ply in found for placed in _seen(ply)]
    slot = next((each for each in seen if each.feature.purpose == "prong_slot"), None)
    rivets = {(each.x, each.y): each for each in seen if each.feature.purpose in _RIVETS}
    buckle_id = pattern.spec.billet.buckle if pattern.spec.construction != "open" else None
    buckle = shop.buckles[buckle_id] if buckle_id else None
    return MadeUp(
        plies=found,
        leather=pattern.pieces[0].leather,
        buckle=buckle,
        rings=tuple(_rings(pattern, shop)),
        lead_ring=_lead_ring(pattern, shop, seen),
        keeper=_keeper(pattern, shop, buckle, slot, list(rivets.values())),
        slot=slot,
        holes=tuple(each for each in seen if each.feature.purpose in _OPEN_HOLES),
        rivets=tuple(rivets.values()),
        ornaments=tuple(each for purpose in _ORNAMENTS for each in seen if each.feature.purpose == purpose),
    )


def _seen(ply: Ply) -> Iterator[Placed]:
    for feature in ply.piece.features:
        if ply.shows(feature):
            yield Placed(feature, ply, *ply.place(feature))


def _folds(pattern: Pattern) -> tuple[float, float]:
    """The outer edges of the folds: at the buckle's bar, or at both ends of an open strap."""
    finished = pattern.finished
    if pattern.spec.construction == "open":
        return 0.0, finished.from_fold / MM
    return (finished.from_bar - finished.from_fold) / MM, 0.0


def _rings(pattern: Pattern, shop: Shop) -> Iterator[PlacedRing]:
    """The rail's axis lies half its thickness and one leather inside the fold's outer edge."""
    if pattern.spec.construction != "open":
        return
    leather = pattern.pieces[0].leather
    skived = float(leather.thickness * shop.rules.fold_skive)
    ends = ((pattern.spec.ends.head, 0.0, 1), (pattern.spec.ends.foot, pattern.finished.from_fold / MM, -1))
    for end, edge, inwards in ends:
        if end.kind == "ring" and end.ring:
            ring = shop.rings[end.ring]
            axis = edge + inwards * (ring.thickness / 2 + skived) / MM
            yield PlacedRing(ring, axis, -inwards)


def _lead_ring(pattern: Pattern, shop: Shop, seen: list[Placed]) -> PlacedRing | None:
    """Threaded on the front ply midway between the turned-back end's first two rivets, laid away from the buckle."""
    name = pattern.spec.billet.ring
    rivets = sorted(each.x for each in seen if each.feature.purpose == "fold_rivet")
    if name is None or len(rivets) < 2:
        return None
    return PlacedRing(shop.rings[name], (rivets[0] + rivets[1]) / 2, 1)


def _keeper(
    pattern: Pattern, shop: Shop, buckle: Buckle | None, slot: Placed | None, rivets: list[Placed]
) -> PlacedKeeper | None:
    """Between the frame (or the prong's slot, where that reaches further) and the first rivet or seam."""
    piece = pattern.piece("keeper")
    if piece is None or buckle is None or slot is None:
        return None
    start = max(buckle.bar_to_heel / MM, slot.x + (slot.feature.length or 0) / MM / 2)
    first = min((*(rivet.x - _radius(rivet) for rivet in rivets), *_seams(slot.ply)), default=start)
    width = piece.width / MM
    half = slot.ply.half + piece.skived / MM + shop.rules.keeper_ease / MM / 2
    return PlacedKeeper(max((start + first) / 2, start + width / 2), width, half, slot.ply.half)


def _seams(ply: Ply) -> Iterator[float]:
    """Where each line of stitches that holds a turned-back end begins."""
    for line in ply.piece.stitch_lines:
        if line.purpose == "fold_stitch":
            yield (ply.placement.offset + min(x for x, _ in line.points)) / MM


@dataclass(frozen=True, slots=True)
class Bounds:
    """The room that the strap takes: from `left` to `right`, and `half` above and below its middle line."""

    left: float
    right: float
    half: float


def bounds(strap: MadeUp) -> Bounds:
    """Everything that is set on the strap included; shadows are not."""
    boxes = [(ply.left, ply.right, ply.half) for ply in strap.plies]
    boxes += [(each.x - _radius(each), each.x + _radius(each), abs(each.y) + _radius(each)) for each in strap.ornaments]
    if strap.buckle:
        buckle = strap.buckle
        boxes.append((-buckle.bar_to_frame / MM, buckle.bar_to_heel / MM, buckle.frame_width / MM / 2))
    for placed in strap.all_rings:
        reach = placed.x + placed.side * placed.ring.reach / MM
        half = (placed.ring.inside_width / 2 + placed.ring.thickness) / MM
        boxes.append((min(placed.x, reach), max(placed.x, reach), half))
    if strap.keeper:
        boxes.append((strap.keeper.x, strap.keeper.x, strap.keeper.half))
    lefts, rights, halves = zip(*boxes, strict=True)
    return Bounds(min(lefts), max(rights), max(halves))


def _radius(placed: Placed) -> float:
    return placed.feature.footprint / MM / 2
