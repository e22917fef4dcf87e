"""Ornaments along the middle, things between them and border rows, on one piece."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.model.hardware import held_on, opening_cut
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, PieceName, Purpose
from service.strap.model.plies import stack
from service.strap.plane.clear_gaps import ClearSpan, gap_places, space_clear
from service.strap.plane.geometry import least_from_end
from service.strap.plane.outline import EndForm, Outline
from service.strap.plane.parallel import inner_height, reached_at
from service.strap.plane.spacing import Span, Stations, graduated_parts, nearest, register_parts, space
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The part of a piece that is decorated.

    Ornaments are shared out between the anchors `start` and `end`, and their rims keep `start_keep` and
    `end_keep` from them. Border spots that come within `guard` of the centre line stay between
    `border_start` and `border_end` with their rims. Buckled at the nominal hole, the foot's `tip`, its form and half
    its width, lies over everything up to `covered`; that is `None` where nothing is buckled.
    """

    piece: PieceName
    length: Nm
    width: Nm
    outline: Outline
    start: Nm
    end: Nm
    start_keep: Nm
    end_keep: Nm
    border_start: Nm
    border_end: Nm
    guard: Nm
    tip: tuple[EndForm, Nm]
    covered: Nm | None = None


def gap_min(job: Job) -> Nm:
    """The least clear gap between neighbouring ornaments, with what stands in it, and a keeper in its middle."""
    clear, keepers = job.rules.ornament_clear, job.spec.keepers_between
    if keepers:
        clear = max(clear, keepers.width + 2 * job.rules.hardware_clear)
    return sum(item.diameter for item in job.gap) + (len(job.gap) + 1) * clear


