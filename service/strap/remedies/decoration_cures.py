"""Cures for crowded rows, borders and edges, worked out from the solver's own bounds."""

from bisect import bisect_left
from dataclasses import replace

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.errors import FigureFault, Path
from service.strap.making.decoration import (
    Run,
    clear_span,
    gap_min,
    is_mixed,
    ornament_span,
)
from service.strap.making.layout import measure
from service.strap.model.filled import FilledBetween, FilledRow, FilledRows
from service.strap.model.job import Job
from service.strap.model.places import PITCH, part_path, value_at
from service.strap.model.row import row_items
from service.strap.model.spec_changes import Change
from service.strap.plane.clear_gaps import least_clear_span
from service.strap.plane.lengths import MM
from service.strap.plane.spacing import SpacingRule, largest_count, least_span, round_up
from service.strap.remedies.cure_tools import (
    LEAVE_OUT,
    Candidates,
    fewer_size_holes,
    longer,
    ruler_step,
    smaller,
    smaller_ornaments,
    wider,
)


def crowded(job: Job, _fault: FigureFault) -> Candidates:
    """The largest count that fits, the shortest length that holds this count, the next smaller ornament."""
    row = job.spec.ornaments
    if row is None:
        return
    run, rule = measure(job).run, job.spacing
    yield from fewer(job, row, run)
    if is_mixed(job):
        span = clear_span(job, run)
        yield from longer(job, least_clear_span(span) - (span.end - span.start))
    else:
        line = ornament_span(job, run)
        yield from longer(job, least_span(line, len(job.row), rule) - line.length)
    if job.is_buckled and not job.foot.is_billet and job.spec.size.body_length is None:
        yield from fewer_size_holes(job)
    yield from _pitches(job, rule)
    yield from smaller_ornaments(job, "ornaments")
    if row.rows:
        yield from _fewer_rows(job, row.rows)
    yield LEAVE_OUT["ornaments"]


def fewer(job: Job, row: FilledRow, run: Run) -> Candidates:
    """The greatest count that a run holds, and a few beside it."""
    most = _largest(job, row, run)
    for count in range(min(most + 1, row.count - 1), max(most - 3, 0), -1):
        if not (row.centrepiece and count % 2):
            yield Change(path=("ornaments", "count"), value=count, why="set fewer")


def _largest(job: Job, row: FilledRow, run: Run) -> int:
    """The greatest count that the anchors hold; of mixed sizes found by halving."""
    rule = job.spacing
    if not is_mixed(job):
        centre = 1 if row.centrepiece else 0
        return largest_count(ornament_span(job, run), rule) - centre
    room, gap = run.end - run.start, max(gap_min(job), run.start_keep, run.end_keep)

    def too_many(count: int) -> bool:
        items = row_items(replace(row, count=count), job.shop)
        return sum(item.diameter for item in items) + (len(items) + 1) * gap > room

    return bisect_left(range(row.count), x=True, lo=1, key=too_many) - 1


def _pitches(job: Job, rule: SpacingRule) -> Candidates:
    """Where a pitch was given: the least that the ornaments allow, and the widest that the span holds."""
    count = len(job.row)
    if not isinstance(rule, int) or count < 2:
        return
    span = ornament_span(job, measure(job).run)
    step = ruler_step(job) // 2
    widest = (span.length - 2 * span.end_min) // (count - 1) // step * step
    for pitch in (round_up(span.pitch_min, step), widest):
        if pitch != rule and pitch >= span.pitch_min:
            yield Change(path=PITCH, value=pitch, is_length=True, why="change the pitch")


