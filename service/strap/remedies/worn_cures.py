"""Cures where the tip of a buckled strap comes to lie on what stands up, worked out from the solver's own bounds."""

from itertools import islice

from service.shop.goods import Nm
from service.strap.ends.tip import TipEnd, least_tip
from service.strap.errors import FigureFault
from service.strap.making.layout import measure_lengths
from service.strap.making.past_tip import past_tip, past_tips, room_short
from service.strap.model.job import Job
from service.strap.model.places import ADDS
from service.strap.model.plies import stack
from service.strap.model.spec_changes import Change
from service.strap.plane.spacing import round_up
from service.strap.remedies.buckle_cures import other_buckle
from service.strap.remedies.cure_tools import (
    LEAVE_OUT,
    Candidates,
    fewer_size_holes,
    longer,
    ruler_step,
    smaller_ornaments,
)
from service.strap.remedies.decoration_cures import fewer
from service.strap.rules.worn import passes_through, tip_width

_FEWER_TRIED = 3


def tip_on_ornament(job: Job, fault: FigureFault) -> Candidates:
    """Fewer ornaments, which then begin past the tip; a shorter tip; fewer holes; a longer strap; something flat."""
    part = fault.path[0]
    if job.joining:
        yield from _off_joining(job, part, fault)
        return
    later = past_tip(measure_lengths(job).run)
    if part == "ornaments" and job.spec.ornaments:
        yield from islice(fewer(job, job.spec.ornaments, later), _FEWER_TRIED)
    short = room_short(job, later)
    over = fault.short
    yield from shorter_tip(job, min(over, short) if short > 0 else over)
    yield from fewer_size_holes(job)
    yield from smaller_ornaments(job, part)
    yield from longer(job, short)
    yield LEAVE_OUT[part]


def _off_joining(job: Job, part: str, fault: FigureFault) -> Candidates:
    """As many ornaments as have room between both its tips; shorter rows of holes; a longer strap; something flat."""
    lengths = measure_lengths(job)
    later = past_tips(lengths.run, lengths.tips_end) if lengths.tips_end else lengths.run
    if part == "ornaments" and job.spec.ornaments:
        yield from islice(fewer(job, job.spec.ornaments, later), _FEWER_TRIED)
    short = room_short(job, later)
    over = fault.short
    yield from _shorter_rows(job, min(over, -(-short // 2)) if short > 0 else over)
    yield from smaller_ornaments(job, part)
    yield from longer(job, short)
    yield LEAVE_OUT[part]


def _shorter_rows(job: Job, by: Nm) -> Candidates:
    """Rows of holes so much shorter that both tips reach `by` less far at the middle ones.

    What it adds then ends sooner or begins later; of one that is as long as was asked for fewer holes are punched.
    """
    filled = job.spec.joining_strap
    if filled is None or filled.size_holes.count < 2:
        return
    count = filled.size_holes.count
    if filled.adds is None:
        for fewer_holes in dict.fromkeys((*range(count - 1, 0, -1)[:_FEWER_TRIED], 1)):
            path = ("joining_strap", "size_holes", "count")
            yield Change(path=path, value=fewer_holes, why="punch fewer holes at each end of the joining strap")
        return
    least, most, step = filled.adds.least, filled.adds.most, ruler_step(job)
    less = -(-2 * by * (count - 1) // (count // 2))
    for more in range(_FEWER_TRIED):
        shorter = less + 2 * more * filled.size_holes.spacing
        if most - shorter >= least:
            to, begin = (most - shorter) // step * step, round_up(least + shorter, step)
            yield Change(path=(*ADDS, "to"), value=max(to, least), is_length=True, why="let it add less at most")
            yield Change(path=(*ADDS, "from"), value=min(begin, most), is_length=True, why="let it add more at least")


def shorter_tip(job: Job, by: Nm) -> Candidates:
    """A tip shorter by so much, if it then still passes what holds it."""
    measures, step = measure_lengths(job), ruler_step(job) // 2
    tongue, turn = measures.foot.outermost.tongue, measures.head.outermost.turn
    tip = (tongue.tip - by) // step * step if tongue else 0
    if turn and tip >= least_tip(job, turn):
        yield Change(path=("billet", "tip_length"), value=tip, is_length=True, why="make the tip shorter")


def tip_short(job: Job, fault: FigureFault) -> Candidates:
    """For a tip that was made short, the shortest that passes the keeper, or one as long as usual; another buckle."""
    least = round_up(fault.limit, ruler_step(job) // 2)
    yield Change(path=fault.path, value=least, is_length=True, why="make the tip longer")
    yield Change(path=fault.path, value=None, why="leave the tip as long as usual")
    if job.buckle:
        yield from other_buckle(job, fault)


def usual_tips(job: Job) -> Candidates:
    """Each tip of a length that was asked for as long as the shop makes it."""
    for end in job.ends:
        if isinstance(end.outermost, TipEnd) and end.outermost.tip_length is not None:
            path = (*end.outermost.place, "tip_length")
            yield Change(path=path, value=None, why="leave the tip as long as usual")


def wider_ring(job: Job, _fault: FigureFault) -> Candidates:
    """A ring that lets the tip through beside the strap, or none."""
    for ring in sorted(job.shop.rings.values(), key=lambda ring: ring.inside_width):
        if passes_through(ring, tip_width(job), stack(job.plies.decorated)):
            yield Change(path=("billet", "ring"), value=ring.id, why="take a ring that the tip passes through")
    yield Change(path=("billet", "ring"), value=None, why="leave the collar ring out")
