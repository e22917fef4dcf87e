"""Small straps on which a part of the rules is tried: one end with one thing near it, or one gap of a row.

What they answer holds for every strap with that part, since a rule looks at neighbours only.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import Literal

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.making.decoration import border_places, fixing_of, gap_line, heights_of, lines_of
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Pattern, Piece, Purpose
from service.strap.model.rule import Measured
from service.strap.plane.geometry import Capsule, disc
from service.strap.plane.lengths import MM
from service.strap.plane.outline import strap_outline
from service.strap.plane.spacing import Stations
from service.strap.rules.checks import measure_fit, measure_set_on
from service.strap.rules.surface import cut_shape

EndName = Literal["head", "foot"]

Placed = tuple[Purpose, Ornament, Nm, Nm]
"""What stands where: its purpose, itself, x and y."""

_FAR: Nm = 300 * MM
"""Farther than anything on a strap reaches."""
LONE_STEPS = 3
"""How many border spots are set on either side of a single ornament, beside those level with it."""


@dataclass(frozen=True, slots=True)
class EndExcerpt:
    """One end of a long strap that carries nothing but its hardware. Distances run from that end's tip."""

    job: Job
    pattern: Pattern
    piece: Piece
    end: EndName

    @property
    def taken(self) -> Nm:
        """How far the cuts and caps of this end reach; 0 where it has none."""
        reaches = [self._away(feature.x) + _half_length(feature) for feature in self._fixed()]
        return max(reaches, default=0)

    @property
    def sewn_from(self) -> Nm:
        """From where on the lines along the edges are as they are all along: behind its shape, and their beginning."""
        outline = self.piece.outline
        xs = [
            self._away(x) for line in self.piece.stitch_lines for x, _ in line.points if line.purpose == "edge_stitch"
        ]
        return max(min(xs, default=0), outline.foot_depth if self.end == "foot" else outline.head_depth)

    def admits(self, purpose: Purpose, item: Ornament, away: Nm, ys: Iterable[Nm] = (0,)) -> bool:
        """Whether everything holds with this item `away` from the tip, at each of these distances from the middle."""
        return self.room(purpose, item, away, ys) >= 0

    def room(self, purpose: Purpose, item: Ornament, away: Nm, ys: Iterable[Nm] = (0,)) -> Nm:
        """What is left there to the limit of the tightest rule; what is lacking is negative."""
        x = self._away(away)
        make = fixing_of(self.job, self.piece.name, purpose, item)
        piece = replace(self.piece, features=(*self.piece.features, *(make(n, x, y) for n, y in enumerate(ys, 1))))
        pieces = tuple(piece if each is self.piece else each for each in self.pattern.pieces)
        whole = replace(self.pattern, pieces=pieces)
        measures = (*measure_set_on(piece, self.job), *measure_fit(whole, self.job))
        return min([measured.room for measured in measures], default=0)

    def passes_beside(self, item: Ornament, y: Nm) -> bool:
        """Whether an item at height `y`, 0 or more, keeps clear of everything at this end, however far along it is."""
        rules, rim = self.job.rules, y - item.diameter // 2 - 1
        tallest = max((_half_height(feature) for feature in self._fixed()), default=0)
        if self.piece.name == "body":
            tallest = max(tallest, self.job.strap_width // 2)
        return rim - tallest >= max(rules.hardware_clear, rules.cut_web)

    def _away(self, x: Nm) -> Nm:
        return self.piece.length - x if self.end == "foot" else x

    def _fixed(self) -> list[Feature]:
        half = self.piece.length // 2
        return [each for each in self.piece.features if each.kind != "fold" and self._away(each.x) < half]


def fits(job: Job, pattern: Pattern) -> bool:
    """Whether the items of a job fit its leather and tools, on a pattern that need not carry them."""
    return _passed(measure_fit(pattern, job))


def is_aloof(job: Job) -> bool:
    """Whether border spots stand so far out that nothing in the rows between comes near them."""
    limit = max(job.rules.ornament_clear, job.rules.cut_web)
    outermost = max(map(abs, heights_of(job)))
    middle = (fixing_of(job, "strap", "ornament", item)(1, 0, outermost) for item in (*job.row, *job.gap))
    tallest = max((_half_height(feature) for feature in middle), default=0)
    heights = (job.body_width // 2 - border.inset for border in job.spec.borders)
    return all(y - item.diameter // 2 - 1 - tallest >= limit for y, item in zip(heights, job.borders, strict=True))


def _half_length(feature: Feature) -> Nm:
    cut = _cut(feature)
    return _farthest(feature, (cut.x2 - cut.x1) / 2 + cut.radius)


def _half_height(feature: Feature) -> Nm:
    cut = _cut(feature)
    return abs(feature.y) + _farthest(feature, (cut.y2 - cut.y1) / 2 + cut.radius)


def _cut(feature: Feature) -> Capsule:
    return cut_shape(feature) if feature.action == "punch" else disc(feature.x, feature.y, 0)


def _farthest(feature: Feature, cut: float) -> Nm:
    """From a feature's middle to the farthest that it covers, or that it cuts, which is so far."""
    return max(feature.footprint // 2 + 1, int(cut) + 1)


def row_holds(job: Job, items: tuple[Ornament, ...], distances: tuple[Nm, ...], *, border: bool) -> bool:
    """Whether everything holds among neighbours so far apart: themselves, what is in the gaps, the border beside."""
    places = tuple(accumulate(distances, initial=_FAR))
    placed = _row(job, items, places)
    if border:
        placed += _border(job, places, (places[0], places[-1]))
    return _holds(job, placed, places[-1] + _FAR)


def lone_holds(job: Job, items: tuple[Ornament, ...]) -> bool:
    """Whether everything holds round a single ornament, or none, with the border beside it."""
    step = max((border.step for border in job.spec.borders), default=0)
    middle, reach = _FAR + LONE_STEPS * step, LONE_STEPS * step
    placed = _row(job, items, (middle,) if items else ())
    placed += _border(job, (middle,), (middle - reach, middle + reach))
    return _holds(job, placed, 2 * middle)


def level_holds(job: Job, item: Ornament) -> bool:
    """Whether an ornament holds with the border spots that stand level with it, as they do in every row."""
    placed = [*_row(job, (item,), (_FAR,)), *_border(job, (_FAR,), (_FAR, _FAR))]
    return _holds(job, placed, 2 * _FAR)


def spots_hold(job: Job, step: Nm) -> bool:
    """Whether everything holds among border spots `step` apart, with nothing else near them."""
    return _holds(job, _border(job, (_FAR, _FAR + step), (_FAR, _FAR + step), step), 2 * _FAR + step)


def _row(job: Job, items: tuple[Ornament, ...], places: tuple[Nm, ...]) -> list[Placed]:
    """Ornaments at these places, in every row across the strap, and what stands between them."""
    placed: list[Placed] = []
    for y, line in lines_of(replace(job, row=items), Stations(places, 0)):
        placed += [("ornament", item, x, y) for x, item in line]
        for left, right in pairwise(line):
            placed += [("between", item, x, y) for x, item in zip(gap_line(job, left, right), job.gap, strict=True)]
    return placed


def _border(job: Job, places: tuple[Nm, ...], room: tuple[Nm, Nm], step: Nm | None = None) -> list[Placed]:
    placed: list[Placed] = []
    for border, item in zip(job.spec.borders, job.borders, strict=True):
        y = job.body_width // 2 - border.inset
        for x in border_places(places, places[0], step or border.step, room, job.grid):
            placed += [("border", item, x, -y), ("border", item, x, y)]
    return placed


def _holds(job: Job, placed: list[Placed], length: Nm) -> bool:
    features = [fixing_of(job, "strap", purpose, item)(n, x, y) for n, (purpose, item, x, y) in enumerate(placed, 1)]
    piece = Piece(
        name="strap",
        leather=job.leather,
        length=length,
        width=job.body_width,
        outline=strap_outline(length, job.body_width, ("square", 0), ("square", 0)),
        features=tuple(features),
        thickness=job.leather.thickness,
        skived=job.leather.thickness,
    )
    unsewn = replace(job, spec=replace(job.spec, stitching=None))  # what stands near a seam is tried at the ends
    return _passed(measure_set_on(piece, unsewn))


def _passed(measures: Iterable[Measured]) -> bool:
    return all(measured.room >= 0 for measured in measures)
