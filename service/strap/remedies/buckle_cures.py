"""Cures at the buckle: its width, its prong's slot and holes, the fold's tail and the keeper."""

from service.strap.ends.billet import BilletEnd
from service.strap.errors import FigureFault
from service.strap.model.hardware import fitting_fasteners, keeper_share, keeper_stack
from service.strap.model.job import Job
from service.strap.model.places import length_at, value_at
from service.strap.model.spec_changes import Change
from service.strap.plane.spacing import round_up
from service.strap.remedies.cure_tools import (
    Candidates,
    buckles_alike,
    by_thickness,
    likest_buckles,
    one_of_each_width,
    ruler_step,
    strap_for,
    width_with,
    with_buckle,
)
from service.strap.remedies.decoration_cures import crowded
from service.strap.rules.blame import row_at

_AS_USUAL = (
    Change(path=("billet", "prong_slot"), value=None, why="cut the slot as long as usual"),
    Change(path=("billet", "keeper_width"), value=None, why="make the keeper as wide as usual"),
)
"""What a spec says in place of the shop's rules, left to them again."""


def hole_near(job: Job, fault: FigureFault) -> Candidates:
    """On one strip the row of ornaments may come too near the size holes; else the buckle's frame is too long."""
    if not job.foot.is_billet:
        yield from crowded(job, fault)
    yield from other_buckle(job, fault)


def other_buckle(job: Job, _fault: FigureFault) -> Candidates:
    """Buckles that take this width; then the buckles in the shop, each with its width, the nearest width first.

    A buckle that needs its keeper keeps it, or the tip would hang loose; one that holds the tip itself may go without.
    """
    buckle = job.buckle
    if buckle is None:
        return
    for other in likest_buckles(job, buckle):
        if other.id != buckle.id and 0 <= other.inside_width - job.strap_width <= job.rules.buckle_slack:
            yield with_buckle(other, job, "take a buckle that fits")
    for other in sorted(one_of_each_width(job), key=lambda each: abs(strap_for(each, job) - job.strap_width)):
        if strap_for(other, job) != job.strap_width:
            yield width_with(other, job, "take the width of a buckle in stock")
    yield from as_usual(job)
    if job.keeper and not buckle.needs_keeper:
        yield Change(path=("billet", "keeper"), value=None, why="let the buckle hold the tip")


def keeper_unheld(job: Job, _fault: FigureFault) -> Candidates:
    """No fastener holds the keeper's lap: buckles that hold the tip themselves, then leathers that one does hold."""
    for other in buckles_alike(job):
        if not other.needs_keeper and 0 <= other.inside_width - job.strap_width <= job.rules.buckle_slack:
            yield with_buckle(other, job, "take a buckle that holds the tip itself")
    if job.buckle and not job.buckle.needs_keeper:
        yield Change(path=("billet", "keeper"), value=None, why="let the buckle hold the tip")
    for leather in by_thickness(job):
        lap = keeper_stack(leather, keeper_share(leather, job.shop))
        if fitting_fasteners(lap, job.shop, job.keeper_held.fastener):
            yield Change(path=("leather",), value=leather.id, why="take another leather")


def as_usual(job: Job) -> Candidates:
    """Slot and keeper by the shop's rules, where the spec says otherwise."""
    yield from (change for change in _AS_USUAL if value_at(job.spec, change.path) is not None)


def tail_meets_body(job: Job, fault: FigureFault) -> Candidates:
    """The tail holds its end distance and ends before the body: less end distance at the joint gives it room."""
    room = job.end_distance - fault.short
    step = ruler_step(job) // 2
    if room >= job.rules.end_distance:
        yield Change(
            path=("joint", "end_distance"),
            value=room // step * step,
            is_length=True,
            why="make room for the tail",
        )


def wider_keeper(job: Job, fault: FigureFault) -> Candidates:
    """A keeper as wide as its rivet's hole needs, or as the shop makes it."""
    between = job.spec.keepers_between if fault.path[0] == "keepers_between" else None
    present = between.width if between else job.keeper_width
    width = round_up(present + 2 * fault.short, ruler_step(job) // 2)
    yield Change(path=fault.path, value=width, is_length=True, why="make the keeper wider")
    yield from as_usual(job)


def prong_slot_short(job: Job, fault: FigureFault) -> Candidates:
    """A slot as long as the bar needs, or as the shop cuts it."""
    length = round_up(fault.limit, ruler_step(job) // 2)
    yield Change(path=fault.path, value=length, is_length=True, why="cut the slot longer")
    yield from as_usual(job)


def size_hole(job: Job, fault: FigureFault) -> Candidates:
    """Punches of the shop's that the prong passes, the nearest first; or the one that the shop takes."""
    asked = length_at(job.spec, fault.path) or 0
    least = row_at(fault.path, job).prong_of.prong_width + job.rules.hole_ease
    passing = (punch.diameter for punch in job.shop.round_punches.values() if punch.diameter >= least)
    for size in sorted(passing, key=lambda diameter: abs(diameter - asked))[:2]:
        yield Change(path=fault.path, value=size, is_length=True, why="take a punch that the prong passes")
    yield Change(path=fault.path, value=None, why="punch them as usual")


def tongue_width(job: Job, fault: FigureFault) -> Candidates:
    """A tongue as wide as the end that its buckle is on, a billet there as wide as the tongue, or no taper at all."""
    buckled, tongue = sorted((job.head, job.foot), key=lambda end: end.outer_width)
    width = buckled.outer_width
    yield Change(path=fault.path, value=width, is_length=True, why="make the tongue as wide as the rest")
    if isinstance(buckled, BilletEnd) and not buckled.taper:
        wide = tongue.outer_width
        yield Change(
            path=(*buckled.place, "width"),
            value=wide,
            is_length=True,
            why="make the buckle's billet as wide as the tongue",
        )
    if job.spec.body.taper:
        yield Change(path=("body", "taper"), value=None, why="leave out the taper")
