"""The strap closed: what the end that closes it, the tip, lies on at each size hole or stud.

The hole comes to lie on the bar's axis, so that the tip covers whatever lies from the bar to (tip beyond that hole)
past it, on the grain side. From one hole to the next it draws back by their distance. The end with a snap's cap lies
on the one with its studs alike.
"""

from collections.abc import Iterator
from math import ceil, hypot

from service.shop.goods import Nm, Ring
from service.strap.model.hardware import Stack
from service.strap.model.job import Job
from service.strap.model.lead_ring import lead_ring_at
from service.strap.model.pattern import Feature, Pattern, Piece, Purpose
from service.strap.model.places import PARTS
from service.strap.model.plies import stack
from service.strap.model.worn import Covered, TipLies, Worn
from service.strap.plane.geometry import draw_back
from service.strap.plane.outline import EndForm
from service.values import dataclass

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """How a strap lies once it is closed, made up: one end comes to lie on the grain side of the other.

    From `at`, the bar's axis or the loosest stud, it reaches `inwards` (1 from the head, -1 from the foot) by
    `reaches`, of each size hole or stud, the tightest first. `form` is that of its end, `half` half its width. A collar
    `ring` is set where it is buckled.
    """

    at: Nm
    inwards: int
    reaches: tuple[Nm, ...]
    form: EndForm
    half: Nm
    ring: Ring | None = None


def closures_of(pattern: Pattern, job: Job) -> tuple[Closure, ...]:
    """How the strap is closed: once, or at both its ends by the strap that joins them."""
    joining = pattern.piece("joining_strap")
    if joining is None or job.joining is None:
        closure = closure_of(pattern, job)
        return (closure,) if closure else ()
    holes = [each.x for each in joining.features][: job.joining.count]
    reaches, form, half = tuple(reversed(holes)), joining.outline.head, joining.width // 2
    bars = ((pattern.finished.head_at.bar, 1, job.head.collar_ring), (pattern.finished.foot_at.bar, -1, None))
    return tuple(Closure(at=at, inwards=to, reaches=reaches, form=form, half=half, ring=ring) for at, to, ring in bars)


def closure_of(pattern: Pattern, job: Job) -> Closure | None:
    """How the strap is closed; `None` where its ends do not close on one another."""
    if job.is_snapped:
        return _snapped(pattern)
    if not job.is_buckled:
        return None
    tongue = tongue_of(pattern, job)
    reaches = tuple(tongue.length - hole for hole in size_holes(tongue))
    form, half, ring = tongue.outline.foot, tongue.outline.foot_half, job.head.collar_ring
    return Closure(at=0, inwards=1, reaches=reaches, form=form, half=half, ring=ring)


def _snapped(pattern: Pattern) -> Closure:
    """The end with the cap lies on the one with the studs."""
    (cap,), studs = ([*_made_up(pattern, purpose)] for purpose in ("snap_cap", "snap_stud"))
    piece, feature, cap_at = cap
    places = sorted(at for _, _, at in studs)
    is_foot = cap_at > places[-1]
    beyond, form = (piece.length - feature.x, piece.outline.foot) if is_foot else (feature.x, piece.outline.head)
    half = piece.outline.foot_half if is_foot else piece.outline.head_half
    at = places[0 if is_foot else -1]
    reaches = sorted((abs(place - at) + beyond for place in places), reverse=True)
    return Closure(at=at, inwards=1 if is_foot else -1, reaches=tuple(reaches), form=form, half=half)


def _made_up(pattern: Pattern, purpose: Purpose) -> Iterator[tuple[Piece, Feature, Nm]]:
    """Each feature of a purpose with its piece, and its place on the strap made up."""
    for ply in pattern.placements:
        piece = pattern.piece(ply.piece)
        if piece and ply.direction == 1:
            yield from ((piece, each, each.x + ply.offset) for each in piece.features if each.purpose == purpose)


