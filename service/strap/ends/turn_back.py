"""An end folded back on itself, round a buckle's bar or a ring, and riveted or stitched.

Made up, the front ply lies on top and the tail underneath. Distances run from the strip's end.
"""

from collections.abc import Iterator
from dataclasses import replace

from service.shop.goods import Buckle, Nm, Ring
from service.strap.fixings.rivets import rivet
from service.strap.fixings.stitches import side_lines
from service.strap.model.end_measures import Span, TurnBack
from service.strap.model.hardware import Cut, prong_slot
from service.strap.model.holding import Holding
from service.strap.model.job import Job
from service.strap.model.loops import Loops, half_hold
from service.strap.model.pattern import Feature
from service.strap.model.side import Side
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.bend import Fold, flat_for_reach, fold
from service.strap.plane.geometry import least_from_end
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import EndForm
from service.strap.plane.spacing import round_up
from service.values import dataclass


@dataclass(frozen=True, slots=True)
class Tail:
    """How far a turned-back end reaches past its last rivet, and how many hold it, or stitches in their place.

    `loops` are the keepers at its buckle. Where it is stitched round a ring, its seam has a `gap` for that: from
    where to where, along the seam.
    """

    length: Nm
    count: int
    hold: Holding
    loops: Loops | None
    gap: Span | None = None


def buckle_turn_back(job: Job, buckle: Buckle, width: Nm, slot_length: Nm | None, tail: Tail) -> TurnBack:
    """The end round a buckle's bar.

    Between the mated holes lie 2 x slot length, and the shop's extra where a loose keeper stands (common
    practice); more where the buckle's frame, its keepers and the rivet's cap need it.
    """
    rules = job.rules
    slot = prong_slot(buckle, width, job.shop, slot_length)
    usual = 2 * slot.length
    reach = buckle.bar_to_heel + half_hold(tail.hold, tail.loops, rules)
    if tail.loops:
        usual += tail.loops.loose * rules.keeper_room
        reach += tail.loops.room(rules)
    flat = _even(job, max(usual, _flat_for(job, reach, buckle.folded_round)))
    bent = fold(flat, buckle.folded_round, job.fold_thickness, rules.neutral_fraction)
    return _turned(job, tail, bent, slot, buckle.prong_places)


def turn_back_round(job: Job, thickness: Nm, tail: Tail) -> TurnBack:
    """The end round a rail: the first rivet's cap, or stitch, clears it by the shop's slack."""
    rules = job.rules
    reach = thickness // 2 + rules.ring_fold_slack + tail.hold.half(rules)
    flat = _even(job, _flat_for(job, reach, thickness))
    bent = fold(flat, thickness, job.fold_thickness, rules.neutral_fraction)
    return _turned(job, tail, bent)


def _turned(job: Job, tail: Tail, bent: Fold, slot: Cut | None = None, prongs: tuple[Nm, ...] = ()) -> TurnBack:
    return TurnBack(
        tail=tail.length,
        count=tail.count,
        spacing=job.joint_spacing,
        fold=bent,
        hold=tail.hold,
        slot=slot,
        prong_places=prongs,
        loops=tail.loops,
        gap=tail.gap,
    )


def tail_of(job: Job, hold: Holding, loops: Loops | None = None, *, on_billet: bool) -> Tail:
    """On a billet it runs up to the body's end, less the shop's gap, and one rivet holds it.

    Each fixed keeper takes a rivet of its own.
    """
    fixed = loops.fixed if loops else 0
    if on_billet:
        room = job.rules.first_fold_rivet - job.end_distance - job.rules.tail_gap
        return Tail(max(room, job.rules.end_distance), max(fixed, 1), hold, loops)
    return Tail(job.end_distance, max(fixed, job.joint_count), hold, loops)


def with_ring(job: Job, tail: Tail, ring: Ring, *, on_billet: bool) -> Tail:
    """The same with a ring in it: between its first two rivets, or in the seam with enough of that to both sides.

    The ring lies right behind the fixed keepers, where there are any. A billet is held by two rivets then.
    """
    if not tail.hold.is_stitched:
        return replace(tail, count=max(tail.count, 2)) if on_billet else tail
    rules, loops = job.rules, tail.loops
    kept = max(loops.middles(job.joint_spacing)) + loops.width // 2 if loops and loops.fixed else 0
    first = round_up(max(rules.stitched_fold, kept), job.grid)
    last = round_up(first + ring.thickness + rules.hardware_clear + 2 * rules.stitch_clear, job.grid)
    needed = round_up(last + max(rules.stitched_fold, first) + job.stitch_inset, job.grid)
    return replace(tail, length=max(tail.length, needed - (tail.count - 1) * job.joint_spacing), gap=(first, last))


