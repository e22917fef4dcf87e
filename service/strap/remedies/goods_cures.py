"""Cures by other goods: fasteners that hold, ornaments that fit, punches that the shop has, leathers and linings."""

from service.shop.ornaments import Ornament
from service.strap.errors import FigureFault, Path
from service.strap.model.hardware import fitting_fasteners
from service.strap.model.job import Job
from service.strap.model.places import value_at
from service.strap.model.plies import stack
from service.strap.model.spec_changes import Change
from service.strap.remedies.cure_tools import Candidates, by_thickness, in_its_place, wider
from service.strap.remedies.stitch_cures import asked_to_hold, other_linings, other_plies, other_purpose


def other_fastener(job: Job, fault: FigureFault) -> Candidates:
    """Fasteners that hold the stack, then linings and leathers that one holds."""
    yield from _unscrewed(job)
    if job.lining:
        yield Change(path=fault.path, value=None, why="let the shop choose the fastener")
    for fastener in fitting_fasteners(stack(job.plies.joint), job.shop, job.fastener):
        if fastener.id != job.fastener.id:
            yield Change(path=fault.path, value=fastener.id, why="take a fastener that holds this stack")
    yield from other_plies(job, fault)


def _unscrewed(job: Job) -> Candidates:
    """Rivets in place of screws, wherever these were asked for."""
    yield from (Change(path=path, value=None, why="rivet it") for path in asked_to_hold(job, "screws"))


def other_item(job: Job, fault: FigureFault) -> Candidates:
    """Another way to line, other linings; others of its family, the nearest in size first; leathers; other families."""
    yield from other_purpose(job)
    yield from other_linings(job, fault)
    item = job.shop.ornaments.get(str(value_at(job.spec, fault.path)))
    yield from _in_its_place(job, fault.path, item, alike=True)
    yield from _other_leather(job)
    yield from _in_its_place(job, fault.path, item, alike=False)


def other_snap(job: Job, fault: FigureFault) -> Candidates:
    """Other snaps, of both ends where they close on one another, the nearest in size first; then a wider strap.

    One that breaks away stands for none that holds, nor the other way round.
    """
    ends = [end.outermost for end in job.ends if end.outermost.snap]
    present = next(end.snap for end in ends if end.snap)
    for other in sorted(job.shop.snaps.values(), key=lambda each: abs(each.cap_diameter - present.cap_diameter)):
        if other.id != present.id and other.breaks_away is present.breaks_away:
            yield tuple(Change(path=(*end.place, "snap"), value=other.id, why="take a snap that fits") for end in ends)
    yield from _other_leather(job)
    yield from wider(job, 2 * fault.short)


def lining_steep(job: Job, fault: FigureFault) -> Candidates:
    """Lower backs or none to cover; else more room beside them."""
    yield from other_item(job, fault)
    yield from wider(job, 2 * fault.short)


def _in_its_place(job: Job, path: Path, item: Ornament | None, *, alike: bool) -> Candidates:
    """Other ornaments, of the same family or of another, the nearest in size first."""
    if item is None:
        return
    others = [each for each in job.shop.ornaments.values() if each.id != item.id]
    for other in sorted(others, key=lambda each: abs(each.diameter - item.diameter)):
        if (other.family == item.family) == alike:
            yield in_its_place(job, path, other.id, "take one that fits this leather")


def _other_leather(job: Job) -> Candidates:
    for leather in by_thickness(job):
        yield Change(path=("leather",), value=leather.id, why="take another leather")


def hanging_hole(job: Job, fault: FigureFault) -> Candidates:
    """Hanging holes of a size that the shop has a punch for, the nearest first."""
    asked = fault.found
    diameter = int(str(value_at(job.spec, fault.path)))
    punches = (punch.diameter for punch in job.shop.round_punches.values())
    nearest = sorted(punches, key=lambda punch: abs(abs(punch - diameter) - asked))
    for size in nearest[:2]:
        yield Change(path=fault.path, value=size, is_length=True, why="take a punch that this shop has")


def fastener_for_punch(job: Job, fault: FigureFault) -> Candidates:
    """Whatever fasteners the shop has: one may have a punch."""
    for fastener in job.shop.fasteners.values():
        yield Change(path=fault.path, value=fastener.id, why="take a fastener that a punch fits")
