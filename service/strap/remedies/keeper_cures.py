"""Cures for keepers that have no room between ornaments, and for fixed ones that nothing holds."""

from service.strap.errors import FigureFault
from service.strap.model.job import Job
from service.strap.model.places import length_at
from service.strap.model.spec_changes import Change
from service.strap.plane.spacing import round_up
from service.strap.remedies.cure_tools import LEAVE_OUT, Candidates, by_thickness, ruler_step
from service.strap.remedies.decoration_cures import crowded


def keepers_crowded(job: Job, fault: FigureFault) -> Candidates:
    """Narrower loops, a row with more room in its gaps, gaps and edges with nothing else in them; or no keepers."""
    keepers, step = job.spec.keepers_between, ruler_step(job) // 2
    narrower = (keepers.width - 2 * fault.short) // step * step if keepers else 0
    if narrower >= 2 * step:
        path = ("keepers_between", "width")
        yield Change(path=path, value=narrower, is_length=True, why="make the keepers narrower")
    for part in ("between", "border"):
        if getattr(job.spec, part) is not None:
            yield LEAVE_OUT[part]
    for change in crowded(job, fault):
        if change != LEAVE_OUT["ornaments"]:
            yield change
    yield Change(path=("keepers_between",), value=None, why="leave out the keepers")


def fixed_unriveted(job: Job, fault: FigureFault) -> Candidates:
    """No fastener holds the fold with a keeper in it: a loose one, stitches, or leathers of another thickness."""
    yield _loose(fault)
    yield Change(path=(*fault.path[:-1], "hold"), value="stitches", why="sew the fold, and the keeper in it")
    for leather in by_thickness(job):
        yield Change(path=("leather",), value=leather.id, why="take another leather")


def fixed_crowded(job: Job, fault: FigureFault) -> Candidates:
    """Narrower loops, rivets farther apart, or one keeper alone."""
    yield from _narrower(job, fault)
    step = ruler_step(job) // 2
    apart = round_up(job.joint_spacing + fault.short, step)
    yield Change(path=("joint", "spacing"), value=apart, is_length=True, why="set the fold's rivets farther apart")
    yield Change(path=(*fault.path[:-1], "keeper"), value="fixed", why="make one fixed keeper")


def fixed_unheld(job: Job, fault: FigureFault) -> Candidates:
    """Narrower loops, more of the strap turned back, or a loose keeper."""
    yield from _narrower(job, fault)
    longer = round_up(job.end_distance + 2 * fault.short, ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=longer, is_length=True, why="turn more of the strap back")
    yield _loose(fault)


def _narrower(job: Job, fault: FigureFault) -> Candidates:
    step = ruler_step(job) // 2
    for short in (fault.short, 2 * fault.short):
        narrower = ((length_at(job.spec, fault.path) or job.rules.keeper_width) - short) // step * step
        if narrower >= 2 * step:
            yield Change(path=fault.path, value=narrower, is_length=True, why="make the keepers narrower")


def _loose(fault: FigureFault) -> Change:
    return Change(path=(*fault.path[:-1], "keeper"), value="loose", why="let the keeper be a loose one")
