"""Ornaments along the middle, things between them and border rows, on one piece."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from service.shop.goods import Nm, Ornament, ScrewPost, Shank
from service.strap.geometry import least_from_end
from service.strap.hardware import hole_for, shank_slot
from service.strap.job import Job, said
from service.strap.outline import Outline
from service.strap.pattern import Feature, PieceName, Purpose
from service.strap.spacing import SpacingRule, Span, Stations, centred_in_gap, register_parts, space


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The part of a piece that is decorated.

    Ornaments are shared out between the anchors `start` and `end`, and their rims keep `start_keep` and
    `end_keep` from them. Border spots that come within `guard` of the centre line stay between
    `border_start` and `border_end` with their rims.
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


def spacing_rule(job: Job) -> SpacingRule:
    """The row's spacing rule; `ruler` where there is no row."""
    row = job.spec.ornaments
    return said(row.spacing) if row else "ruler"


def ornament_span(job: Job, run: Run) -> Span:
    """The anchors with what the job's ornaments and the things between them need."""
    diameter = job.ornament.diameter if job.ornament else 0
    clear = job.rules.ornament_clear
    between = (said(job.spec.between).per_gap or 0) if job.spec.between and job.between else 0
    small = job.between.diameter if job.between else 0
    return Span(
        start=run.start,
        end=run.end,
        pitch_min=diameter + between * small + (between + 1) * clear,
        end_min=diameter // 2 + max(run.start_keep, run.end_keep),
    )


def ornament_stations(job: Job, run: Run) -> Stations:
    """Where the ornaments stand; a row of none lies in the middle of the run."""
    row = job.spec.ornaments
    if row is None or row.count == 0:
        middle = (run.start + run.end) // 2
        return Stations(count=0, first=middle, last=middle)
    span = ornament_span(job, run)
    return space(span, row.count, spacing_rule(job), job.units, job.rules.ruler_tolerance)


def decorate(job: Job, run: Run) -> list[Feature]:
    """Every slot, hole and mark of the decoration, in the order ornaments, between, border."""
    stations = ornament_stations(job, run)
    return [*_ornaments(job, run, stations), *_between(job, run, stations), *_border(job, run, stations)]


def _ornaments(job: Job, run: Run, stations: Stations) -> list[Feature]:
    if job.ornament is None:
        return []
    make = _fixing(job, run.piece, "ornament", job.ornament)
    return [make(n, x, 0) for n, x in enumerate(stations.all(), 1)]


def _between(job: Job, run: Run, stations: Stations) -> list[Feature]:
    item, row = job.between, job.spec.between
    if item is None or row is None or job.ornament is None:
        return []
    make = _fixing(job, run.piece, "between", item)
    places: list[Nm] = []
    xs = stations.all()
    for left, right in pairwise(xs):
        clear = right - left - job.ornament.diameter
        places += centred_in_gap(left, right, clear, item.diameter, row.per_gap or 0)
    return [make(n, x, 0) for n, x in enumerate(places, 1)]


def _border(job: Job, run: Run, stations: Stations) -> list[Feature]:
    """Both edges carry the same stations; odd numbers lie on the upper edge, even ones on the lower."""
    item, row = job.border, job.spec.border
    if item is None or row is None:
        return []
    make = _fixing(job, run.piece, "border", item)
    y = run.width // 2 - said(row.inset)
    places = border_places(stations, said(row.step), _border_room(job, run, item, y))
    features = []
    for index, x in enumerate(places):
        features += [make(2 * index + 1, x, -y), make(2 * index + 2, x, y)]
    return features


def border_places(stations: Stations, step: Nm, room: tuple[Nm, Nm]) -> list[Nm]:
    """Stations in register with the ornaments, the same count beyond each end of their row.

    The step is pitch / k, with k the whole number whose step comes nearest to the wanted one.
    """
    if stations.count < 2:
        middle, count = stations.first, min(stations.first - room[0], room[1] - stations.first) // step
        return [middle + index * step for index in range(-count, count + 1)] if count >= 0 else []
    parts = register_parts(stations.pitch, step)
    inner = (stations.count - 1) * parts
    beyond = 0
    while stations.at(-beyond - 1, parts) >= room[0] and stations.at(inner + beyond + 1, parts) <= room[1]:
        beyond += 1
    return [stations.at(index, parts) for index in range(-beyond, inner + beyond + 1)]


def _border_room(job: Job, run: Run, item: Ornament, y: Nm) -> tuple[Nm, Nm]:
    """The first and last x at which a border spot may stand."""
    radius = item.diameter // 2
    low, high = _outline_room(job, run, item, y)
    if abs(y) - radius - job.rules.hardware_clear < run.guard:
        low = max(low, run.border_start + radius)
        high = min(high, run.border_end - radius)
    return low, high


def _outline_room(job: Job, run: Run, item: Ornament, y: Nm) -> tuple[Nm, Nm]:
    """How near a spot may come to both ends inside the outline."""
    keep = item.diameter // 2 + (0 if item.overhang else job.rules.ornament_edge)
    half = run.width // 2
    if half - abs(y) < keep:
        return run.start, run.end
    head, foot = (least_from_end(form, half, abs(y), keep) for form in (run.outline.head, run.outline.foot))
    return head, run.length - foot


def _fixing(job: Job, piece: PieceName, purpose: Purpose, item: Ornament) -> Callable[[int, Nm, Nm], Feature]:
    """A maker of features for one ornament: its slot, hole or mark, chosen once for the whole row."""
    base = _slot_hole_or_mark(job, piece, purpose, item)

    def make(n: int, x: Nm, y: Nm) -> Feature:
        return Feature(
            id=f"{piece}.{purpose}.{n}", kind=base.kind, action=base.action, purpose=base.purpose, x=x, y=y,
            diameter=base.diameter, length=base.length, width=base.width, angle=base.angle,
            method=base.method, tool=base.tool, item=item.id, footprint=item.diameter,
        )  # fmt: skip

    return make


def _slot_hole_or_mark(job: Job, piece: str, purpose: Purpose, item: Ornament) -> Feature:
    fixing = item.fixing
    name = f"{piece}.{purpose}"
    if isinstance(fixing, Shank):
        cut = shank_slot(fixing, job.shop)
        return Feature(
            id=name, kind="slot", action="punch", purpose=purpose, x=0, length=cut.length, width=cut.width,
            angle=90 if fixing.direction == "across" else 0, method=cut.method, tool=cut.tool,
        )  # fmt: skip
    if isinstance(fixing, ScrewPost):
        cut = hole_for(fixing.diameter, job.rules.hole_ease, job.shop)
        return Feature(
            id=name, kind="hole", action="punch", purpose=purpose, x=0, diameter=cut.length, tool=cut.tool
        )  # fmt: skip
    return Feature(id=name, kind="mark", action="mark", purpose=purpose, x=0)
