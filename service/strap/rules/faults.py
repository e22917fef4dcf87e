"""Failed rules, told to the field that the maker can change: stable code, place in the spec, one sentence."""

from collections.abc import Iterable

from service.strap.errors import Fault, FigureFault, Path
from service.strap.model.job import Job
from service.strap.model.rule import Code, Kind, Measured
from service.strap.model.short_form import said_at
from service.strap.plane.lengths import readings
from service.words import opening, say, say_list

_NAMES: dict[Kind, str] = {
    "joint": "a joint rivet", "fold_rivet": "a fold rivet", "keeper_rivet": "the keeper's rivet",
    "keeper_place": "a keeper", "fixed_keeper": "a fixed keeper",
    "hanger": "the hanging hole", "prong_slot": "the prong's slot", "size_hole": "a size hole",
    "snap_cap": "the snap's cap", "snap_stud": "the snap's stud",
    "ornament": "an ornament", "between": "a small ornament between", "border": "a border spot",
    "lead": "the collar ring",
    "edge_stitch": "the line of stitches along the edges", "fold_stitch": "the stitches of the fold",
    "splice": "a splice", "splice_stitch": "the stitches of a splice", "fold_line": "a fold",
    "joint_stitch": "the stitches of the joint",
}  # fmt: skip


def faults_of(measures: Iterable[Measured], job: Job) -> tuple[Fault, ...]:
    """One fault for each failed rule and field: the worst place of each.

    A rule that gives way to others is not told where they are told of the same field.
    """
    worst: dict[tuple[Path, str], tuple[int, Fault, tuple[Code, ...]]] = {}
    for measured in measures:
        if measured.room < 0:
            fault = _fault(measured, job)
            key = (fault.path, fault.code)
            if key not in worst or -measured.room > worst[key][0]:
                worst[key] = (-measured.room, fault, measured.rule.unless)
    return tuple(
        fault for _, fault, unless in worst.values() if not any((fault.path, code.name) in worst for code in unless)
    )


def _fault(measured: Measured, job: Job) -> Fault:
    blame = measured.rule.blame(measured, job)
    at = measured.check.at
    of_foot = "foot" in measured.kinds or any(each.startswith("foot_") for each in (*measured.kinds, *at))
    return FigureFault(
        path=said_at(job.spec, blame.path(measured, job), of_foot=of_foot)[0],
        code=blame.code.name,
        detail=sentence(measured, job),
        limit=measured.limit,
        found=measured.value,
        cure=blame.cure,
    )


def sentence(measured: Measured, job: Job) -> str:
    """What a failed rule tells the maker, in the readings of the job."""
    rule, kinds = measured.rule, measured.kinds
    what = say_list(say(_NAMES.get(kind, kind.replace("_", " "))) for kind in kinds)
    if rule.of_pairs and len(kinds) == 1:
        what = say("{what} and its neighbour", what=what)
    found, limit = readings(measured.value, measured.limit, job.units)
    text = rule.overlap if rule.overlap and measured.value < 0 else rule.sentence
    told = say(
        text,
        what=what,
        What=opening(what),
        found=found,
        found_abs=readings(abs(measured.value), 0, job.units)[0],
        limit=limit,
    )
    return told + rule.advice(job) if rule.advice else told
