"""What stands where on a strap with a row: which things are neighbours, and which come nearest to its ends."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.making.decoration import Run, border_ends, border_room, gap_line, heights_of, middles_of
from service.strap.model.filled import FilledBorder
from service.strap.model.job import Job
from service.strap.model.pattern import Purpose
from service.strap.offers.excerpts import LONE_STEPS, EndName
from service.strap.plane.spacing import Stations

Group = tuple[tuple[str, ...], tuple[Nm, ...]]
"""Neighbours in a row, by their ids, and the distances of their centres."""
SetOn = tuple[Purpose, Ornament, Nm]
_BorderRow = tuple[FilledBorder, Ornament, Nm, tuple[Nm, ...]]
_Lane = tuple[tuple[Nm, ...], tuple[Nm, ...], tuple[tuple[Ornament, int, int], ...]]


class Near(NamedTuple):
    """What stands nearest to an end: its distance from the end's tip, and its heights over the middle line."""

    end: EndName
    purpose: Purpose
    item: Ornament
    away: Nm
    ys: tuple[Nm, ...] = (0,)

    @property
    def y(self) -> Nm:
        """How far from the middle line the innermost of them stands."""
        return min(map(abs, self.ys))


@dataclass(frozen=True, slots=True)
class Counted:
    """The job of one count, the diameter of its largest ornament, and of each kind which stand first and last."""

    job: Job
    largest: Nm
    spread: tuple[tuple[Ornament, int, int], ...]

    @property
    def kinds(self) -> tuple[Ornament, ...]:
        """The kinds of ornaments in its row."""
        return tuple(item for item, _, _ in self.spread)


def counted(job: Job) -> Counted:
    """What a job's row is like."""
    ids = [item.id for item in job.row]
    last = {name: n for n, name in enumerate(ids)}
    spread = tuple((job.row[ids.index(name)], ids.index(name), n) for name, n in last.items())
    return Counted(job, max((item.diameter for item in job.row), default=0), spread)


def set_on(row: Counted) -> Iterator[SetOn]:
    """Everything different that is set on the strap, by its purpose, itself, and how far from the middle line."""
    job = row.job
    for y in heights_of(job):
        yield from (("ornament", item, y) for item in row.kinds)
        yield from (("between", item, y) for item in job.gap)
    for border, item in zip(job.spec.borders, job.borders, strict=True):
        yield from (("border", item, side * (job.body_width // 2 - border.inset)) for side in (-1, 1))


def most_rise(job: Job) -> Nm:
    """How much longer than the strap a lining may be at most that lies over the backs of a row and what is between.

    Over each it goes up and comes down again; staggered rows have theirs at as many places again.
    """
    if not job.covers or job.lining is None:
        return 0
    if any(item.fixing.stands for item in job.borders):
        return job.lining.strip_length
    highest = max((item.fixing.stands for item in (*job.row, *job.gap)), default=0)
    return 4 * highest * len(job.row) * (1 + len(job.gap)) + job.grid


def groups_of(row: Counted, places: tuple[Nm, ...]) -> set[Group]:
    """Every two neighbours, by their ids and the distance of their centres; in a staggered pattern every three."""
    if len(row.spread) > 1:
        along = pairwise(zip(row.job.row, places, strict=True))
        return {((left.id, right.id), (there - here,)) for (left, here), (right, there) in along}
    item, distances = row.job.row[0].id, [right - left for left, right in pairwise(places)]
    if row.job.is_staggered and len(distances) > 1:
        return {((item, item, item), pair) for pair in pairwise(distances)}
    return {((item, item), (distance,)) for distance in distances}


def nearest_of(row: Counted, run: Run, stations: Stations) -> Iterator[Near]:
    """Of each kind of thing on the strap what stands nearest to the head, and to the foot."""
    job, length, places = row.job, run.length, stations.places
    for ys, line, spread in _lanes(row, places):
        for item, first, last in spread:
            yield Near("head", "ornament", item, line[first], ys)
            yield Near("foot", "ornament", item, length - line[last], ys)
        if job.gap and len(line) > 1:
            yield from _nearest_between(job, line, length, ys)
    for _, item, y, ends in _border_rows(job, run, stations):
        if ends:
            yield Near("head", "border", item, ends[0], (-y, y))
            yield Near("foot", "border", item, length - ends[1], (-y, y))


def has_whole_borders(job: Job, run: Run, stations: Stations) -> bool:
    """Whether each border has as many spots round a single ornament as it was tried with."""
    return all(
        ends and ends[1] - ends[0] >= 2 * LONE_STEPS * border.step
        for border, _, _, ends in _border_rows(job, run, stations)
    )


def _border_rows(job: Job, run: Run, stations: Stations) -> Iterator[_BorderRow]:
    """Each border, what it is made of, how far from the middle line, and where its first and last spots stand."""
    for border, item in zip(job.spec.borders, job.borders, strict=True):
        room = border_room(job, run, item, border.inset)
        ends = border_ends(stations.places, stations.middle, border.step, room, job.grid)
        yield border, item, run.width // 2 - border.inset, ends


def _lanes(row: Counted, places: tuple[Nm, ...]) -> Iterator[_Lane]:
    """The rows across the strap that stand alike along it: at which heights and places, and which first and last."""
    job = row.job
    ys = heights_of(job)
    if not job.is_staggered:
        yield ys, places, row.spread
        return
    yield ys[::2], places, row.spread
    if len(places) > 1:
        yield ys[1::2], middles_of(places), ((job.row[0], 0, len(places) - 2),)


def _nearest_between(job: Job, line: tuple[Nm, ...], length: Nm, ys: tuple[Nm, ...]) -> Iterator[Near]:
    """Of each kind that stands in the gaps the first and the last."""
    row = (*_gap(job, line, 0), *_gap(job, line, len(line) - 2))
    first = {item.id: (item, x) for item, x in reversed(row)}
    last = {item.id: (item, x) for item, x in row}
    yield from (Near("head", "between", item, x, ys) for item, x in first.values())
    yield from (Near("foot", "between", item, length - x, ys) for item, x in last.values())


def _gap(job: Job, places: tuple[Nm, ...], index: int) -> Iterator[tuple[Ornament, Nm]]:
    """What stands in one gap of the row."""
    left, right = ((places[n], job.row[n]) for n in (index, index + 1))
    return zip(job.gap, gap_line(job, left, right), strict=True)
