"""The strap buckled: what the tip lies on at each size hole.

The hole comes to lie on the bar's axis, so that the tip covers whatever lies from the bar to (tip beyond that hole)
past it, on the grain side. From one hole to the next it draws back by their distance.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, hypot

from service.shop.goods import Nm, Ring
from service.strap.model.hardware import Stack
from service.strap.model.job import Job
from service.strap.model.pattern import Covered, Feature, Pattern, Piece, TipLies, Worn
from service.strap.model.places import PARTS
from service.strap.model.plies import stack
from service.strap.plane.geometry import draw_back

LEAD_RING = "lead_ring"


@dataclass(frozen=True, slots=True)
class Under:
    """What may come to lie under the tip: `over` is how far the tip reaches past its near rim at the tightest hole.

    `feature` is `None` for the collar ring.
    """

    feature: Feature | None
    item: str
    over: Nm
    lies: TipLies

    @property
    def at(self) -> str:
        """Its id."""
        return self.feature.id if self.feature else LEAD_RING


def worn(pattern: Pattern, job: Job) -> tuple[Worn, ...]:
    """What the tip covers at each size hole: a fault at the middle one where it is raised, else a warning."""
    if not job.closes:
        return ()
    tongue = tongue_of(pattern)
    under, holes = under_tip(pattern, tongue, job), size_holes(tongue)
    middle = len(holes) // 2
    return tuple(
        Worn(hole=n + 1, covers=_covers(under, hole - holes[0], nominal=n == middle)) for n, hole in enumerate(holes)
    )


def _covers(under: list[Under], drawn_back: Nm, *, nominal: bool) -> tuple[Covered, ...]:
    return tuple(
        Covered(
            at=each.at,
            item=each.item,
            by=each.over - drawn_back,
            lies=each.lies,
            severity="fault" if nominal and each.lies == "raised" else "warning",
        )
        for each in under
        if each.over > drawn_back
    )


def under_tip(pattern: Pattern, tongue: Piece, job: Job) -> list[Under]:
    """Everything that the tip reaches at the tightest hole, the nearest to the bar first."""
    tip, half = tongue.outline.foot, tongue.width // 2
    reach, goods, found = tongue.length - size_holes(tongue)[0], job.shop.ornaments, []
    for x, feature in _within(pattern, reach):
        item = goods[str(feature.item)]
        over = draw_back(tip, half, (reach - x, feature.y), item.diameter // 2)
        if over > 0:
            found.append((x, Under(feature, item.id, ceil(over), _lies(item.height, job))))
    ring = job.head.collar_ring
    if ring:
        x = _ring_place(pattern)
        over = reach - x + ring.thickness // 2
        found += [(x, Under(None, ring.id, over, _on_ring(ring, job)))] if over > 0 else []
    return [under for _, under in sorted(found, key=lambda each: (each[0], each[1].at))]


def _on_ring(ring: Ring, job: Job) -> TipLies:
    if passes_through(ring, job.strap_width, stack(job.plies.decorated)):
        return "through"
    return _lies(ring.thickness, job)


def _lies(height: Nm, job: Job) -> TipLies:
    return "raised" if height > job.rules.flat_under_tip else "flat"


def passes_through(ring: Ring, width: Nm, strap: Stack) -> bool:
    """Whether a collar ring, which holds the strap's front ply, lets the tip through beside it, as a keeper does.

    The two plies are a rectangle that has to lie inside the ring's circle, or on a dee's straight side under its bow.
    """
    high = 2 * strap.thick if ring.shape == "round" else 4 * strap.thick
    return hypot(width, high) <= ring.inside_width


def _within(pattern: Pattern, reach: Nm) -> Iterator[tuple[Nm, Feature]]:
    """What is set on the grain side of the strap from the bar to `reach`, with its place, made up."""
    for ply in pattern.placements:
        piece = pattern.piece(ply.piece)
        if piece and ply.direction == 1:
            for feature in piece.features:
                x, radius = feature.x + ply.offset, feature.footprint // 2
                if feature.purpose in PARTS and -radius < x < reach + radius:
                    yield x, feature


def _ring_place(pattern: Pattern) -> Nm:
    """In the middle between the first two rivets of the fold, made up."""
    for ply in pattern.placements:
        piece = pattern.piece(ply.piece)
        if piece and ply.direction == 1:
            rivets = [ply.offset + f.x for f in piece.features if f.purpose == "fold_rivet" and f.x >= ply.from_x]
            if rivets:
                return sum(sorted(rivets)[:2]) // len(rivets[:2])
    return 0


def tongue_of(pattern: Pattern) -> Piece:
    """The piece that has the size holes."""
    return next(piece for piece in pattern.pieces if any(f.purpose == "size_hole" for f in piece.features))


def size_holes(tongue: Piece) -> list[Nm]:
    """Where they lie along it, the tightest first."""
    return sorted(feature.x for feature in tongue.features if feature.purpose == "size_hole")
