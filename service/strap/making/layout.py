"""From a job to its pattern, whichever the construction. Checks nothing but that the ends have room."""

from dataclasses import replace
from types import ModuleType

from service.strap.making import one_piece, open_strap, three_piece
from service.strap.making.made import Measures, hardware_of, refuse_if_short, weight_of
from service.strap.making.past_tip import settle
from service.strap.model.job import Job
from service.strap.model.pattern import Pattern

_CONSTRUCTIONS: dict[str, ModuleType] = {
    "three_piece": three_piece,
    "one_piece": one_piece,
    "open": open_strap,
}


def measure_lengths(job: Job) -> Measures:
    """Every length of the strap, before its pieces are drawn; its run may still give way to the tip."""
    measures: Measures = _CONSTRUCTIONS[job.spec.construction].measure(job)
    return measures


def measure(job: Job) -> Measures:
    """Every length of the strap, its run from where the row begins, and the row on it."""
    measures = measure_lengths(job)
    run, stations = settle(job, measures.run)
    return replace(measures, run=run, stations=stations)


def lay_out(job: Job) -> Pattern:
    """The pattern without its checks. Raises `Refusal` where the size is too short for the ends alone."""
    measures = measure(job)
    refuse_if_short(job, measures.length, measures.shortest)
    made = _CONSTRUCTIONS[job.spec.construction].make(job, measures)
    hardware = hardware_of(job, made.pieces)
    finished = replace(made.finished, weight_mg=weight_of(job, made.pieces, hardware))
    spec = replace(job.spec, size=replace(job.spec.size, table=None, label=None))
    return Pattern(
        spec=spec,
        finished=finished,
        pieces=made.pieces,
        placements=made.placements,
        hardware=hardware,
        size_label=job.given.size.label,
    )
