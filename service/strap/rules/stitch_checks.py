"""Lines of stitches against edges, cuts and what is set on the strap: as lines, never hole by hole.

A line along the edges lies at its inset from the outline, so that a thing's distance from it is told by its distance
from the outline. The work grows with the features and not with the stitches.
"""

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from itertools import pairwise

from service.strap.model.job import Job
from service.strap.model.measured import Measured, at_least
from service.strap.model.pattern import Feature, Piece, StitchLine, StitchPurpose
from service.strap.plane.geometry import Capsule, disc, edge_distance, gap
from service.strap.plane.outline import Outline, Point

Shape = tuple[Capsule, Feature]
"""What a feature cuts or covers."""


def stitch_measures(piece: Piece, job: Job, cuts: Iterable[Shape], covers: Iterable[Shape]) -> list[Measured]:
    """Every rule about the lines of stitches of one piece: their room, their edge, what is cut and set near them."""
    rules, measures = job.rules, [*_edge_room(piece, job), *_fold_room(piece, job)]
    cuts, covers = list(cuts), list(covers)
    for line in piece.stitch_lines:
        distance = _from_edges(line, piece) if line.purpose == "edge_stitch" else _from_chords(line)
        measures.append(at_least("stitch_edge", _least_inside(line, piece), rules.stitch_edge, line))
        measures += _nearest("stitch_web", line, cuts, distance, rules.stitch_web)
        measures += _nearest("stitch_clear", line, covers, distance, rules.stitch_clear)
    return measures


def _lines(piece: Piece, purpose: StitchPurpose) -> list[StitchLine]:
    return [line for line in piece.stitch_lines if line.purpose == purpose]


def _extent(line: StitchLine, axis: int) -> tuple[int, int]:
    places = [point[axis] for point in line.points]
    return min(places), max(places)


def _size(lines: list[StitchLine], axis: int) -> int:
    """How far lines reach along (0) or across (1) a piece; nothing where there are none."""
    ends = [end for line in lines for end in _extent(line, axis)]
    return max(ends) - min(ends) if ends else 0


def _edge_room(piece: Piece, job: Job) -> Iterator[Measured]:
    """Both rows of stitches lie at least a stitch apart, and are at least a stitch long."""
    if job.edge_stitched and piece.name in ("body", "strap"):
        lines = _lines(piece, "edge_stitch")
        room = min(_size(lines, 0), _size(lines, 1))
        yield at_least("stitch_room", room, job.stitch_pitch, subject="edge_stitch")


def _fold_room(piece: Piece, job: Job) -> Iterator[Measured]:
    """A stitched fold is long enough to hold, and at least a stitch wide."""
    if not job.fold_stitched:
        return
    lines = _lines(piece, "fold_stitch")
    folds = sum(feature.kind == "fold" for feature in piece.features)
    if folds:
        shortest = min((_size([line], 0) for line in lines), default=0) if len(lines) == folds else 0
        yield at_least("stitched_fold", shortest, job.rules.stitched_fold, subject="fold_stitch")
    if lines:
        yield at_least("stitch_room", _size(lines, 1), job.stitch_pitch, subject="fold_stitch")


def _least_inside(line: StitchLine, piece: Piece) -> float:
    """From the line to the outline, and of a stitched fold to that of the tail beneath it too.

    To ten nanometres: each corner of the line is rounded to one.
    """
    places = line.points
    if line.purpose == "fold_stitch":
        fold = min((f.x for f in piece.features if f.kind == "fold"), key=lambda x: abs(x - places[0][0]), default=0)
        places = (*places, *((2 * fold - x, y) for x, y in places))
    return round(_least_depth(piece.outline, places), -1)


@lru_cache(maxsize=128)
def _least_depth(outline: Outline, places: tuple[Point, ...]) -> float:
    """How deep inside an outline the outermost of some places lies."""
    return min(edge_distance(outline, disc(x, y, 0)) for x, y in places)


_Distance = Callable[[Capsule], float]


def _from_edges(line: StitchLine, piece: Piece) -> _Distance:
    """The clear distance from a line at its inset, or from its ends; never more than it is."""
    low, high = _extent(line, 0)

    def distance(shape: Capsule) -> float:
        depth = edge_distance(piece.outline, shape) + shape.radius
        if depth >= line.inset:
            aside = depth - line.inset
        else:
            aside = line.inset - depth - max(abs(shape.x2 - shape.x1), abs(shape.y2 - shape.y1))
        beyond = max(low - max(shape.x1, shape.x2), min(shape.x1, shape.x2) - high)
        return max(aside, beyond) - shape.radius

    return distance


def _from_chords(line: StitchLine) -> _Distance:
    """The clear distance from a line chord by chord."""
    corners = [*line.points, line.points[0]] if line.closed else line.points
    chords = [Capsule(*a, *b, 0.0) for a, b in pairwise(corners)]
    return lambda shape: min(gap(shape, chord) for chord in chords)


def _nearest(
    rule: str, line: StitchLine, shapes: Iterable[Shape], distance: _Distance, limit: int
) -> Iterator[Measured]:
    """The nearest thing of each purpose. What lies farther along the piece than the nearest so far is passed over."""
    low, high = _extent(line, 0)
    nearest: dict[str, tuple[float, Feature]] = {}
    for capsule, feature in shapes:
        along = max(low - capsule.x2, capsule.x1 - high) - capsule.radius
        if feature.purpose in nearest and along >= nearest[feature.purpose][0]:
            continue
        found = distance(capsule)
        if feature.purpose not in nearest or found < nearest[feature.purpose][0]:
            nearest[feature.purpose] = (found, feature)
    for found, feature in nearest.values():
        yield at_least(rule, found, limit, line, feature)
