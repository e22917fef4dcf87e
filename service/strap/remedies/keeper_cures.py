"""Cures for keepers between ornaments that have no room."""

from service.strap.errors import FigureFault
from service.strap.model.job import Job
from service.strap.model.spec_changes import Change
from service.strap.remedies.cure_tools import LEAVE_OUT, Candidates, ruler_step
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
