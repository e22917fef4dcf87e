"""Cures for lines of stitches that have no room, and for linings that nothing holds."""

from collections.abc import Iterator

from service.shop.goods import Leather, Nm
from service.strap.errors import FigureFault, Path
from service.strap.model.hardware import fitting_fasteners, holds
from service.strap.model.job import Job
from service.strap.model.places import lining_path, part_path
from service.strap.model.plies import plies_of, stack
from service.strap.model.sewing import sewing
from service.strap.model.spec import Hold
from service.strap.model.spec_changes import Change
from service.strap.plane.spacing import round_up
from service.strap.remedies.cure_tools import Candidates, longer, ruler_step, smaller_ornaments, wider


def stitches_crowded(job: Job, fault: FigureFault) -> Candidates:
    """The line nearer the edge, what stands in its way farther from it, a wider strap, or no stitches there."""
    short = fault.short
    yield from _insets(job, short)
    yield from _borders_aside(job, short)
    yield from wider(job, 2 * short)
    yield Change(path=("stitching", "edges"), value=False, why="leave the edges unstitched")
    for part in ("border", "between", "ornaments"):
        yield from smaller_ornaments(job, part)
    end = round_up(job.end_distance + short, ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the stitches")


def stitches_near_edge(job: Job, _fault: FigureFault) -> Candidates:
    """The shop's usual inset, or the least."""
    for inset in sorted((job.shop.defaults.in_units(job.units).stitch_inset, job.rules.stitch_edge), reverse=True):
        if inset > sewing(job).inset:
            yield _inset(job, inset)


def stitches_without_room(job: Job, fault: FigureFault) -> Candidates:
    """The line as near the edge as may be, a strap with room for it, or no stitches there."""
    if job.rules.stitch_edge < job.stitch_inset:
        yield _inset(job, job.rules.stitch_edge)
    yield from wider(job, 2 * fault.short)
    yield from longer(job, 2 * (job.stitch_inset + fault.limit))
    yield Change(path=("stitching", "edges"), value=False, why="leave the edges unstitched")
    if any(end.outermost.hold and end.outermost.hold.is_stitched for end in job.ends):
        yield from _riveted(job)


def _insets(job: Job, short: Nm) -> Candidates:
    """Nearer the edge by so much, at a ruler's graduation if there is one; farther, past what stands outside."""
    least, step = job.rules.stitch_edge, ruler_step(job) // 2
    nearer = job.stitch_inset - short
    if nearer >= least:
        yield _inset(job, max(nearer // step * step, least))
    yield _inset(job, round_up(job.stitch_inset + short, step))


def _inset(job: Job, inset: Nm) -> Change:
    why = "stitch nearer the edge" if inset < sewing(job).inset else "stitch farther from the edge"
    return Change(path=("stitching", "inset"), value=inset, is_length=True, why=why)


def _borders_aside(job: Job, by: Nm) -> Candidates:
    """Border rows farther inside."""
    for index, border in enumerate(job.spec.borders):
        path = (*part_path("border", job.spec.border, index), "inset")
        inset = round_up(border.inset + by, ruler_step(job) // 2)
        yield Change(path=path, value=inset, is_length=True, why="move them away from the stitches")


def asked_to_hold(job: Job, hold: Hold) -> Iterator[Path]:
    """Where the spec asks for this to hold an end."""
    for end, said in zip(job.ends, job.spec.two.both, strict=True):
        if said.join == hold:
            yield (*end.place, "join")
        if said.outermost.hold == hold:
            yield (*end.outermost.place, "hold")


def _riveted(job: Job) -> Candidates:
    """Rivets in place of the stitches, wherever these were asked for."""
    if job.given.stitching and job.given.stitching.turn_back:
        yield Change(path=("stitching", "turn_back"), value=False, why="rivet the fold")
    yield from (Change(path=path, value=None, why="rivet it") for path in asked_to_hold(job, "stitches"))


def stitched_fold_short(job: Job, fault: FigureFault) -> Candidates:
    """A longer tail, stitches nearer the edge, or rivets."""
    end = round_up(job.end_distance + fault.short, ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="fold back more")
    if job.rules.stitch_edge < job.stitch_inset:
        yield _inset(job, job.rules.stitch_edge)
    yield from _riveted(job)


def other_plies(job: Job, fault: FigureFault) -> Candidates:
    """Linings, then leathers, that make stacks which a fastener holds; leathers for the joint's own first."""
    for change in other_linings(job, fault):
        if change.value is None or _held(job, job.leather, job.shop.leathers[str(change.value)]):
            yield change
    for leather in sorted(job.shop.leathers.values(), key=lambda each: not _holds(job, each)):
        if leather.id != job.leather.id and _held(job, leather, job.lining):
            yield Change(path=("leather",), value=leather.id, why="take a leather that a fastener holds")


def _held(job: Job, leather: Leather, lining: Leather | None) -> bool:
    """Whether there is a fastener for the fold, and one for the joint."""
    plies = plies_of(job.spec.two, leather, lining)
    return all(fitting_fasteners(stack(each), job.shop, job.fastener) for each in (plies.joint, plies.fold))


def _holds(job: Job, leather: Leather) -> bool:
    return holds(job.fastener, stack(plies_of(job.spec.two, leather, job.lining).joint))


def other_linings(job: Job, _fault: FigureFault) -> Iterator[Change]:
    """No lining, or another, the thinnest first."""
    if job.lining is None:
        return
    yield Change(path=("lining",), value=None, why="leave out the lining")
    for lining in sorted(job.shop.leathers.values(), key=lambda each: each.thickness):
        if lining.id != job.lining.id:
            yield Change(path=lining_path(job.spec), value=lining.id, why="take another lining")


def other_purpose(job: Job) -> Iterator[Change]:
    """The other way to line, where one was asked for; else the shop has looked at both."""
    path = ("lining", "purpose")
    if job.spec.lining_purpose == "carry":
        yield Change(path=path, value="cover", why="let the lining cover the backs")
    if job.spec.lining_purpose == "cover":
        yield Change(path=path, value="carry", why="set them through the lining too")
