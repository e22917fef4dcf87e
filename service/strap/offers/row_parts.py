"""The parts of a strap with a row of ornaments, each tried by the rules themselves on an excerpt of a strap.

As a rule a part is tried a few times for a whole grid of lengths and counts, since its answer turns from no to yes
once as a distance grows: from one neighbour to the next, from an end's tip to what stands nearest to it, or from
one end of the strap to the other.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from service.shop.goods import Nm
from service.strap.errors import Refusal
from service.strap.filling.limits import length_faults
from service.strap.making.decoration import Run, gap_min
from service.strap.making.layout import lay_out, measure_lengths
from service.strap.making.past_tip import settle
from service.strap.model.job import Job
from service.strap.model.spec_changes import sized
from service.strap.offers.excerpts import (
    EndExcerpt,
    EndName,
    fits,
    is_aloof,
    level_holds,
    lone_holds,
    row_holds,
    spots_hold,
)
from service.strap.offers.row_layout import (
    Counted,
    Group,
    Near,
    SetOn,
    groups_of,
    has_whole_borders,
    most_rise,
    nearest_of,
    set_on,
)
from service.strap.offers.thresholds import Threshold
from service.strap.plane.lengths import MM
from service.strap.plane.spacing import Stations, register_parts, round_up
from service.strap.rules.blanks import STRIP_LENGTH
from service.strap.rules.checks import measure_rules

LONG: Nm = 5000 * MM
"""Longer than a strap whose two ends have to do with one another."""
_ENDS: tuple[EndName, EndName] = ("head", "foot")


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
        self._seams: dict[tuple[str, ...], frozenset[SetOn]] = {}
        self._groups: dict[Group, bool] = {}
        self._spots = Threshold(lambda step: spots_hold(job, step))
        self._known: dict[tuple[object, ...], bool] = {}
        self._runs: dict[tuple[Nm, Nm], Run | None] = {}

    def verdict(self, row: Counted, length: Nm) -> bool | None:
        """Whether the strap can be made at this length; `None` where that is not known."""
        key = (length, row.largest)
        if key not in self._runs:
            self._runs[key] = self._run_at(replace(row.job, spec=sized(row.job.spec, length, None)))
        run = self._runs[key]
        if run is None:
            return False
        lining = row.job.lining
        if lining and run.length + most_rise(row.job) > lining.strip_length:
            return None
        return self._row_holds(row, run)

    def _run_at(self, job: Job) -> Run | None:
        """The decorated part at a job's length; none where that length cannot be made, whatever is set on it."""
        measures = measure_lengths(job)
        too_long = any(measures.length > each.strip_length for each in (job.leather, job.lining) if each)
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
        whole = ((self._ends["head"].piece.name,), ("lining",))
        return all(each.room >= 0 for each in measures if each.rule is not STRIP_LENGTH or each.kinds not in whole)

    def items_fit(self, row: Counted) -> bool:
        """Whether everything that is set on the strap fits its leather and what stands level with it, at any length."""
        job, ids = row.job, tuple(item.id for item in row.kinds)
        decorated = replace(self._bare, row=row.kinds, gap=job.gap, borders=job.borders)
        if not self._once(("fits", *ids), lambda: fits(decorated, self._pattern)):
            return False
        level = len(job.row) > 1 and job.borders
        return not level or self._once(("level", *ids), lambda: all(level_holds(job, item) for item in row.kinds))

    def _crowded_seams(self, row: Counted) -> frozenset[SetOn]:
        """What stands too near the lines of stitches along the edges, however far it is from both ends."""
        if not row.job.edge_stitched:
            return frozenset()
        ids = tuple(item.id for item in row.kinds)
        if ids not in self._seams:
            self._seams[ids] = frozenset(self._crowding(row))
        return self._seams[ids]

    def _crowding(self, row: Counted) -> Iterator[SetOn]:
        end = self._ends["head"]
        for purpose, item, y in set_on(row):
            if end.room(purpose, item, LONG // 2, (y,)) < 0:
                yield purpose, item, y

    def _in_seams(self, row: Counted, run: Run, places: tuple[Nm, ...], crowded: frozenset[SetOn]) -> bool:
        """Whether the ornament in the middle, or a border's spot level with it, surely stands beside those lines."""
        if not places:
            return False
        middle = len(places) // 2
        there = {item.id for purpose, item, _ in crowded if purpose == "border" and len(places) > 1}
        there |= {item.id for purpose, item, _ in crowded if purpose == "ornament" and item is row.job.row[middle]}
        aways = (places[middle], run.length - places[middle])
        reaches = (end.sewn_from + row.largest for end in self._ends.values())
        return bool(there) and all(away >= reach for away, reach in zip(aways, reaches, strict=True))

    def _row_holds(self, row: Counted, run: Run) -> bool | None:
        run, stations = settle(row.job, run)
        crowded = self._crowded_seams(row)
        if crowded:
            return False if self._in_seams(row, run, stations.places, crowded) else None
        beside = self._neighbours_hold(row, run, stations)
        if beside is False:
            return False
        known = beside is True
        for near in nearest_of(row, run, stations):
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
            return alone or (False if has_whole_borders(job, run, stations) else None)
        groups = groups_of(row, places)
        if not job.borders:
            return all(self._group_holds(group) for group in groups)
        if self._once(("aloof", *ids), lambda: is_aloof(job)):
            return all(self._group_holds(group) and all(map(self._spots_hold, group[1])) for group in groups)
        return all(self._tried(group, border=True) for group in groups)

    def _group_holds(self, group: Group) -> bool:
        if group not in self._groups:
            self._groups[group] = self._gap_holds(group) if len(group[1]) == 1 else self._staggered_hold(group)
        return self._groups[group]

    def _staggered_hold(self, group: Group) -> bool:
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

    def _gap_holds(self, group: Group) -> bool:
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

    def _tried(self, group: Group, *, border: bool) -> bool:
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

    def _end_holds(self, job: Job, run: Run, stations: Stations, near: Near) -> bool | None:
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

    def _passes_beside(self, near: Near) -> bool:
        end = self._ends[near.end]
        return self._once(("beside", near.end, near.item.id, near.y), lambda: end.passes_beside(near.item, near.y))

    def _near_holds(self, near: Near, away: Nm) -> bool:
        key = (near.end, near.purpose, near.item.id, near.ys)
        if key not in self._near:
            end, guess = self._ends[near.end], None if near.purpose == "border" else self._nearest_guess(near)
            self._near[key] = Threshold(lambda at: end.admits(near.purpose, near.item, at, near.ys), guess)
        return self._near[key](away)

    def _nearest_guess(self, near: Near) -> Nm:
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
