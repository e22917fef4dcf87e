"""Cures for crowded rows, borders and edges, worked out from the solver's own bounds."""

from service.shop.goods import Nm, Ornament
from service.strap.clear_gaps import least_clear_span
from service.strap.cure_tools import Cures, longer, round_up, ruler_step, smaller, smaller_ornaments, wider
from service.strap.decoration import (
    clear_span,
    gap_min,
    is_mixed,
    ornament_span,
    ornament_stations,
    spacing_rule,
)
from service.strap.errors import Fault, Path
from service.strap.job import Job, said
from service.strap.layout import measure
from service.strap.lengths import MM
from service.strap.places import PITCH, part_path, value_at
from service.strap.row import row_items
from service.strap.spacing import SpacingRule, largest_count, least_span
from service.strap.spec import Row
from service.strap.spec_changes import Change


def crowded(job: Job, _fault: Fault) -> Cures:
    """The largest count that fits, the shortest length that holds this count, the next smaller ornament."""
    row = job.spec.ornaments
    if row is None:
        return
    run, rule = measure(job).run, spacing_rule(job)
    most = _largest(job, row)
    for count in range(min(most + 1, row.count - 1), max(most - 3, 0), -1):
        if not (row.centrepiece and count % 2):
            yield Change(path=("ornaments", "count"), value=count, why="set fewer")
    if is_mixed(job):
        span = clear_span(job, run)
        yield from longer(job, least_clear_span(span) - (span.end - span.start))
    else:
        line = ornament_span(job, run)
        yield from longer(job, least_span(line, len(job.row), rule) - line.length)
    yield from _pitches(job, rule)
    yield from smaller_ornaments(job, "ornaments")
    if row.rows:
        yield from _fewer_rows(job, row)
    yield Change(path=("ornaments",), value=None, why="leave out the ornaments")


def _largest(job: Job, row: Row) -> int:
    """The greatest count that the anchors hold; of mixed sizes found by arithmetic, count by count."""
    run, rule = measure(job).run, spacing_rule(job)
    if not is_mixed(job):
        centre = 1 if row.centrepiece else 0
        return largest_count(ornament_span(job, run), rule) - centre
    room, gap = run.end - run.start, max(gap_min(job), run.start_keep, run.end_keep)
    for count in range(row.count - 1, 0, -1):
        items = row_items(_with_count(row, count), job.shop)
        if sum(item.diameter for item in items) + (len(items) + 1) * gap <= room:
            return count
    return 0


def _with_count(row: Row, count: int) -> Row:
    return Row(
        item=row.item, items=row.items, arrange=row.arrange, mirrored=row.mirrored,
        centrepiece=row.centrepiece, count=count, spacing=row.spacing, rows=row.rows,
    )  # fmt: skip


def _pitches(job: Job, rule: SpacingRule) -> Cures:
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


def _fewer_rows(job: Job, row: Row) -> Cures:
    rows = said(row.rows)
    diameter = job.largest.diameter if job.largest else 0
    apart = round_up(diameter + job.rules.ornament_clear, ruler_step(job) // 2)
    yield Change(path=("ornaments", "rows", "distance"), value=apart, is_length=True, why="set the rows wider apart")
    if said(rows.count) > 2:
        yield Change(path=("ornaments", "rows", "count"), value=said(rows.count) - 1, why="set fewer rows")
    yield Change(path=("ornaments", "rows"), value=None, why="set one row")


def between_crowded(job: Job, fault: Fault) -> Cures:
    """Something smaller, or fewer of it, or more room for each gap."""
    yield from smaller_ornaments(job, "between")
    for index, part in enumerate(job.spec.betweens):
        if said(part.per_gap) > 1:
            path = (*part_path("between", job.spec.between, index), "per_gap")
            yield Change(path=path, value=said(part.per_gap) - 1, why="set fewer between")
    yield from crowded(job, fault)
    yield Change(path=("between",), value=None, why="leave out what stands between")


def border_crowded(job: Job, fault: Fault) -> Cures:
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
    yield from wider(job, 2 * (said(fault.limit) - said(fault.found)))
    yield from smaller(job, item, (*path, "item"))
    yield from smaller_ornaments(job, "ornaments")
    yield Change(path=("border",), value=None, why="leave out the border")


def _row_of_border(job: Job, fault: Fault) -> tuple[Path, Ornament]:
    """The border row that a fault is about: its place and what it is made of."""
    path = fault.path[:-1]
    return path, job.shop.ornaments[str(value_at(job.spec, (*path, "item")))]


def _fewer_steps(job: Job, path: Path, clear: Nm) -> Cures:
    """Steps in register are whole parts of the pitch: the least such part that keeps the spots clear."""
    pitch = ornament_stations(job, measure(job).run).pitch
    if pitch:
        parts = max(pitch // clear, 1)
        yield Change(path=path, value=pitch // parts, is_length=True, why="set them wider apart")


def border_off_edge(job: Job, fault: Fault) -> Cures:
    """More inset, or smaller spots, or no border."""
    path, item = _row_of_border(job, fault)
    inset = round_up(item.diameter // 2 + job.rules.ornament_edge, ruler_step(job) // 2)
    yield Change(path=(*path, "inset"), value=inset, is_length=True, why="move them away from the edge")
    yield from smaller(job, item, (*path, "item"))
    yield Change(path=("border",), value=None, why="leave out the border")


def off_edge(job: Job, fault: Fault) -> Cures:
    """A wider strap, or something smaller, or rows nearer together."""
    yield from wider(job, 2 * (said(fault.limit) - said(fault.found)))
    yield from smaller_ornaments(job, fault.path[0])
    row = job.spec.ornaments
    if row and row.rows:
        yield from _fewer_rows(job, row)
        nearer = (said(row.rows.distance) - (said(fault.limit) - said(fault.found))) // MM * MM
        if nearer > 0:
            path = ("ornaments", "rows", "distance")
            yield Change(path=path, value=nearer, is_length=True, why="set the rows nearer together")
