"""Cures for tapers and cut edges that the strap has no room for."""

from service.shop.goods import Nm
from service.strap.errors import FigureFault, Path
from service.strap.model.job import Job
from service.strap.model.spec_changes import Change
from service.strap.remedies.cure_tools import Candidates, longer, ruler_step


def shorter_taper(job: Job, fault: FigureFault) -> Candidates:
    """Shorter tapers, a longer strap, or one width all along."""
    short, given = -fault.short, job.spec.body.taper
    named = [(name, taper) for name, taper in zip(("head", "foot"), job.spec.body.narrows, strict=True) if taper]
    if given and given.to is not None:
        yield _over(job, ("body", "taper"), named[0][1].over - -(-short // 2))
    else:
        for name, taper in named:
            yield _over(job, ("body", "taper", name), taper.over - short)
        if len(named) > 1:
            yield tuple(_over(job, ("body", "taper", name), taper.over - -(-short // 2)) for name, taper in named)
    yield from longer(job, short)
    yield Change(path=("body", "taper"), value=None, why="leave out the taper")


def straight_edge(job: Job, fault: FigureFault) -> Candidates:
    """A finer repeat, a longer strap, or straight edges."""
    step = ruler_step(job) // 2
    if fault.found >= step:
        yield Change(path=fault.path, value=fault.found // step * step, is_length=True, why="cut it finer")
    yield from longer(job, fault.short)
    yield Change(path=("body", "edge"), value=None, why="leave the edges straight")


def by_hand(job: Job, fault: FigureFault) -> Candidates:
    """An iron of another repeat, a longer strap, or the same edge cut by hand along a template."""
    place, edging = fault.path[:-1], job.spec.edging
    cut = job.spec.body.cut if place == ("body", "edge") else (edging.cut if edging else None)
    if cut is None:
        return
    for iron in job.shop.edge_irons.values():
        if iron.shape == cut.shape and iron.id != cut.iron:
            yield Change(path=fault.path, value=iron.id, why="take another iron")
    yield from longer(job, cut.repeat)
    yield (
        Change(path=fault.path, value=None, why="cut it along a template"),
        Change(path=(*place, "shape"), value=cut.shape, why="cut it along a template"),
        Change(path=(*place, "repeat"), value=cut.repeat, is_length=True, why="cut it along a template"),
        Change(path=(*place, "depth"), value=cut.depth, is_length=True, why="cut it along a template"),
    )


def _over(job: Job, place: Path, over: Nm) -> Change:
    """A taper over a length that a ruler shows; one that is too steep then is not taken."""
    step = ruler_step(job)
    return Change(path=(*place, "over"), value=max(over // step, 1) * step, is_length=True, why="narrow it over less")
