"""How a feature looks on the sheet: by shape and line, never by colour alone.

What is cut through is a closed wide contour at true size; what is only scribed is a narrow cross without a
contour; a fold is a dashed double-dotted line across the piece.
"""

from collections.abc import Collection, Iterable
from math import cos, hypot, radians, sin

from service.drawing import lines, palette, words
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    Colour,
    CurveTo,
    Group,
    Item,
    LineTo,
    MoveTo,
    Path,
    Segment,
    Text,
)
from service.strap.fixings.stitches import hole_places
from service.strap.model.pattern import Feature, Piece
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.lengths import MM
from service.strap.plane.outline import Arc, Line, Outline
from service.strap.plane.profile import edge_at

CROSS_ARM = 1.8
"""Half the width of a mark's cross in millimetres."""
_FOLD_OVERHANG = 3.0
_LEAST_NUMBER = 1.5
_NUMBER_GAP = 0.6
"""Millimetres between a size hole and its number, and between that and the edge."""
STITCH_STROKE = 1.2
"""Length of the stroke at each hole of a line of stitches, in millimetres."""
CENTRE_OVERHANG = 5.0
"""Millimetres by which a centre line is longer than its piece at each end."""


def outline_segments(outline: Outline) -> tuple[Segment, ...]:
    """The outline in millimetres, in the piece's own frame."""
    segments: list[Segment] = [MoveTo(*_mm(outline.start))]
    for part in outline.segments:
        if isinstance(part, Line):
            segments.append(LineTo(*_mm(part.end)))
        elif isinstance(part, Arc):
            segments.append(ArcTo(part.radius / MM, *_mm(part.end)))
        else:
            segments.append(CurveTo(*_mm(part.control_1), *_mm(part.control_2), *_mm(part.end)))
    return (*segments, Close())


def _mm(point: tuple[int, int]) -> tuple[float, float]:
    return point[0] / MM, point[1] / MM


def cut_through(feature: Feature) -> Item:
    """A hole or a slot at true size. Without a slot punch: two round holes and two knife cuts between."""
    x, y = feature.x / MM, feature.y / MM
    if feature.kind == "hole":
        return Circle(x, y, (feature.diameter or 0) / MM / 2, lines.PUNCH, palette.HOLE, feature.id)
    length, width = (feature.length or 0) / MM, (feature.width or 0) / MM
    if feature.method == "holes_and_cuts":
        return holes_and_cuts(x, y, length, width, feature.angle, feature.id)
    segments = stadium(x, y, length, width, feature.angle)
    return Path(segments, lines.PUNCH, palette.HOLE, feature.id)


def stadium(x: float, y: float, length: float, width: float, angle: float) -> tuple[Segment, ...]:
    """A slot with round ends, `length` over all, its long way `angle` degrees from the x axis."""
    along, across = _axes(angle)
    reach, half = (length - width) / 2, width / 2

    def corner(u: float, v: float) -> tuple[float, float]:
        return x + u * along[0] + v * across[0], y + u * along[1] + v * across[1]

    return (
        MoveTo(*corner(-reach, -half)),
        LineTo(*corner(reach, -half)),
        ArcTo(half, *corner(reach, half)),
        LineTo(*corner(-reach, half)),
        ArcTo(half, *corner(-reach, -half)),
        Close(),
    )


def _axes(angle: float) -> tuple[tuple[float, float], tuple[float, float]]:
    if angle == 0:
        return (1.0, 0.0), (0.0, 1.0)
    if angle == 90:
        return (0.0, 1.0), (-1.0, 0.0)
    c, s = cos(radians(angle)), sin(radians(angle))
    return (c, s), (-s, c)


def holes_and_cuts(x: float, y: float, length: float, width: float, angle: float, name: str | None = None) -> Group:
    """Two round holes at a slot's ends and the two knife cuts that join them."""
    (ax, ay), (bx, by) = _axes(angle)
    reach, half = (length - width) / 2, width / 2
    holes = (Circle(x + side * reach * ax, y + side * reach * ay, half, lines.PUNCH, palette.HOLE) for side in (-1, 1))
    cuts: list[Segment] = []
    for side in (-1, 1):
        dx, dy = side * half * bx, side * half * by
        cuts.append(MoveTo(x - reach * ax + dx, y - reach * ay + dy))
        cuts.append(LineTo(x + reach * ax + dx, y + reach * ay + dy))
    return Group((*holes, Path(tuple(cuts), lines.PUNCH)), id=name)


