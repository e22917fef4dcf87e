"""Lines of stitches: along the edges at a constant inset, and along what they hold in place of its rivets.

A line is divided at its corners, and each run from corner to corner into the whole number of stitches that comes
nearest the wanted pitch. So corners share a hole, a closed line closes exactly, and an open one has a hole at each end.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from math import atan2, hypot, inf, pi, radians, remainder

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.pattern import PieceName
from service.strap.model.side import Side
from service.strap.model.stitch_line import StitchLine, StitchPurpose, StitchRun
from service.strap.plane.narrowing import Place
from service.strap.plane.outline import Outline, Point, uncut
from service.strap.plane.parallel import inner_half

_CORNER = radians(15)
"""Where a line turns by more than this it has a corner; the chords of a curve turn by a third of it at most."""
_STRAIGHT = 1e-6


def edge_lines(
    job: Job, piece: PieceName, outline: Outline, start: Nm | None = None, end: Nm | None = None
) -> tuple[StitchLine, ...]:
    """The lines along the edges of a piece, from `start` to `end` where it is folded at that side.

    One closed line all round, an open one round the end that is not folded, or one along each edge. None where the
    inset leaves no room, and none on a strap whose edges are not stitched.
    """
    if not job.edge_stitched:
        return ()
    closed = start is None and end is None
    return tuple(
        StitchLine(
            id=f"{piece}.edge_stitch.{n}", purpose="edge_stitch", inset=job.stitch_inset, closed=closed, runs=runs
        )
        for n, runs in enumerate(_edge_runs(outline, job.stitch_inset, job.stitch_pitch, start, end), 1)
    )


@lru_cache(maxsize=128)
def _edge_runs(
    outline: Outline, inset: Nm, pitch: Nm, start: Nm | None, end: Nm | None
) -> tuple[tuple[StitchRun, ...], ...]:
    """The runs of each line. Kept, since a strap that is tried with other ornaments has the same edges."""
    half = _between(
        inner_half(uncut(outline), inset + outline.root_depth),
        -inf if start is None else start,
        inf if end is None else end,
    )
    upper = [(round(x), -round(y)) for x, y in half]
    lower = [(round(x), round(y)) for x, y in reversed(half)]
    if start is not None and end is not None:
        chains = [upper, lower]
    else:
        chains = [[*upper, *lower] if end is None else [*lower, *upper]]
    closed = start is None and end is None
    return tuple(_runs(_plain(chain, closed=closed), pitch, closed=closed) for chain in chains if len(half) > 1)


def straight_line(name: str, purpose: StitchPurpose, ends: tuple[Point, Point], inset: Nm, pitch: Nm) -> StitchLine:
    """One straight line from end to end, a hole at both."""
    return StitchLine(id=name, purpose=purpose, inset=inset, closed=False, runs=(_run(ends, pitch),))


def side_lines(
    purpose: StitchPurpose, side: Side, span: tuple[Nm, Nm], y: Nm, job: Job, part: int = 0
) -> Iterator[StitchLine]:
    """A line along each edge, `y` from the middle, over a span that is measured from the end of the piece inwards.

    Of a seam that is left open for something each `part` has its own numbers.
    """
    start, end = sorted(side.at(away) for away in span)
    for n, across in enumerate((-y, y), 2 * side.n - 1 + 4 * part):
        runs = _runs([(start, across), (end, across)], job.stitch_pitch, closed=False)
        name = f"{side.piece}.{purpose}.{n}"
        yield StitchLine(id=name, purpose=purpose, inset=job.stitch_inset, closed=False, runs=runs)


def hole_places(line: StitchLine) -> Iterator[Place]:
    """Every hole of a line, in order, in nanometres: each run in equal parts along its chords."""
    for run in line.runs:
        yield from _parts(run)
    if not line.closed:
        x, y = line.runs[-1].points[-1]
        yield float(x), float(y)


def _parts(run: StitchRun) -> Iterator[Place]:
    """The first hole of each stitch of a run."""
    chords = list(pairwise(run.points))
    sizes = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in chords]
    step, at, passed = sum(sizes) / run.stitches, 0, 0.0
    for stitch in range(run.stitches):
        while at + 1 < len(chords) and passed + sizes[at] < stitch * step:
            passed += sizes[at]
            at += 1
        (x1, y1), (x2, y2) = chords[at]
        share = (stitch * step - passed) / sizes[at]
        yield x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def _between(half: tuple[Place, ...], start: float, end: float) -> list[Place]:
    """The part of a chain of ascending x that lies from `start` to `end`."""
    found: list[Place] = []
    for one, other in pairwise(half):
        low, high = max(start, one[0]), min(end, other[0])
        if high - low >= 1:
            found += [_at(one, other, low), _at(one, other, high)]
        elif start <= one[0] == other[0] <= end:
            found += [one, other]
    return found


def _at(one: Place, other: Place, x: float) -> Place:
    """The place between two others at this x."""
    if x == one[0]:
        return one
    return x, one[1] + (x - one[0]) / (other[0] - one[0]) * (other[1] - one[1])


def _plain(chain: list[Point], *, closed: bool) -> list[Point]:
    """The chain without places that stand twice, or in the middle of a straight line but for its first."""
    places = [place for before, place in zip([None, *chain], chain, strict=False) if place != before]
    if closed and places[0] == places[-1]:
        places.pop()
    turns = _turns(places, closed=closed)
    return [place for n, (place, turn) in enumerate(zip(places, turns, strict=True)) if not n or turn > _STRAIGHT]


def _turns(places: list[Point], *, closed: bool) -> list[float]:
    """By how much the line turns at each place; by all where an open one begins and ends."""
    if not closed:
        inner = [_turn(a, b, c) for a, b, c in zip(places, places[1:], places[2:], strict=False)]
        return [pi, *inner, pi]
    before, after = [places[-1], *places[:-1]], [*places[1:], places[0]]
    return [_turn(a, b, c) for a, b, c in zip(before, places, after, strict=True)]


def _turn(a: Point, b: Point, c: Point) -> float:
    before, after = atan2(b[1] - a[1], b[0] - a[0]), atan2(c[1] - b[1], c[0] - b[0])
    return abs(remainder(after - before, 2 * pi))


def _runs(places: list[Point], pitch: Nm, *, closed: bool) -> tuple[StitchRun, ...]:
    """The line from corner to corner; one that is closed and has no corner begins and ends at its first place."""
    corners = [n for n, turn in enumerate(_turns(places, closed=closed)) if turn > _CORNER]
    if closed:
        first = corners[0] if corners else 0
        places = [*places[first:], *places[: first + 1]]
        corners = [*(corner - first for corner in corners or [0]), len(places) - 1]
    return tuple(_run(tuple(places[a : b + 1]), pitch) for a, b in pairwise(corners))


def _run(points: tuple[Point, ...], pitch: Nm) -> StitchRun:
    length = round(sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)))
    return StitchRun(points, length, max((2 * length + pitch) // (2 * pitch), 1))
