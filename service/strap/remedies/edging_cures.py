"""Cures for edgings that have no room, stand out too far, or lie in the way."""

from service.strap.errors import FigureFault
from service.strap.model.job import Job
from service.strap.model.places import part_path
from service.strap.model.spec_changes import Change
from service.strap.plane.spacing import round_up
from service.strap.remedies.cure_tools import LEAVE_OUT, Candidates, longer, ruler_step, smaller_ornaments, wider

_LEFT_OUT = Change(path=("edging",), value=None, why="leave out the edging")


def edging_room(job: Job, fault: FigureFault) -> Candidates:
    """A longer strap, or none."""
    yield from longer(job, fault.short)
    yield _LEFT_OUT


def edging_reach(job: Job, fault: FigureFault) -> Candidates:
    """One that stands out as far as it is held, or stitches farther inside."""
    step = ruler_step(job) // 4
    yield Change(path=fault.path, value=fault.limit // step * step, is_length=True, why="let it stand out less")
    inset = round_up(job.stitch_inset + -fault.short, ruler_step(job) // 2)
    yield Change(path=("stitching", "inset"), value=inset, is_length=True, why="stitch farther from the edge")
    yield _LEFT_OUT


def edging_seen(job: Job, fault: FigureFault) -> Candidates:
    """One that stands out to its roots, or a straight one."""
    edging = job.spec.edging
    if edging is None or edging.cut is None:
        return
    yield Change(path=fault.path, value=edging.cut.depth, is_length=True, why="let it stand out farther")
    kept = ("repeat", "depth", "iron")
    unsaid = (Change(path=("edging", name), value=None, why="leave it straight") for name in kept)
    yield (*unsaid, Change(path=("edging", "shape"), value="straight", why="leave it straight"))
    yield _LEFT_OUT


def edging_clear(job: Job, fault: FigureFault) -> Candidates:
    """What lies in the way farther inside or smaller, a wider strap, or no edging."""
    for index, border in enumerate(job.spec.borders):
        path = (*part_path("border", job.spec.border, index), "inset")
        inset = round_up(border.inset + fault.short, ruler_step(job) // 2)
        yield Change(path=path, value=inset, is_length=True, why="move them away from the edging")
    if job.stitch_inset > job.rules.stitch_edge:
        inset = job.rules.stitch_edge
        yield Change(path=("stitching", "inset"), value=inset, is_length=True, why="stitch nearer the edge")
    yield from wider(job, 2 * fault.short)
    for part in ("border", "between", "ornaments"):
        yield from smaller_ornaments(job, part)
    if job.borders:
        yield LEAVE_OUT["border"]
    yield _LEFT_OUT