def _flat_for(job: Job, reach: Nm, bar: Nm) -> Nm:
    """The flat distance for a reach, rounded up to 1/16 in or 1 mm, so that it can be read off a ruler."""
    step = INCH // 16 if job.units == "in" else MM
    return round_up(flat_for_reach(reach, bar, job.fold_thickness, job.rules.neutral_fraction), step)


def _even(job: Job, flat: Nm) -> Nm:
    """On a ruler the fold, half way between the mated holes, lies on a graduation as they do."""
    return round_up(flat, 2 * job.grid) if job.grid > 1 else flat


def turn_back_features(turn: TurnBack, side: Side) -> list[Feature]:
    """Slot, fold line and rivet holes of a turned-back end.

    Rivet `first_rivet` + i of the front ply meets rivet `first_rivet` + count + i of the tail, both counted from the
    fold. A stitched end has no rivets.
    """
    piece, first = side.piece, side.first_rivet
    features = [
        Feature(
            id=f"{piece}.fold_line.{first}",
            kind="fold",
            action="fold",
            purpose="fold_line",
            x=side.at(turn.middle),
        )
    ]
    if turn.slot:
        features += _prong_slots(turn.slot, turn, side)
    for index in range(0 if turn.hold.is_stitched else turn.count):
        away = index * turn.spacing
        front, tail = first + index, first + turn.count + index
        loops = turn.loops if turn.loops and index < turn.loops.fixed else None
        between = tuple(f"{loops.piece}.keeper_rivet.{n}" for n in (1, 2)) if loops else ()
        for n, mate, place in ((front, tail, turn.front + away), (tail, front, turn.innermost - away)):
            mates = (f"{piece}.fold_rivet.{mate}", *between)
            hold = loops.hold if loops else turn.hold
            features.append(rivet(hold, piece, "fold_rivet", n, side.at(place), mates))
    return [*features, *_keeper_marks(turn, side)]


def _keeper_marks(turn: TurnBack, side: Side) -> Iterator[Feature]:
    """Where fixed keepers are sewn in: those of the head have odd numbers. A riveted one lies over its rivet."""
    for n, place in enumerate(turn.fixed_keepers if turn.hold.is_stitched else ()):
        yield Feature(
            id=f"{side.piece}.fixed_keeper.{side.n + 2 * n}", kind="mark", action="mark", purpose="fixed_keeper",
            x=side.at(place),
        )  # fmt: skip


def _prong_slots(slot: Cut, turn: TurnBack, side: Side) -> Iterator[Feature]:
    """A slot for each prong: those of the head have odd numbers, those of the foot even ones."""
    for n, y in enumerate(turn.prong_places):
        yield Feature(
            id=f"{side.piece}.prong_slot.{side.n + 2 * n}", kind="slot", action="punch", purpose="prong_slot",
            x=side.at(turn.middle), y=y, length=slot.length, width=slot.width, tool=slot.tool, method=slot.method,
        )  # fmt: skip


def fold_line(job: Job, turn: TurnBack, form: EndForm, width: Nm, side: Side) -> Iterator[StitchLine]:
    """The lines along both edges that hold a turned-back end of this form and width, on the front ply.

    They go from where the innermost rivet would stand to `inset` before the strip's end, and never across the strap: it
    tears at a line across it (a saddlery's rule). There are none where they have no room, and none where it is riveted.
    """
    if not turn.hold.is_stitched:
        return
    inset = job.stitch_inset
    y = width // 2 - inset
    first = turn.front
    if y <= 0:
        return
    last = turn.landing - least_from_end(form, width // 2, y, inset)
    if last <= first:
        return
    spans = [(first, first + turn.gap[0]), (first + turn.gap[1], last)] if turn.gap else [(first, last)]
    for part, span in enumerate(spans):
        if span[1] > span[0]:
            yield from side_lines("fold_stitch", side, span, y, job, part)


def stitch_from(job: Job, turn: TurnBack) -> Nm | None:
    """Where the edges' line begins behind a turned-back end.

    A lining is stitched on along the whole strip before that is folded and riveted: then nowhere. Otherwise the line
    stays clear of what is turned back, by the inset.
    """
    if job.edge_stitched and (turn.hold.is_stitched or job.lining is None):
        return turn.landing + job.stitch_inset
    return None
