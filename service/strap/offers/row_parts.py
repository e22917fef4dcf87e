"""The parts of a strap with a row of ornaments, each tried by the rules themselves on an excerpt of a strap.

As a rule a part is tried a few times for a whole grid of lengths and counts, since its answer turns from no to yes
once as a distance grows: from one neighbour to the next, from an end's tip to what stands nearest to it, or from
one end of the strap to the other.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.errors import Refusal
from service.strap.filling.limits import length_faults
from service.strap.making.decoration import Run, border_ends, border_room, gap_line, gap_min, heights_of, middles_of
from service.strap.making.layout import lay_out, measure_lengths
from service.strap.making.past_tip import settle
from service.strap.model.filled import FilledBorder
from service.strap.model.job import Job
from service.strap.model.pattern import Purpose
from service.strap.model.spec_changes import sized
from service.strap.offers.excerpts import (
    LONE_STEPS,
    EndExcerpt,
    EndName,
    fits,
    is_aloof,
    level_holds,
    lone_holds,
    row_holds,
    spots_hold,
)
from service.strap.offers.thresholds import Threshold
from service.strap.plane.lengths import MM
from service.strap.plane.spacing import Stations, register_parts, round_up
from service.strap.rules.blanks import STRIP_LENGTH
from service.strap.rules.checks import measure_rules

LONG: Nm = 5000 * MM
"""Longer than a strap whose two ends have to do with one another."""
_ENDS: tuple[EndName, EndName] = ("head", "foot")
_Group = tuple[tuple[str, ...], tuple[Nm, ...]]
"""Neighbours in a row, by their ids, and the distances of their centres."""
_BorderRow = tuple[FilledBorder, Ornament, Nm, tuple[Nm, ...]]
_Lane = tuple[tuple[Nm, ...], tuple[Nm, ...], tuple[tuple[Ornament, int, int], ...]]


class _Near(NamedTuple):
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


class RowParts:
    """The parts of a strap whose row may have any count, and what is known of each so far."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._bare = _undecorated(job)
        self._pattern = lay_out(self._bare)
        piece = self._pattern.pieces[0]
        self._ends = {name: EndExcerpt(self._bare, self._pattern, piece, name) for name in _ENDS}
        self._taken = {name: end.taken for name, end in self._ends.items()}
        self._hardware = Threshold(self._hardware_holds)
        self._near: dict[tuple[object, ...], Threshold] = {}
        self._gaps: dict[tuple[object, ...], Threshold] = {}
        self._groups: dict[_Group, bool] = {}
        self._spots = Threshold(lambda step: spots_hold(job, step))
        self._known: dict[tuple[object, ...], bool] = {}
        self._runs: dict[tuple[Nm, Nm], Run | None] = {}

    def verdict(self, row: Counted, length: Nm) -> bool | None:
        """Whether the strap can be made at this length; `None` where that is not known."""
        key = (length, row.largest)
        if key not in self._runs:
            self._runs[key] = self._run_at(replace(row.job, spec=sized(row.job.spec, length, None)))
        run = self._runs[key]
        return self._row_holds(row, run) if run else False

    def _run_at(self, job: Job) -> Run | None:
        """The decorated part at a job's length; none where that length cannot be made, whatever is set on it."""
        measures = measure_lengths(job)
        too_long = measures.length > job.leather.strip_length
        beyond = length_faults(job.spec, job.shop)
        if measures.length < measures.shortest or too_long or beyond:
            return None
        return measures.run if self._hardware(job.spec.size.stated) else None

    def _hardware_holds(self, size: Nm) -> bool:
        """Whether a strap of this size holds without its decoration, apart from how long a strip it takes."""
        bare = replace(self._bare, spec=sized(self._bare.spec, size, None))
        try:
            measures = measure_rules(lay_out(bare), bare)
        except Refusal:
            return False
        whole = (self._ends["head"].piece.name,)
        return all(each.room >= 0 for each in measures if each.rule is not STRIP_LENGTH or each.kinds != whole)

    def items_fit(self, row: Counted) -> bool:
        """Whether everything that is set on the strap fits its leather and what stands level with it, at any length."""
        job, ids = row.job, tuple(item.id for item in row.kinds)
        decorated = replace(self._bare, row=row.kinds, gap=job.gap, borders=job.borders)
        if not self._once(("fits", *ids), lambda: fits(decorated, self._pattern)):
            return False
        level = len(job.row) > 1 and job.borders
        return not level or self._once(("level", *ids), lambda: all(level_holds(job, item) for item in row.kinds))

    def _row_holds(self, row: Counted, run: Run) -> bool | None:
        run, stations = settle(row.job, run)
        beside = self._neighbours_hold(row, run, stations)
        if beside is False:
            return False
        known = beside is True
        for near in _nearest(row, run, stations):
            verdict = self._end_holds(row.job, run, stations, near)
            if verdict is False:
                return False
            known = known and verdict is True
        return True if known else None

    # ---------------------------------------------------------------- along the row

    def _neighbours_hold(self, row: Counted, run: Run, stations: Stations) -> bool | None:
        job, places, ids = row.job, stations.places, tuple(item.id for item in row.kinds)
        if len(places) < 2:
            alone = not (job.borders or job.rows) or self._once(("lone", *ids), lambda: lone_holds(job, job.row))
            return alone or (False if _has_whole_borders(job, run, stations) else None)
        groups = _groups(row, places)
        if not job.borders:
            return all(self._group_holds(group) for group in groups)
        if self._once(("aloof", *ids), lambda: is_aloof(job)):
            return all(self._group_holds(group) and all(map(self._spots_hold, group[1])) for group in groups)
        return all(self._tried(group, border=True) for group in groups)

    def _group_holds(self, group: _Group) -> bool:
        if group not in self._groups:
            self._groups[group] = self._gap_holds(group) if len(group[1]) == 1 else self._staggered_hold(group)
        return self._groups[group]

    def _staggered_hold(self, group: _Group) -> bool:
        """Three neighbours: where nothing stands between, no gap that grows brings anything nearer together."""
        ids, distances = group
        if not self._job.gap and self._even_hold(ids, min(distances)):
            return True
        return self._tried(group, border=False)

    def _even_hold(self, ids: tuple[str, ...], distance: Nm) -> bool:
        """Whether three neighbours hold that stand as far apart."""
        if ids not in self._gaps:
            self._gaps[ids] = Threshold(lambda each: self._tried((ids, (each, each)), border=False))
        return self._gaps[ids](distance)

    def _gap_holds(self, group: _Group) -> bool:
        """Things between are moved to a ruler's graduations alike in gaps that differ by as much for each of them."""
        job, ((left, right), (distance,)) = self._job, group
        ruled = job.gap and job.grid > 1 and distance % job.grid == 0
        step = 2 * (len(job.gap) + 1) * job.grid if ruled else 1
        steps, rest = divmod(distance, step)
        key = (left, right, step, rest)
        if key not in self._gaps:
            pair = (job.shop.ornaments[left], job.shop.ornaments[right])
            least = pair[0].diameter // 2 + pair[1].diameter // 2 + gap_min(job)
            guess = round_up(least - rest, step) // step
            self._gaps[key] = Threshold(lambda n: row_holds(job, pair, (n * step + rest,), border=False), guess)
        return self._gaps[key](steps)

    def _tried(self, group: _Group, *, border: bool) -> bool:
        """Where the border comes near the row, more distance need not be better: each is tried."""
        (ids, distances), goods = group, self._job.shop.ornaments
        items = tuple(goods[name] for name in ids)
        return self._once(("row", border, *group), lambda: row_holds(self._job, items, distances, border=border))

    def _spots_hold(self, distance: Nm) -> bool:
        """Whether border spots hold among themselves beside two neighbours that stand so far apart."""
        job = self._job
        parts = (register_parts(distance, border.step, job.grid) for border in job.spec.borders)
        return all(self._spots(distance // each) for each in parts)

    # ---------------------------------------------------------------- at the ends

    def _end_holds(self, job: Job, run: Run, stations: Stations, near: _Near) -> bool | None:
        """Whether the nearest of a kind holds; of a row that reaches in among an end's hardware, the first past it."""
        taken = self._taken[near.end]
        if near.away >= taken or (near.y and self._passes_beside(near)):
            return self._near_holds(near, near.away)
        if near.purpose != "ornament" or job.rows:
            return None
        xs = (x for x, item in zip(stations.places, job.row, strict=True) if item.id == near.item.id)
        aways = (run.length - x if near.end == "foot" else x for x in xs)
        inner = min((away for away in aways if away >= taken), default=None)
        return None if inner is None or self._near_holds(near, inner) else False

    def _passes_beside(self, near: _Near) -> bool:
        end = self._ends[near.end]
        return self._once(("beside", near.end, near.item.id, near.y), lambda: end.passes_beside(near.item, near.y))

    def _near_holds(self, near: _Near, away: Nm) -> bool:
        key = (near.end, near.purpose, near.item.id, near.ys)
        if key not in self._near:
            end, guess = self._ends[near.end], None if near.purpose == "border" else self._nearest_guess(near)
            self._near[key] = Threshold(lambda at: end.admits(near.purpose, near.item, at, near.ys), guess)
        return self._near[key](away)

    def _nearest_guess(self, near: _Near) -> Nm:
        """Where a row may begin: beside what the end takes, and on by what is lacking there."""
        beside = self._taken[near.end] + near.item.diameter // 2
        return beside + max(-self._ends[near.end].room(near.purpose, near.item, beside, near.ys), 0)

    def _once(self, key: tuple[object, ...], ask: Callable[[], bool]) -> bool:
        if key not in self._known:
            self._known[key] = ask()
        return self._known[key]


def _undecorated(job: Job) -> Job:
    """The same without its decoration, on the same graduations."""
    bare = replace(job.spec, ornaments=None, between=None, border=None)
    return replace(job, spec=bare, row=(), gap=(), borders=())


def _groups(row: Counted, places: tuple[Nm, ...]) -> set[_Group]:
    """Every two neighbours, by their ids and the distance of their centres; in a staggered pattern every three."""
    if len(row.spread) > 1:
        along = pairwise(zip(row.job.row, places, strict=True))
        return {((left.id, right.id), (there - here,)) for (left, here), (right, there) in along}
    item, distances = row.job.row[0].id, [right - left for left, right in pairwise(places)]
    if row.job.is_staggered and len(distances) > 1:
        return {((item, item, item), pair) for pair in pairwise(distances)}
    return {((item, item), (distance,)) for distance in distances}


def _nearest(row: Counted, run: Run, stations: Stations) -> Iterator[_Near]:
    """Of each kind of thing on the strap what stands nearest to the head, and to the foot."""
    job, length, places = row.job, run.length, stations.places
    for ys, line, spread in _lanes(row, places):
        for item, first, last in spread:
            yield _Near("head", "ornament", item, line[first], ys)
            yield _Near("foot", "ornament", item, length - line[last], ys)
        if job.gap and len(line) > 1:
            yield from _nearest_between(job, line, length, ys)
    for _, item, y, ends in _border_rows(job, run, stations):
        if ends:
            yield _Near("head", "border", item, ends[0], (-y, y))
            yield _Near("foot", "border", item, length - ends[1], (-y, y))


def _has_whole_borders(job: Job, run: Run, stations: Stations) -> bool:
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


def _nearest_between(job: Job, line: tuple[Nm, ...], length: Nm, ys: tuple[Nm, ...]) -> Iterator[_Near]:
    """Of each kind that stands in the gaps the first and the last."""
    row = (*_gap(job, line, 0), *_gap(job, line, len(line) - 2))
    first = {item.id: (item, x) for item, x in reversed(row)}
    last = {item.id: (item, x) for item, x in row}
    yield from (_Near("head", "between", item, x, ys) for item, x in first.values())
    yield from (_Near("foot", "between", item, length - x, ys) for item, x in last.values())


def _gap(job: Job, places: tuple[Nm, ...], index: int) -> Iterator[tuple[Ornament, Nm]]:
    """What stands in one gap of the row."""
    left, right = ((places[n], job.row[n]) for n in (index, index + 1))
    return zip(job.gap, gap_line(job, left, right), strict=True)
