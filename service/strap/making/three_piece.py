"""A three-piece strap: a decorated body, a buckle billet and a tongue billet riveted over its ends, a keeper.

Made up, from the buckle: bar, fold rivet, the body's end, joint, body, joint, size holes, tip.
"""

from service.shop.goods import Nm
from service.strap.making.decoration import Run, decorate
from service.strap.making.made import Made, Measures, buckled_finish, keeper_piece, length_for, lining_of, piece
from service.strap.making.stitching import edge_lines, fold_line
from service.strap.making.tongue import Tongue, size_hole_features, tongue
from service.strap.making.turn_back import TurnBack, buckle_turn_back, rivet, turn_back_features
from service.strap.model.job import Job, said
from service.strap.model.pattern import Feature, Piece, PieceName, Placement
from service.strap.plane.outline import strap_outline
from service.strap.plane.spacing import nearest, round_up


def measure(job: Job) -> Measures:
    """Settle every length. The turned-back tail runs up to the body's end, less the shop's gap."""
    turn = buckle_turn_back(job, max(_rivet_to_body(job) - job.rules.tail_gap, job.rules.end_distance), 1)
    tail = tongue(job, turn)
    beside = _body_offset(job, turn) - job.overlap + _first_hole(job) + tail.to_nominal
    asked = length_for(job, beside, turn.fold.outer_edge, said(job.buckle).bar_to_frame)
    length, cover = _settle(job, asked)
    covered = tail.beyond_nominal - _body_offset(job, turn)
    run = _run(job, length, cover, covered)
    return Measures(length=length, shortest=2 * job.overlap + cover, run=run, turn=turn, tongue=tail, cover=cover)


def _settle(job: Job, asked: Nm) -> tuple[Nm, Nm]:
    """The body's length on a ruler, and how far it then reaches on under the tongue billet.

    A given length stays, a girth's goes to the nearest graduation; a finished length keeps its holes, and the joint
    covers what is left over.
    """
    size, grid = job.spec.size, job.grid
    if size.body_length is not None:
        return asked, 0
    if size.girth is not None:
        return nearest(asked, grid), 0
    length = round_up(asked, grid)
    return length, length - asked


def _rivet_to_body(job: Job) -> Nm:
    """From the first fold rivet to the body's end under the billet."""
    return job.rules.first_fold_rivet - job.end_distance


def _body_offset(job: Job, turn: TurnBack) -> Nm:
    """From the bar's axis to the body's end, made up."""
    return turn.fold.bar_to_rivet + _rivet_to_body(job)


def _first_hole(job: Job) -> Nm:
    """From the tongue billet's riveted end to the first size hole."""
    return job.overlap - job.end_distance + job.rules.first_size_hole


def _run(job: Job, length: Nm, cover: Nm, covered: Nm) -> Run:
    inner = job.overlap - job.end_distance
    keep = max(job.fastener.cap_diameter // 2, job.end_distance) + job.rules.hardware_clear
    billet_end = job.overlap + job.rules.hardware_clear
    return Run(
        piece="body",
        length=length,
        width=job.body_width,
        outline=strap_outline(length, job.body_width, job.body_end, job.body_end),
        start=inner,
        end=length - cover - inner,
        start_keep=keep,
        end_keep=keep,
        border_start=billet_end,
        border_end=length - cover - billet_end,
        guard=job.strap_width // 2,
        covered=covered,
    )


def make(job: Job, measures: Measures) -> Made:
    """The pieces and how they lie."""
    turn, tail = said(measures.turn), said(measures.tongue)
    body = _body(job, measures)
    buckle_billet, tongue_billet = _buckle_billet(job, turn), _tongue_billet(job, tail)
    pieces = [body, *lining_of(job, body), buckle_billet, tongue_billet]
    pieces += [keeper_piece(job)] if job.keeper else []
    body_x = _body_offset(job, turn)
    tongue_x = body_x + body.length - measures.cover - job.overlap
    return Made(
        pieces=tuple(pieces),
        placements=_placements(turn, buckle_billet, body, body_x, tongue_billet, tongue_x),
        finished=buckled_finish(job, tongue_x + _first_hole(job), tail, turn.fold.outer_edge),
    )


def _body(job: Job, measures: Measures) -> Piece:
    run, count = measures.run, job.joint_count
    features: list[Feature] = []
    for first, billet, far in ((1, "buckle_billet", None), (count + 1, "tongue_billet", run.length - measures.cover)):
        for index in range(count):
            away = job.end_distance + index * job.joint_spacing
            x = away if far is None else far - away
            features.append(rivet(job, "body", "joint", first + index, x, (f"{billet}.joint.{count - index}",)))
    features += decorate(job, run, said(measures.stations))
    stitched = edge_lines(job, "body", run.outline)
    return piece(job, "body", run.length, run.width, run.outline, features, stitched=stitched)


def _joint(job: Job, name: PieceName, far_end: Nm | None, body_first: int) -> list[Feature]:
    """A billet's joint holes, counted from its riveted end: at the origin, or at `far_end`.

    Hole i meets the body's hole (count + 1 - i) of that end.
    """
    holes = []
    for index in range(job.joint_count):
        away = job.end_distance + index * job.joint_spacing
        mate = f"body.joint.{body_first + job.joint_count - index - 1}"
        x = away if far_end is None else far_end - away
        holes.append(rivet(job, name, "joint", index + 1, x, (mate,)))
    return holes


def _buckle_billet(job: Job, turn: TurnBack) -> Piece:
    length = turn.front + job.rules.first_fold_rivet + job.overlap - job.end_distance
    outline = strap_outline(length, job.strap_width, ("square", 0), job.tip)
    features = turn_back_features(job, "buckle_billet", turn, lambda x: x)
    features += _joint(job, "buckle_billet", length, 1)
    box = fold_line(job, "buckle_billet", turn, (outline.head, job.strap_width))
    stitched = (box,) if box else ()
    return piece(job, "buckle_billet", length, job.strap_width, outline, features, stitched=stitched)


def _tongue_billet(job: Job, tail: Tongue) -> Piece:
    first = _first_hole(job)
    length = first + tail.row + tail.tip
    outline = strap_outline(length, job.strap_width, job.tip, job.tip)
    features = _joint(job, "tongue_billet", None, job.joint_count + 1)
    features += size_hole_features(job, "tongue_billet", first, tail)
    return piece(job, "tongue_billet", length, job.strap_width, outline, features)


def _placements(
    turn: TurnBack, billet: Piece, body: Piece, body_x: Nm, tongue_billet: Piece, tongue_x: Nm
) -> tuple[Placement, ...]:
    front, back = turn.bar_offset, turn.fold.bar_to_rivet + turn.innermost
    return (
        Placement(piece="buckle_billet", offset=back, direction=-1, from_x=0, to_x=turn.middle, layer=0),
        Placement(piece="body", offset=body_x, direction=1, from_x=0, to_x=body.length, layer=1),
        Placement(piece="buckle_billet", offset=front, direction=1, from_x=turn.middle, to_x=billet.length, layer=2),
        Placement(piece="tongue_billet", offset=tongue_x, direction=1, from_x=0, to_x=tongue_billet.length, layer=2),
    )