def _fewer_rows(job: Job, rows: FilledRows) -> Candidates:
    diameter = job.largest.diameter if job.largest else 0
    apart = round_up(diameter + job.rules.ornament_clear, ruler_step(job) // 2)
    yield Change(path=("ornaments", "rows", "distance"), value=apart, is_length=True, why="set the rows wider apart")
    if rows.count > 2:
        yield Change(path=("ornaments", "rows", "count"), value=rows.count - 1, why="set fewer rows")
    yield Change(path=("ornaments", "rows"), value=None, why="set one row")


def between_crowded(job: Job, fault: FigureFault) -> Candidates:
    """Something smaller, or fewer of it, or more room for each gap."""
    yield from smaller_ornaments(job, "between")
    for index, part in enumerate(job.spec.betweens):
        if part.per_gap > 1:
            path = (*part_path("between", job.spec.between, index), "per_gap")
            yield Change(path=path, value=_fewer_between(job, part), why="set fewer between")
    yield from crowded(job, fault)
    yield LEAVE_OUT["between"]


def _fewer_between(job: Job, part: FilledBetween) -> int:
    """As many as the clear gap of the row holds beside what else stands in it; at least one, and fewer than now."""
    per_gap, size = part.per_gap, job.shop.ornaments[part.item].diameter + job.rules.ornament_clear
    pitch, largest = measure(job).stations.pitch, job.largest
    spare = pitch - (largest.diameter if largest else 0) - gap_min(job)
    return max(min(per_gap + spare // size, per_gap - 1), 1)


def border_crowded(job: Job, fault: FigureFault) -> Candidates:
    """More step, less inset, more width, smaller spots or smaller ornaments."""
    path, item = _row_of_border(job, fault)
    step = ruler_step(job) // 2
    if fault.path[-1] == "step":
        clear = round_up(item.diameter + job.rules.ornament_clear, step)
        yield Change(path=(*path, "step"), value=clear, is_length=True, why="set them wider apart")
        yield from _fewer_steps(job, (*path, "step"), clear)
    least = round_up(item.diameter // 2 + job.rules.ornament_edge, step)
    inset = value_at(job.spec, (*path, "inset"))
    if isinstance(inset, int) and inset > least:
        yield Change(path=(*path, "inset"), value=least, is_length=True, why="move them towards the edge")
    yield from wider(job, 2 * fault.short)
    yield from smaller(job, item, (*path, "item"))
    yield from smaller_ornaments(job, "ornaments")
    yield from _between_instead(job, item)
    yield LEAVE_OUT["border"]


def _between_instead(job: Job, item: Ornament) -> Candidates:
    """What stands along the edges, in the gaps of the row instead: stations that no ornament stands level with."""
    if len(job.borders) == 1 and job.spec.between is None and len(job.row) > 1:
        between = Change(path=("between", "item"), value=item.id, why="set them between the ornaments")
        yield between, Change(path=("border",), value=None, why="leave the edges plain")


def border_cuts_crowded(job: Job, fault: FigureFault) -> Candidates:
    """Something smaller, which needs no such cut, or no border; or fewer of what is cut beside it."""
    _, item = _row_of_border(job, fault)
    yield from smaller(job, item, fault.path)
    yield LEAVE_OUT["border"]
    yield from crowded(job, fault)


def _row_of_border(job: Job, fault: FigureFault) -> tuple[Path, Ornament]:
    """The border row that a fault is about: its place and what it is made of."""
    path = fault.path[:-1]
    return path, job.shop.ornaments[str(value_at(job.spec, (*path, "item")))]


def _fewer_steps(job: Job, path: Path, clear: Nm) -> Candidates:
    """Steps in register are whole parts of the pitch: the least that keeps the spots clear.

    One that a ruler shows goes first, if it is not twice as long.
    """
    pitch = measure(job).stations.pitch
    if pitch:
        most = max(pitch // clear, 1)
        read = (parts for parts in range(most, most // 2, -1) if job.grid == 1 or pitch % (parts * job.grid) == 0)
        parts = next(read, most)
        yield Change(path=path, value=pitch // parts, is_length=True, why="set them wider apart")


def border_off_edge(job: Job, fault: FigureFault) -> Candidates:
    """More inset, or smaller spots, or no border."""
    path, item = _row_of_border(job, fault)
    inset = round_up(item.diameter // 2 + job.rules.ornament_edge, ruler_step(job) // 2)
    yield Change(path=(*path, "inset"), value=inset, is_length=True, why="move them away from the edge")
    yield from smaller(job, item, (*path, "item"))
    yield LEAVE_OUT["border"]


def off_edge(job: Job, fault: FigureFault) -> Candidates:
    """A wider strap, or something smaller, or rows nearer together."""
    yield from wider(job, 2 * fault.short)
    yield from smaller_ornaments(job, fault.path[0])
    row = job.spec.ornaments
    if row and row.rows:
        yield from _fewer_rows(job, row.rows)
        nearer = (row.rows.distance - fault.short) // MM * MM
        if nearer > 0:
            path = ("ornaments", "rows", "distance")
            yield Change(path=path, value=nearer, is_length=True, why="set the rows nearer together")
