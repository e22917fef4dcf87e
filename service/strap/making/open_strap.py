"""An open strap: one strip without a buckle, each end plain, with a hanging hole, or folded round a ring."""

from dataclasses import dataclass

from service.shop.goods import Nm, Ring
from service.strap.making.decoration import Run, decorate
from service.strap.making.made import Made, Measures, length_for, lining_of, piece
from service.strap.making.stitching import edge_lines, fold_line, from_turn, turned_round
from service.strap.making.turn_back import TurnBack, ring_turn_back, turn_back_features
from service.strap.model.hardware import Cut, slot_for
from service.strap.model.job import Job, end_shape, said
from service.strap.model.pattern import Feature, Finished, Placement, StitchLine
from service.strap.model.spec import StrapEnd
from service.strap.plane.outline import strap_outline


@dataclass(frozen=True, slots=True, kw_only=True)
class _EndMeasures:
    """One end, in distances from the strip's own end.

    `anchor` is where the free run begins, `keep` what an ornament's rim keeps from it, `border` where a
    spot near the centre line may begin, `taken` what folding takes off the finished length.
    """

    end: StrapEnd
    turn: TurnBack | None
    hole: Nm | None
    anchor: Nm
    keep: Nm
    border: Nm
    taken: Nm
    ring: Ring | None


def _measure_end(job: Job, end: StrapEnd, ring: Ring | None) -> _EndMeasures:
    clear, depth = job.rules.hardware_clear, said(end.depth)
    radius = job.largest.diameter // 2 if job.largest else 0
    if ring:
        turn = ring_turn_back(job, ring)
        taken = turn.front - turn.fold.bar_to_rivet - turn.fold.outer_edge
        return _EndMeasures(
            end=end, turn=turn, hole=None, anchor=turn.landing, keep=clear, border=turn.landing + clear,
            taken=taken, ring=ring,
        )  # fmt: skip
    if end.kind in ("hole", "slot"):
        at, half = job.end_distance, hang_cut(job, end).width // 2
        keep = max(half + clear, depth - at - radius)
        return _EndMeasures(
            end=end, turn=None, hole=at, anchor=at, keep=keep, border=at + half + clear, taken=0, ring=None
        )
    keep = max(job.rules.ornament_edge, depth - radius)
    return _EndMeasures(end=end, turn=None, hole=None, anchor=0, keep=keep, border=0, taken=0, ring=None)


def _both_ends(job: Job) -> tuple[_EndMeasures, _EndMeasures]:
    ends = job.spec.ends
    return _measure_end(job, ends.head, job.head_ring), _measure_end(job, ends.foot, job.foot_ring)


def measure(job: Job) -> Measures:
    """Settle every length. A finished length runs over all, between the outer edges of folds or plain ends."""
    head, foot = _both_ends(job)
    length = length_for(job, -head.taken - foot.taken, 0, 0)
    shortest = max(head.anchor + foot.anchor, said(head.end.depth) + said(foot.end.depth)) + job.end_distance
    return Measures(length=length, shortest=shortest, run=_run(job, length, head, foot))


def _run(job: Job, length: Nm, head: _EndMeasures, foot: _EndMeasures) -> Run:
    return Run(
        piece="strap",
        length=length,
        width=job.body_width,
        outline=strap_outline(length, job.body_width, end_shape(head.end), end_shape(foot.end)),
        start=head.anchor,
        end=length - foot.anchor,
        start_keep=head.keep,
        end_keep=foot.keep,
        border_start=head.border,
        border_end=length - foot.border,
        guard=_guard(job, head, foot),
    )


