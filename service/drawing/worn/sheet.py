"""A ply of the closed strap: how far from the middle of the leather it lies, and how its flat shapes are seen there."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from service.drawing.finished.flat import Run
from service.drawing.finished.leather import thickness_of
from service.drawing.finished.ply import Ply
from service.drawing.finished.shapes import Segments
from service.drawing.model import Close, CurveTo, LineTo, MoveTo, Segment
from service.drawing.worn.loop import Loop
from service.strap.plane.easing import eased

_PIECES = 20
"""So many curves go round a loop: none bends by more than 18 degrees, and lies within a thousandth of its way."""
_NUDGE = 1e-3
Face = Callable[[float], float]
"""How far out a face of the leather lies at a place along the strap."""


@dataclass(frozen=True, slots=True)
class Rise:
    """Where a ply climbs onto what lies under it: from `low` to `high` along the strap, by so much."""

    low: float
    high: float
    by: float

    def at(self, x: float) -> float:
        """How far it has climbed: nothing before `low`, all of it past `high`; either may be the greater."""
        share = min(max((x - self.low) / (self.high - self.low), 0.0), 1.0)
        return self.by * eased(share)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A ply on its loop, its inner face `base` from the middle of the leather."""

    ply: Ply
    loop: Loop
    base: float
    rises: tuple[Rise, ...] = ()

    def inner(self, x: float) -> float:
        """How far out its inner face lies."""
        return self.base + sum(rise.at(x) for rise in self.rises)

    def outer(self, x: float) -> float:
        """How far out its outer face lies."""
        return self.inner(x) + thickness_of(self.ply)

    def marks(self, segments: Segments) -> Segments:
        """Short strokes on its outer face, which are straight on the loop too; from its own left end."""
        found: list[Segment] = []
        for segment in segments:
            if isinstance(segment, MoveTo | LineTo):
                x = segment.x + self.ply.left
                place = (round(each, 2) for each in self.loop.seen(x, segment.y, self.outer(x)))
                found.append(type(segment)(*place))
        return tuple(found)

    def seen(self, runs: Sequence[Run], face: Face, *, closed: bool = True) -> Segments:
        """Flat lines along the strap as they are seen on one of its faces."""
        return tuple(segment for run in runs for segment in self._run(run, face, closed=closed))

    def _run(self, run: Run, face: Face, *, closed: bool) -> Iterator[Segment]:
        """Each straight part as curves that begin and end in its own direction on the loop."""
        known: dict[float, tuple[float, float, float, float]] = {}

        def at(x: float) -> tuple[float, float, float, float]:
            """Where the middle line is seen, and how it goes on for each millimetre."""
            if x not in known:
                (a, b), (c, d) = (self.loop.seen(x + by, 0.0, face(x + by)) for by in (-_NUDGE, _NUDGE))
                known[x] = (a + c) / 2, (b + d) / 2, (c - a) / 2 / _NUDGE, (d - b) / 2 / _NUDGE
            return known[x]

        step, down = self.loop.length / _PIECES, self.loop.seen(0, 1, 0)[1] - self.loop.seen(0, 0, 0)[1]
        first = at(run[0][0])
        yield MoveTo(_short(first[0]), _short(first[1] + run[0][1] * down))
        for one, other in pairwise(run):
            count = max(1, int(abs(other[0] - one[0]) / step) + 1)
            places = [(one[0] + (other[0] - one[0]) * n / count, one[1] + (other[1] - one[1]) * n / count)
                      for n in range(count + 1)]  # fmt: skip
            for (x1, y1), (x2, y2) in pairwise(places):
                a, b, dx, dy = x2 - x1, y2 - y1, at(x1), at(x2)
                end = (_short(dy[0]), _short(dy[1] + y2 * down))
                if abs(a) < step / 20:
                    yield LineTo(*end)
                    continue
                yield CurveTo(
                    _short(dx[0] + a * dx[2] / 3), _short(dx[1] + y1 * down + (a * dx[3] + b * down) / 3),
                    _short(end[0] - a * dy[2] / 3), _short(end[1] - (a * dy[3] + b * down) / 3),
                    *end,
                )  # fmt: skip
        if closed:
            yield Close()


def _short(value: float) -> float:
    """To a hundredth of a millimetre: a loop has many places, and no screen shows more of it."""
    return round(value, 2)