def worn(pattern: Pattern, job: Job) -> tuple[Worn, ...]:
    """What the tip covers at each size: a fault at the middle one where it is raised, else a warning.

    Where another strap joins it, it is closed at the same hole at both ends, and lies under two tips.
    """
    closures = closures_of(pattern, job)
    if not closures:
        return ()
    under, reaches = _under_all(pattern, closures, job), closures[0].reaches
    middle = (len(reaches) - 1) // 2
    return tuple(
        Worn(hole=n + 1, covers=_covers(under, reaches[0] - reach, nominal=n == middle))
        for n, reach in enumerate(reaches)
    )


def _under_all(pattern: Pattern, closures: tuple[Closure, ...], job: Job) -> list[Under]:
    """What lies under any tip, the head's first; of what lies under both the one that reaches farther over it."""
    found: dict[str, Under] = {}
    for closure in closures:
        for each in under_tip(pattern, closure, job):
            known = found.get(each.at)
            if known is None or each.over > known.over:
                found[each.at] = each
    return list(found.values())


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


def under_tip(pattern: Pattern, closure: Closure, job: Job) -> list[Under]:
    """Everything that the tip reaches at the tightest size, the nearest to the bar first."""
    reach, goods, found = closure.reaches[0], job.shop.ornaments, []
    for x, feature in _within(pattern, closure, reach):
        item = goods[str(feature.item)]
        over = draw_back(closure.form, closure.half, (reach - x, feature.y), item.diameter // 2)
        if over > 0:
            found.append((x, Under(feature, item.id, ceil(over), _lies(item.height, job))))
    if closure.ring:
        ring, x = closure.ring, lead_ring_at(pattern) - closure.at
        over = reach - x + ring.thickness // 2
        found += [(x, Under(None, ring.id, over, _on_ring(ring, job)))] if over > 0 else []
    return [under for _, under in sorted(found, key=lambda each: (each[0], each[1].at))]


def tip_width(job: Job) -> Nm:
    """How wide what goes through the head's buckle is."""
    return job.joining.width if job.joining else job.strap_width


def _on_ring(ring: Ring, job: Job) -> TipLies:
    if passes_through(ring, tip_width(job), stack(job.plies.decorated)):
        return "through"
    return _lies(ring.thickness, job)


def _lies(height: Nm, job: Job) -> TipLies:
    return "raised" if height > job.rules.flat_under_tip else "flat"


def passes_through(ring: Ring, width: Nm, strap: Stack) -> bool:
    """Whether a collar ring, which holds the strap's front ply, lets the tip through beside it, as a keeper does.

    The two plies are a rectangle that has to lie inside the ring's circle, on a dee's straight side under its bow, or
    inside a rectangle. Through the eye of a hook nothing goes but what holds it.
    """
    if ring.shape in ("rectangle", "hook"):
        return width <= ring.inside_width and 2 * strap.thick <= ring.inside_length
    high = 2 * strap.thick if ring.shape == "round" else 4 * strap.thick
    return hypot(width, high) <= ring.inside_width


def _within(pattern: Pattern, closure: Closure, reach: Nm) -> Iterator[tuple[Nm, Feature]]:
    """What is set on the grain side of the strap up to `reach` from where it is closed, with how far it lies there."""
    for ply in pattern.placements:
        piece = pattern.piece(ply.piece)
        if piece and ply.direction == 1:
            for feature in piece.features:
                if feature.purpose in PARTS:
                    x, radius = closure.inwards * (feature.x + ply.offset - closure.at), feature.footprint // 2
                    if -radius < x < reach + radius:
                        yield x, feature


def tongue_of(pattern: Pattern, job: Job) -> Piece:
    """The piece whose size holes the buckle at the head takes: the foot's billet, or the body itself."""
    name = job.foot.billet_name
    return next((piece for piece in pattern.pieces if piece.name == name), pattern.pieces[0])


def size_holes(tongue: Piece) -> list[Nm]:
    """Where they lie along it, the tightest first."""
    return sorted({feature.x for feature in tongue.features if feature.purpose == "size_hole"})
