"""A one-piece strap: one strip folded round the buckle at one end, pointed and holed at the other."""

from dataclasses import replace

from service.shop.goods import Nm
from service.strap.making.decoration import Run, decorate
from service.strap.making.made import Made, Measures, buckled_finish, keeper_piece, length_for, lining_of, piece
from service.strap.making.stitching import edge_lines, fold_line, from_turn
from service.strap.making.tongue import Tongue, size_hole_features, tongue
from service.strap.making.turn_back import TurnBack, buckle_turn_back, turn_back_features
from service.strap.model.job import Job, said
from service.strap.model.pattern import Placement, StitchLine
from service.strap.plane.outline import strap_outline
from service.strap.plane.spacing import nearest, round_up


def measure(job: Job) -> Measures:
    """Settle every length. The free run goes from where the tail lands to the shop's distance before the first hole."""
    turn = buckle_turn_back(job, job.end_distance, job.joint_count)
    length, tail = _settle(job, turn, tongue(job, turn))
    shortest = turn.landing + job.rules.first_size_hole + tail.row + tail.tip
    return Measures(length=length, shortest=shortest, run=_run(job, length, turn, tail), turn=turn, tongue=tail)


def _settle(job: Job, turn: TurnBack, tail: Tongue) -> tuple[Nm, Tongue]:
    """The strip's length, and the tongue with what a ruler leaves over in its tip.

    A strip of a given length keeps it, and a finished length its hole; a girth's hole goes to the nearest graduation.
    A tip of a given length takes nothing up.
    """
    size, behind = job.spec.size, tail.row - tail.to_nominal
    over = job.grid if job.spec.billet.tip_length is None else 1
    outer_edge, to_frame = turn.fold.outer_edge, said(job.buckle).bar_to_frame
    asked = length_for(job, turn.bar_offset - tail.beyond_nominal, outer_edge, to_frame)
    hole = asked - tail.beyond_nominal
    if size.girth is not None:
        hole = nearest(hole, job.grid)
    elif size.body_length is not None:
        hole = hole // over * over
    length = asked if size.body_length is not None else round_up(hole + tail.beyond_nominal, over)
    return length, replace(tail, tip=length - hole - behind)


def _run(job: Job, length: Nm, turn: TurnBack, tail: Tongue) -> Run:
    start = turn.landing
    end = length - tail.tip - tail.row - job.rules.first_size_hole
    clear = job.rules.hardware_clear
    return Run(
        piece="strap",
        length=length,
        width=job.body_width,
        outline=strap_outline(length, job.body_width, ("square", 0), job.tip),
        start=start,
        end=end,
        start_keep=clear,
        end_keep=clear,
        border_start=start + clear,
        border_end=end - clear,
        guard=job.body_width,
        covered=tail.beyond_nominal - turn.bar_offset,
    )


def make(job: Job, measures: Measures) -> Made:
    """The strip, its keeper, and how they lie."""
    turn, tail, run = said(measures.turn), said(measures.tongue), measures.run
    first = run.length - tail.tip - tail.row
    features = turn_back_features(job, "strap", turn, lambda x: x)
    features += decorate(job, run, said(measures.stations))
    features += size_hole_features(job, "strap", first, tail)
    strip = piece(job, "strap", run.length, run.width, run.outline, features, stitched=_stitched(job, run, turn))
    back = turn.fold.bar_to_rivet + turn.innermost
    return Made(
        pieces=(strip, *lining_of(job, strip), *([keeper_piece(job)] if job.keeper else [])),
        placements=(
            Placement(piece="strap", offset=back, direction=-1, from_x=0, to_x=turn.middle, layer=0),
            Placement(
                piece="strap",
                offset=turn.bar_offset,
                direction=1,
                from_x=turn.middle,
                to_x=run.length,
                layer=1,
            ),
        ),
        finished=buckled_finish(job, first + turn.bar_offset, tail, turn.fold.outer_edge),
    )


def _stitched(job: Job, run: Run, turn: TurnBack) -> tuple[StitchLine, ...]:
    box = fold_line(job, "strap", turn, (run.outline.head, run.width))
    return (*edge_lines(job, "strap", run.outline, from_turn(job, turn)), *((box,) if box else ()))