def cross(x: float, y: float, name: str | None = None, arm: float = CROSS_ARM) -> Path:
    """A mark: two narrow strokes crossing at the place that is scribed."""
    strokes = (MoveTo(x - arm, y), LineTo(x + arm, y), MoveTo(x, y - arm), LineTo(x, y + arm))
    return Path(strokes, lines.MARK, id=name)


def mark(feature: Feature) -> Path:
    """The cross of a feature that is scribed and never cut."""
    return cross(feature.x / MM, feature.y / MM, feature.id)


def fold(feature: Feature, piece: Piece) -> Path:
    """A fold across a piece."""
    x, reach = feature.x / MM, edge_at(piece.outline, feature.x) / MM + _FOLD_OVERHANG
    return Path((MoveTo(x, -reach), LineTo(x, reach)), lines.FOLD, id=feature.id)


def laps(piece: Piece) -> tuple[Path, ...]:
    """Of each lap both ends across the piece: edges of strips, the one on top and the one beneath it."""
    half = piece.width / MM / 2
    return tuple(
        Path((MoveTo(x / MM, -half), LineTo(x / MM, half)), lines.LAP, id=f"{lap.id}.{name}")
        for lap in piece.splices
        for name, x in (("from", lap.start), ("to", lap.end))
    )


def stitches(line: StitchLine) -> tuple[Path, Path]:
    """A line of stitches: where it runs, and a stroke across it at every hole."""
    return stitch_line(line), _stitch_holes(line)


def _stitch_holes(line: StitchLine) -> Path:
    holes = [(x / MM, y / MM) for x, y in hole_places(line)]
    before = [holes[-1 if line.closed else 0], *holes[:-1]]
    after = [*holes[1:], holes[0 if line.closed else -1]]
    strokes: list[Segment] = []
    for (x, y), one, other in zip(holes, before, after, strict=True):
        along = other[0] - one[0], other[1] - one[1]
        share = STITCH_STROKE / 2 / (hypot(*along) or 1.0)
        dx, dy = -along[1] * share, along[0] * share
        strokes += [MoveTo(x + dx, y + dy), LineTo(x - dx, y - dy)]
    return Path(tuple(strokes), lines.STITCH_HOLE, id=f"{line.id}.holes")


def stitch_line(line: StitchLine) -> Path:
    """Where a line of stitches runs: a narrow line of short dashes."""
    first, *others = (_mm(point) for point in line.points)
    ends: tuple[Segment, ...] = (Close(),) if line.closed else ()
    return Path((MoveTo(*first), *(LineTo(*point) for point in others), *ends), lines.STITCH, id=line.id)


def footprints(features: Iterable[Feature], ground: Colour = palette.LEATHER) -> tuple[Item, ...]:
    """Narrow dashed circles: what will sit on the leather, for orientation only.

    Those of marks cover what lies beneath with the `ground`, so that a cross on the centre line stands clear.
    """
    return tuple(
        Circle(
            feature.x / MM,
            feature.y / MM,
            feature.footprint / MM / 2,
            lines.FOOTPRINT,
            ground if feature.action == "mark" else None,
        )
        for feature in features
        if feature.footprint
    )


def hole_numbers(piece: Piece, largest: float, near: Collection[Feature] | None = None) -> tuple[Text, ...]:
    """The number of each size hole below it, at an em of `largest` or what the strap has room for, if that is read.

    Of those that are `near` alone, where so many are given.
    """
    rows = [each for each in piece.features if each.purpose == "size_hole"]
    numbers = words.hole_numbers(piece)
    level = [each for each in rows if each.y == rows[0].y]  # those of another prong are of the same sizes
    holes = [each for each in level if near is None or each in near]
    halves = [edge_at(piece.outline, each.x) / MM for each in holes]
    rooms = [
        (half - each.y / MM - _radius(each) - 2 * _NUMBER_GAP) / CAP_HEIGHT
        for half, each in zip(halves, holes, strict=True)
    ]
    return tuple(
        _number(hole, numbers[hole.id], min(largest, room))
        for hole, room in zip(holes, rooms, strict=True)
        if room > _LEAST_NUMBER
    )


def _number(feature: Feature, number: str, em: float) -> Text:
    baseline = feature.y / MM + _radius(feature) + _NUMBER_GAP + CAP_HEIGHT * em
    return Text(feature.x / MM, baseline, number, em, "middle", weight="bold", colour=palette.INK)


def _radius(feature: Feature) -> float:
    return (feature.diameter or 0) / MM / 2


def centre_line(piece: Piece) -> Path:
    """The piece's axis, a little longer than the piece."""
    ends = (MoveTo(-CENTRE_OVERHANG, 0.0), LineTo(piece.length / MM + CENTRE_OVERHANG, 0.0))
    return Path(ends, lines.CENTRE)
