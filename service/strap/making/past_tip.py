"""Where a row begins on a buckled strap: past the tip, where what is raised would else lie under it.

As a maker lays it out: the row keeps its usual place where the strap can be worn so, and gives way to the tip of the
nominal hole where it cannot, if it has room there.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.making.decoration import (
    Lines,
    Run,
    border_ends,
    border_height,
    border_room,
    clear_span,
    gap_line,
    is_mixed,
    lines_of,
    ornament_span,
    ornament_stations,
)
from service.strap.model.job import Job
from service.strap.plane.clear_gaps import least_clear_span
from service.strap.plane.geometry import over_disc
from service.strap.plane.spacing import Stations, least_span

_Place = tuple[Nm, Nm, Ornament]
"""What stands at x and y."""


def settle(job: Job, run: Run) -> tuple[Run, Stations]:
    """The run from where the row begins, and the row's stations on it."""
    stations, covered = ornament_stations(job, run), run.covered
    if covered is None or not (_raised(job, job.row) or _raised(job, job.gap) or _raised(job, job.borders)):
        return run, stations
    near = _near(job, covered, stations)
    if _under_tip(job, run, covered, (*_row(near), *_between(job, near))):
        later = past_tip(run)
        if row_fits(job, later):
            run, stations = later, ornament_stations(job, later)
    if _under_tip(job, run, covered, _border(job, run, stations)):
        run = replace(run, border_start=max(run.border_start, covered))
    return run, stations


def past_tips(run: Run, covered: tuple[Nm, Nm]) -> Run:
    """The run between the tips of a joining strap, which end at these places, the head's first."""
    return replace(run, start=max(run.start, covered[0]), end=min(run.end, covered[1]))


def between_tips(job: Job, run: Run, covered: tuple[Nm, Nm]) -> Run:
    """The run of a strap that another joins: what is raised stands between its tips where it has room there."""
    later = past_tips(run, covered)
    if not _raised(job, (*job.row, *job.gap, *job.borders)) or not row_fits(job, later):
        return run
    borders = max(run.border_start, covered[0]), min(run.border_end, covered[1])
    return replace(later, border_start=borders[0], border_end=borders[1]) if _raised(job, job.borders) else later


def past_tip(run: Run) -> Run:
    """The run begun where the tip ends."""
    return replace(run, start=max(run.start, run.covered or 0))


def row_fits(job: Job, run: Run) -> bool:
    """Whether the row keeps its clearances between the ends of the run."""
    return room_short(job, run) <= 0


def room_short(job: Job, run: Run) -> Nm:
    """How much longer the run would have to be for the row; negative where there is room to spare."""
    if is_mixed(job):
        return least_clear_span(clear_span(job, run)) - (run.end - run.start)
    span = ornament_span(job, run)
    return least_span(span, len(job.row), job.spacing) - span.length


def _raised(job: Job, items: tuple[Ornament, ...]) -> bool:
    return any(item.height > job.rules.flat_under_tip for item in items)


def _under_tip(job: Job, run: Run, covered: Nm, places: Iterator[_Place] | tuple[_Place, ...]) -> bool:
    """Whether any of these is raised and lies under the tip, which covers everything up to there and nothing beyond."""
    form, half = run.tip
    return any(
        x - item.diameter // 2 <= covered
        and _raised(job, (item,))
        and over_disc(form, half, covered, (x, y), item.diameter // 2)
        for x, y, item in places
    )


def _row(near: Lines) -> Iterator[_Place]:
    """What the row has near the tip."""
    for y, line in near:
        yield from ((x, y, item) for x, item in line)


def _between(job: Job, near: Lines) -> Iterator[_Place]:
    """What stands between the ornaments near the tip."""
    if not _raised(job, job.gap):
        return
    for y, line in near:
        for left, right in pairwise(line):
            yield from ((x, y, item) for x, item in zip(gap_line(job, left, right), job.gap, strict=True))


def _near(job: Job, covered: Nm, stations: Stations) -> Lines:
    """Each line of the row up to the second ornament that begins past the tip; none of one that begins past it."""
    if job.rows is None and stations.places and stations.places[0] - job.row[0].diameter // 2 > covered:
        return []
    near = []
    for y, line in lines_of(job, stations):
        past = (n for n, (x, item) in enumerate(line) if x - item.diameter // 2 >= covered)
        near.append((y, line[: next(past, len(line)) + 1]))
    return near


def _border(job: Job, run: Run, stations: Stations) -> Iterator[_Place]:
    """The first spot of each border row: those after it lie farther from the tip."""
    for border, item in zip(job.spec.borders, job.borders, strict=True):
        inset = border.inset + run.outline.root_depth
        room = border_room(job, run, item, inset)
        ends = border_ends(stations.places, stations.middle, border.step, room, job.grid)
        if ends:
            first = max(ends[0], room[0]) if run.outline.narrowings else ends[0]
            yield first, border_height(run, inset, first), item