def _guard(job: Job, head: _EndMeasures, foot: _EndMeasures) -> Nm:
    """How far from the centre line a border spot has to mind the ends: a folded end takes the whole width."""
    if head.ring or foot.ring:
        return job.body_width
    return max(hang_cut(job, end.end).length // 2 if end.hole is not None else 0 for end in (head, foot))


def make(job: Job, measures: Measures) -> Made:
    """The strip and how it lies."""
    head, foot = _both_ends(job)
    run = measures.run
    features = [*_end_features(job, head, None, 1)]
    features += decorate(job, run, said(measures.stations))
    rivets = 2 * head.turn.count if head.turn else 0
    stitched = _stitched(job, run, head, foot)
    features += _end_features(job, foot, run.length, rivets + 1)
    strip = piece(job, "strap", run.length, run.width, run.outline, features, stitched=stitched)
    return Made(
        pieces=(strip, *lining_of(job, strip)),
        placements=_placements(run.length, head, foot),
        finished=_finished(run.length, head, foot),
    )


def _stitched(job: Job, run: Run, head: _EndMeasures, foot: _EndMeasures) -> tuple[StitchLine, ...]:
    """The edges between the folds, and a rectangle in each fold."""
    start = from_turn(job, head.turn) if head.turn else None
    end = from_turn(job, foot.turn) if foot.turn else None
    lines = list(edge_lines(job, "strap", run.outline, start, None if end is None else run.length - end))
    for turn, form in ((head.turn, run.outline.head), (foot.turn, run.outline.foot)):
        box = fold_line(job, "strap", turn, (form, run.width), 1 if turn is head.turn else 2) if turn else None
        if box:
            lines.append(box if turn is head.turn else turned_round(box, run.length))
    return tuple(lines)


def _end_features(job: Job, end: _EndMeasures, far: Nm | None, first: int) -> list[Feature]:
    def place(x: Nm) -> Nm:
        return x if far is None else far - x

    if end.turn:
        return turn_back_features(job, "strap", end.turn, place, first)
    if end.hole is None:
        return []
    return [_hanger(hang_cut(job, end.end), end.end, place(end.hole), 1 if far is None else 2)]


def hang_cut(job: Job, end: StrapEnd) -> Cut:
    """A hanging hole by the punch of just this diameter, if the shop has one, or a slot that passes a lace."""
    if end.kind == "slot":
        length = said(end.slot)
        return slot_for(length, job.rules.lace_thickness, length // 16, job.shop)
    punches = job.shop.round_punches.values()
    tool = next((punch.id for punch in punches if punch.diameter == end.hole), None)
    return Cut(length=said(end.hole), width=said(end.hole), tool=tool)


def _hanger(cut: Cut, end: StrapEnd, x: Nm, n: int) -> Feature:
    name = f"strap.hanger.{n}"
    if end.kind == "slot":
        return Feature(
            id=name, kind="slot", action="punch", purpose="hanger", x=x, length=cut.length, width=cut.width,
            angle=90, tool=cut.tool, method=cut.method,
        )  # fmt: skip
    return Feature(id=name, kind="hole", action="punch", purpose="hanger", x=x, diameter=cut.length, tool=cut.tool)


def _placements(length: Nm, head: _EndMeasures, foot: _EndMeasures) -> tuple[Placement, ...]:
    """Made-up x = 0 at the head's outer edge."""
    offset = -head.taken
    start, end = 0, length
    plies = []
    if head.turn:
        start = head.turn.middle
        back = head.turn.fold.outer_edge + head.turn.fold.bar_to_rivet + head.turn.innermost
        plies.append(Placement(piece="strap", offset=back, direction=-1, from_x=0, to_x=start, layer=0))
    if foot.turn:
        end = length - foot.turn.middle
        tail_end = length + offset - foot.turn.landing
        plies.append(Placement(piece="strap", offset=tail_end + length, direction=-1, from_x=end, to_x=length, layer=0))
    front = Placement(piece="strap", offset=offset, direction=1, from_x=start, to_x=end, layer=1)
    return (*plies, front)


def _finished(length: Nm, head: _EndMeasures, foot: _EndMeasures) -> Finished:
    over_all = length - head.taken - foot.taken
    from_bar, from_frame = over_all, over_all
    for end in (head, foot):
        if end.turn and end.ring:
            from_bar -= end.turn.fold.outer_edge
            from_frame += end.ring.reach - end.turn.fold.outer_edge
    return Finished(
        measured_from="ends",
        length=over_all,
        from_fold=over_all,
        from_bar=from_bar,
        from_frame=from_frame,
        holes=(),
        weight_mg=0,
    )