def ornament_span(job: Job, run: Run) -> Span:
    """The anchors with what the job's ornaments, taken as large as the largest, and the things between need."""
    diameter = job.largest.diameter if job.largest else 0
    keep = max(run.start_keep, run.end_keep)
    return Span(start=run.start, end=run.end, pitch_min=diameter + gap_min(job), end_min=diameter // 2 + keep)


def clear_span(job: Job, run: Run) -> ClearSpan:
    """The anchors with each ornament of the row."""
    return ClearSpan(
        start=run.start,
        end=run.end,
        diameters=tuple(item.diameter for item in job.row),
        clear_min=gap_min(job),
        end_min=max(run.start_keep, run.end_keep),
    )


def is_mixed(job: Job) -> bool:
    """Whether the row has ornaments of different sizes: then clear gaps are equal, not centre distances."""
    return len({item.diameter for item in job.row}) > 1


def ornament_stations(job: Job, run: Run) -> Stations:
    """Where the ornaments stand; a row of none lies in the middle of the run."""
    if not job.row:
        return Stations((), nearest((run.start + run.end) // 2, job.grid))
    if is_mixed(job):
        return space_clear(clear_span(job, run), job.spacing, job.measuring.ruler)
    span = ornament_span(job, run)
    return space(span, len(job.row), job.spacing, job.measuring.ruler, lambda pitch: _suits(job, pitch))


def _suits(job: Job, pitch: Nm) -> bool:
    """Whether a pitch puts what stands in the middle of its gaps on a graduation, and every border's step."""
    grid = job.grid
    if pitch % (2 * grid) and (len(job.gap) % 2 or job.is_staggered):
        return False
    return all(graduated_parts(pitch, border.step, grid) for border in job.spec.borders)


def gap_line(job: Job, left: tuple[Nm, Ornament], right: tuple[Nm, Ornament]) -> tuple[Nm, ...]:
    """Where what stands between two neighbours stands: with equal clear gaps, on a ruler's graduations if it may.

    Reckoned from the left neighbour, so that alike gaps are reckoned once.
    """
    distance, grid = right[0] - left[0], job.grid
    rims = (left[1].diameter // 2, distance - right[1].diameter // 2)
    sizes = tuple([item.diameter for item in job.gap])
    offsets = gap_places(*rims, sizes, job.rules.ornament_clear, 1 if distance % grid else grid)
    return tuple([left[0] + offset for offset in offsets])


def decorate(job: Job, run: Run, stations: Stations) -> list[Feature]:
    """Every slot, hole and mark of the decoration, in the order ornaments, between, border, keepers."""
    lines = lines_of(job, stations)
    kept = _keeper_places(job, run, stations)
    return [*_ornaments(job, run, lines), *_between(job, run, lines), *_border(job, run, stations), *kept]


Make = Callable[[int, Nm, Nm], Feature]
"""Makes a feature of its number and place."""
Lines = list[tuple[Nm, tuple[tuple[Nm, Ornament], ...]]]
"""The rows of ornaments across the strap: the y of each, and each place with what stands there."""


def lines_of(job: Job, stations: Stations) -> Lines:
    """The rows across the strap. Every second row of a staggered pattern stands in the gaps of the first."""
    along = tuple(zip(stations.places, job.row, strict=True))
    rows = job.rows
    if rows is None or not job.row:
        return [(0, along)]
    middles = tuple((x, job.row[0]) for x in middles_of(stations.places))
    return [(y, middles if line % 2 and job.is_staggered else along) for line, y in enumerate(heights_of(job))]


def heights_of(job: Job) -> tuple[Nm, ...]:
    """The y of each row across the strap."""
    if job.rows is None:
        return (0,)
    count, distance = job.rows.count, job.rows.distance
    return tuple((2 * line - count + 1) * distance // 2 for line in range(count))


def middles_of(places: tuple[Nm, ...]) -> tuple[Nm, ...]:
    """The middles between the places of a row, where every second row of a staggered pattern stands."""
    return tuple((left + right) // 2 for left, right in pairwise(places))


def _fixings(job: Job, run: Run, purpose: Purpose, items: tuple[Ornament, ...]) -> dict[str, Make]:
    """A maker of features for each different item, by its id."""
    return {name: fixing_of(job, run.piece, purpose, item) for name, item in {each.id: each for each in items}.items()}


def _ornaments(job: Job, run: Run, lines: Lines) -> list[Feature]:
    make = _fixings(job, run, "ornament", job.row)
    placed = [(x, y, item) for y, line in lines for x, item in line]
    return [make[item.id](n, x, y) for n, (x, y, item) in enumerate(placed, 1)]


def _between(job: Job, run: Run, lines: Lines) -> list[Feature]:
    make = _fixings(job, run, "between", job.gap)
    placed = []
    for y, line in lines:
        for left, right in pairwise(line):
            placed += [(x, y, item) for x, item in zip(gap_line(job, left, right), job.gap, strict=True)]
    return [make[item.id](n, x, y) for n, (x, y, item) in enumerate(placed, 1)]


def _border(job: Job, run: Run, stations: Stations) -> list[Feature]:
    """Both edges carry the same stations; odd numbers lie on the upper edge, even ones on the lower."""
    placed: list[tuple[Ornament, Nm, Nm, Nm]] = []
    for border, item in zip(job.spec.borders, job.borders, strict=True):
        inset, step = border.inset + run.outline.root_depth, border.step
        level = run.width // 2 - inset
        room = border_room(job, run, item, inset)
        places = border_places(stations.places, stations.middle, step, room, job.grid)
        if run.outline.narrowings:
            places = within(places, room)
        placed += [(item, x, side * border_height(run, inset, x), side * level) for x in places for side in (-1, 1)]
    make = _fixings(job, run, "border", job.borders)
    spots = (make[item.id](n, x, y) for n, (item, x, y, _) in enumerate(placed, 1))
    if not run.outline.narrowings:
        return list(spots)
    return [replace(spot, level=level) for spot, (*_, level) in zip(spots, placed, strict=True)]


def within(places: list[Nm], room: tuple[Nm, Nm]) -> list[Nm]:
    """A row that ends where its strap gets too narrow; all of it, to be refused, where nowhere is wide enough."""
    return [x for x in places if room[0] <= x <= room[1]] or places


def border_height(run: Run, inset: Nm, x: Nm) -> Nm:
    """How far from the centre line a border spot stands at `x`: as far inside the edge as it is there."""
    return round(inner_height(run.outline, inset, x)) if run.outline.narrowings else run.width // 2 - inset


def _keeper_places(job: Job, run: Run, stations: Stations) -> list[Feature]:
    """Marks in the middle of the clear gaps that have a keeper, on a graduation of the ruler."""
    along = list(zip(stations.places, job.row, strict=True))
    found = []
    for number, gap in enumerate(job.kept_gaps, 1):
        (left, one), (right, other) = along[gap - 1], along[gap]
        middle = (left + one.diameter // 2 + right - other.diameter // 2) // 2
        found.append(
            Feature(
                id=f"{run.piece}.keeper_place.{number}", kind="mark", action="mark", purpose="keeper_place",
                x=nearest(middle, job.grid),
            )
        )  # fmt: skip
    return found


def border_places(places: tuple[Nm, ...], middle: Nm, step: Nm, room: tuple[Nm, Nm], grid: Nm) -> list[Nm]:
    """Places in register with the ornaments, the same count beyond each end of their row.

    Between two ornaments the step is their distance / k, with k the whole number whose step comes nearest to
    the wanted one, on the graduation `grid` if that comes near enough; beyond the row it is that of the end gaps.
    """
    if len(places) < 2:
        anchor = places[0] if places else middle
        count = min(anchor - room[0], room[1] - anchor) // step
        return [anchor + index * step for index in range(-count, count + 1)] if count >= 0 else []
    inner = [places[0]]
    for left, right in pairwise(places):
        parts = register_parts(right - left, step, grid)
        inner += [left + (right - left) * part // parts for part in range(1, parts + 1)]
    first, last, beyond = _beyond(places, step, room, grid)
    head = [places[0] - first * n for n in range(beyond, 0, -1)]
    return [*head, *inner, *(places[-1] + last * n for n in range(1, beyond + 1))]


def border_ends(places: tuple[Nm, ...], middle: Nm, step: Nm, room: tuple[Nm, Nm], grid: Nm) -> tuple[Nm, ...]:
    """The first and the last of `border_places`, without those between; nothing where there are none."""
    if len(places) < 2:
        lone = border_places(places, middle, step, room, grid)
        return (lone[0], lone[-1]) if lone else ()
    first, last, beyond = _beyond(places, step, room, grid)
    return places[0] - first * beyond, places[-1] + last * beyond


_APART: Nm = 2_000_000
"""No two ornaments' centres are nearer than this unless they overlap (the smallest spots are 3 mm, common practice)."""


def _beyond(places: tuple[Nm, ...], step: Nm, room: tuple[Nm, Nm], grid: Nm) -> tuple[Nm, Nm, int]:
    """The steps beyond both ends of a row, and how many of them there is room for."""
    first, last = _end_step(places[:2], step, grid), _end_step(places[-2:], step, grid)
    return first, last, max(min((places[0] - room[0]) // first, (room[1] - places[-1]) // last), 0)


def _end_step(pair: tuple[Nm, ...], step: Nm, grid: Nm) -> Nm:
    """Neighbours that stand in each other are refused, whatever the border: it is not laid out in their tiny steps."""
    apart = pair[1] - pair[0]
    return apart // register_parts(apart, step, grid) if apart >= _APART else step


def border_room(job: Job, run: Run, item: Ornament, inset: Nm) -> tuple[Nm, Nm]:
    """The first and last x at which a border spot may stand."""
    outline, radius = run.outline, item.diameter // 2
    clear = radius + job.rules.hardware_clear
    low = _from_end(job, item, (outline.head, outline.head_half), inset)
    high = _from_end(job, item, (outline.foot, outline.foot_half), inset)
    low, high = (run.start if low is None else low), (run.end if high is None else run.length - high)
    if abs(outline.head_half - inset) - clear < run.guard:
        low = max(low, run.border_start + radius)
    if abs(outline.foot_half - inset) - clear < run.guard:
        high = min(high, run.border_end - radius)
    return _where_wide(job, run, item, inset, (low, high))


def _from_end(job: Job, item: Ornament, end: tuple[EndForm, Nm], inset: Nm) -> Nm | None:
    """How near a spot may come to an end inside the outline; `None` where its rim lies too near the edge anyway."""
    keep = item.diameter // 2 + (0 if item.overhang else job.rules.ornament_edge)
    (form, half), y = end, abs(end[1] - inset)
    return None if half - y < keep else least_from_end(form, half, y, keep)


def _where_wide(job: Job, run: Run, item: Ornament, inset: Nm, room: tuple[Nm, Nm]) -> tuple[Nm, Nm]:
    """Where a strap narrows, the rows along its edges end before they meet the ornaments or each other."""
    if not run.outline.narrowings:
        return room
    apart = min(_from_middle(job) + job.rules.ornament_clear + item.diameter // 2, run.width // 2 - inset)
    wide = [x for x in reached_at(run.outline, inset, apart) if room[0] < x < room[1]]
    low = room[0] if border_height(run, inset, room[0]) >= apart else min(wide, default=room[1])
    high = room[1] if border_height(run, inset, room[1]) >= apart else max(wide, default=room[0])
    return low, high


def _from_middle(job: Job) -> Nm:
    """How far from the centre line the ornaments reach."""
    rows = job.rows
    outermost = (rows.count - 1) * rows.distance // 2 if rows else 0
    return outermost + max((item.diameter for item in (*job.row, *job.gap)), default=0) // 2


def fixing_of(job: Job, piece: PieceName, purpose: Purpose, item: Ornament) -> Make:
    """A maker of features for one ornament: its slot, hole or mark, chosen once for the whole row."""
    base = _slot_hole_or_mark(job, piece, purpose, item)

    def make(n: int, x: Nm, y: Nm) -> Feature:
        return Feature(
            id=f"{piece}.{purpose}.{n}", kind=base.kind, action=base.action, purpose=base.purpose, x=x, y=y,
            diameter=base.diameter, length=base.length, width=base.width, angle=base.angle,
            method=base.method, tool=base.tool, item=item.id, footprint=item.diameter, fastener=base.fastener,
        )  # fmt: skip

    return make


def _slot_hole_or_mark(job: Job, piece: str, purpose: Purpose, item: Ornament) -> Feature:
    fixing = held_on(item, stack(job.plies.set_through), job.shop)
    opening, fastener = fixing.opening, fixing.fastener
    name = f"{piece}.{purpose}"
    if opening is None:
        return Feature(id=name, kind="mark", action="mark", purpose=purpose, x=0)
    cut = opening_cut(opening, job.shop)
    if opening.length is None:
        return Feature(
            id=name, kind="hole", action="punch", purpose=purpose, x=0, diameter=cut.length, tool=cut.tool,
            fastener=fastener.id if fastener else None,
        )  # fmt: skip
    return Feature(
        id=name, kind="slot", action="punch", purpose=purpose, x=0, length=cut.length, width=cut.width,
        angle=90 if opening.direction == "across" else 0, method=cut.method, tool=cut.tool,
    )  # fmt: skip
