"""Cures at the buckle: its width, its prong's slot and holes, the fold's tail and the keeper."""

from service.shop.goods import Nm
from service.strap.cure_tools import Cures, round_up, ruler_step
from service.strap.decoration_cures import crowded
from service.strap.errors import Fault, Path
from service.strap.job import Job, said
from service.strap.lengths import INCH, MM
from service.strap.places import value_at
from service.strap.spec_changes import Change

KEEPER_WIDTH: Path = ("billet", "keeper_width")
_AS_USUAL = (
    Change(path=("billet", "prong_slot"), value=None, why="cut the slot as long as usual"),
    Change(path=KEEPER_WIDTH, value=None, why="make the keeper as wide as usual"),
)
"""What a spec says in place of the shop's rules, left to them again."""


def hole_near(job: Job, fault: Fault) -> Cures:
    """On one strip the row of ornaments may come too near the size holes; else the buckle's frame is too long."""
    if job.spec.construction == "one_piece":
        yield from crowded(job, fault)
    yield from other_buckle(job, fault)


def other_buckle(job: Job, _fault: Fault) -> Cures:
    """Buckles that take this width, then widths that this buckle takes, then a smaller keeper or none."""
    buckle = said(job.buckle)
    for other in job.shop.buckles.values():
        if other.id != buckle.id and 0 <= other.inside_width - job.strap_width <= job.rules.buckle_slack:
            yield Change(path=("billet", "buckle"), value=other.id, why="take a buckle that fits")
    width_path: Path = ("billet", "width") if job.spec.construction == "three_piece" else ("body", "width")
    width = buckle.inside_width // (INCH // 16) * (INCH // 16) if job.units == "in" else buckle.inside_width // MM * MM
    if width != job.strap_width:
        yield Change(path=width_path, value=width, is_length=True, why="take the width that this buckle takes")
    if job.keeper:
        yield Change(path=("billet", "keeper"), value=False, why="leave the keeper out")


def as_usual(job: Job) -> Cures:
    """Slot and keeper by the shop's rules, where the spec says otherwise."""
    yield from (change for change in _AS_USUAL if value_at(job.spec, change.path) is not None)


def tail_meets_body(job: Job, fault: Fault) -> Cures:
    """The tail holds its end distance and ends before the body: less end distance at the joint gives it room."""
    room = job.end_distance - (said(fault.limit) - said(fault.found))
    step = ruler_step(job) // 2
    if room >= job.rules.end_distance:
        yield Change(
            path=("joint", "end_distance"),
            value=room // step * step,
            is_length=True,
            why="make room for the tail",
        )


def wider_keeper(job: Job, short: Nm) -> Cures:
    """A keeper as wide as its rivet's hole needs, or as the shop makes it."""
    width = round_up(job.keeper_width + 2 * short, ruler_step(job) // 2)
    yield Change(path=KEEPER_WIDTH, value=width, is_length=True, why="make the keeper wider")
    yield from as_usual(job)


def prong_slot_short(job: Job, fault: Fault) -> Cures:
    """A slot as long as the bar needs, or as the shop cuts it."""
    length = round_up(said(fault.limit), ruler_step(job) // 2)
    yield Change(path=fault.path, value=length, is_length=True, why="cut the slot longer")
    yield from as_usual(job)


def size_hole(job: Job, fault: Fault) -> Cures:
    """Punches of the shop's that the prong passes, the nearest first; or the one that the shop takes."""
    asked, least = said(job.spec.billet.size_holes.diameter), said(job.buckle).prong_width + job.rules.hole_ease
    passing = (punch.diameter for punch in job.shop.round_punches.values() if punch.diameter >= least)
    for size in sorted(passing, key=lambda diameter: abs(diameter - asked))[:2]:
        yield Change(path=fault.path, value=size, is_length=True, why="take a punch that the prong passes")
    yield Change(path=fault.path, value=None, why="punch them as usual")
