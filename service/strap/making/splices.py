"""Splices: a piece that is longer than the strips of its leather is lapped of several, in line along the strap.

The laps are shared out evenly. One that would lie where something is cut, set, folded or riveted is moved to the
nearest place where nothing is. Both strips are skived there to the thickness of one, glued, and sewn with lines along
the strap: a line straight across it would tear there (a saddlery's rule).
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain

from service.shop.goods import Nm
from service.strap.fixings.stitches import straight_line
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece
from service.strap.model.sewing import sewing
from service.strap.model.spec_leather import Splices
from service.strap.model.splice import Splice
from service.strap.model.stitch_line import StitchLine
from service.strap.model.touching import touches
from service.strap.plane.spacing import round_up

Kept = tuple[Nm, Nm]
"""From where to where along a piece no lap may lie."""


class _Taken:
    """What no lap may touch, in order along the piece; parts that touch one another are one."""

    def __init__(self, kept: Iterable[Kept]) -> None:
        self._lows: list[Nm] = []
        self._highs: list[Nm] = []
        for low, high in sorted(kept):
            if self._highs and low <= self._highs[-1]:
                self._highs[-1] = max(self._highs[-1], high)
            else:
                self._lows.append(low)
                self._highs.append(high)

    def touches(self, start: Nm, end: Nm) -> bool:
        """Whether anything kept lies within a lap."""
        after = bisect_right(self._highs, start)
        return after < len(self._lows) and self._lows[after] < end

    def between(self, room: Kept, lap: Nm) -> Iterator[Kept]:
        """From where to where a lap may begin in each part of the room that is free."""
        begin, last = room
        for after in range(bisect_right(self._highs, begin), len(self._lows)):
            if begin > last:
                return
            end = min(self._lows[after] - lap, last)
            if end >= begin:
                yield begin, end
            begin = max(begin, self._highs[after])
        if last >= begin:
            yield begin, last


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laps:
    """So many laps of one length on a piece, between `low` and `high`, each strip no longer than `strip`."""

    length: Nm
    lap: Nm
    count: int
    strip: Nm
    low: Nm
    high: Nm
    grid: Nm

    @property
    def share(self) -> Nm:
        """From the beginning of one strip to that of the next, where all are of one length."""
        return (self.length - self.lap) // (self.count + 1)

    def starts(self, kept: _Taken, with_rims: _Taken) -> Iterator[Nm]:
        """Where each lap begins. One without a place between the `kept` parts stays where its even share ends.

        A place that lies under nobody's rim either is taken first.
        """
        before = 0
        for n in range(1, self.count + 1):
            even = _nearest(n * self.share, self.grid)
            room = self._room(n, before, even)
            free = self._nearest_free(even, room, with_rims)
            place = self._nearest_free(even, room, kept) if free is None else free
            before = even if place is None else place
            yield before

    def are_clear(self, kept: _Taken, with_rims: _Taken) -> bool:
        """Whether each of them has a place that touches nothing kept."""
        places = ((start, start + self.lap) for start in self.starts(kept, with_rims))
        return all(self.low <= start and end <= self.high and not kept.touches(start, end) for start, end in places)

    def _room(self, n: int, before: Nm, even: Nm) -> Kept:
        """From where to where lap `n` may begin: near its even place, the strips before and after it long enough."""
        after = self.count + 1 - n
        least = self.length - after * self.strip + (after - 1) * self.lap
        near = self.share // 3
        low = max(self.low, before + 2 * self.lap, least, even - near)
        high = min(self.high - self.lap, before + self.strip - self.lap, even + near)
        return low, high

    def _nearest_free(self, even: Nm, room: Kept, kept: _Taken) -> Nm | None:
        """The beginning of a lap nearest to its even place that touches nothing kept, on the grid if there is one."""
        places = (place for low, high in kept.between(room, self.lap) for place in self._on_grid(even, low, high))
        return min(places, key=lambda place: (abs(place - even), place), default=None)

    def _on_grid(self, even: Nm, low: Nm, high: Nm) -> Iterator[Nm]:
        place = min(max(even, low), high)
        for found in (place // self.grid * self.grid, round_up(place, self.grid)):
            if low <= found <= high:
                yield found


def _nearest(place: Nm, grid: Nm) -> Nm:
    return (2 * place + grid) // (2 * grid) * grid


def spliced(job: Job, piece: Piece, free: Kept, features: Iterable[Feature], others: tuple[Splice, ...] = ()) -> Piece:
    """The piece with its laps and their stitches, where it is made of several strips.

    Laps lie in its `free` part, where none of the `features` that go through it are, and beside those of `others`.
    """
    asked = job.splices
    if asked is None:
        return piece
    tried = (_laid(job, piece, free, lap, _count(piece, asked, lap)) for lap in _lengths(job, piece))
    usual = next(tried)
    if not usual.count:
        return piece
    kept, with_rims = _taken(job, tuple(features), others)
    laps = next((each for each in chain((usual,), tried) if each.are_clear(kept, with_rims)), usual)
    found = _splices(piece, laps, kept, with_rims)
    return replace(
        piece, splices=found, stitch_lines=(*piece.stitch_lines, *_sewn(job, piece, found, asked.stitch_lines))
    )


def _lengths(job: Job, piece: Piece) -> Iterator[Nm]:
    """How long laps may be: as is usual, and shorter by a graduation at a time as far as the shop sews them."""
    usual = _usual(job, piece)
    least = min(usual, _times_thick(job, piece, job.rules.splice_lap_least))
    yield usual
    yield from range(usual - job.rules.graduation, least - 1, -job.rules.graduation)


def _usual(job: Job, piece: Piece) -> Nm:
    return _times_thick(job, piece, job.rules.splice_lap)


def _times_thick(job: Job, piece: Piece, times: Decimal) -> Nm:
    return round_up(round(piece.leather.thickness * times), job.grid)


def _laid(job: Job, piece: Piece, free: Kept, lap: Nm, count: int) -> _Laps:
    return _Laps(
        length=piece.length,
        lap=lap,
        count=count,
        strip=(piece.leather.strip_length - 2 * piece.over) * piece.length // (piece.length + piece.rise),
        low=max(free[0], piece.outline.full_width[0]),
        high=min(free[1], piece.outline.full_width[1]),
        grid=job.grid,
    )


def lapped(job: Job, piece: Piece) -> Piece:
    """A piece on which nothing stands, of as few strips as its leather allows, alike; its laps are not sewn."""
    lap = _usual(job, piece)
    laps = _laid(job, piece, (0, piece.length), lap, _fewest(piece, lap))
    return replace(piece, splices=_splices(piece, laps, _Taken(()), _Taken(())))


def _splices(piece: Piece, laps: _Laps, kept: _Taken, with_rims: _Taken) -> tuple[Splice, ...]:
    starts = enumerate(laps.starts(kept, with_rims), 1)
    return tuple(Splice(f"{piece.name}.splice.{n}", start, start + laps.lap) for n, start in starts)


def _count(piece: Piece, asked: Splices, lap: Nm) -> int:
    """As many laps of a body as were asked for; else as few as the leather allows."""
    if asked.count is not None and piece.name != "lining":
        return asked.count
    return _fewest(piece, lap)


def _fewest(piece: Piece, lap: Nm) -> int:
    """As few laps as the leather allows."""
    strip, length = piece.leather.strip_length, piece.cut_length
    if length <= strip or strip <= lap:
        return 0
    return -(-(length - lap) // (strip - lap)) - 1


def _taken(job: Job, features: tuple[Feature, ...], others: tuple[Splice, ...]) -> tuple[_Taken, _Taken]:
    """What no lap may touch; and that with what it would rather not lie under: rims of bells, which stand on shanks."""
    clear, goods = job.rules.splice_clear, job.shop.ornaments
    rims = [(each.x - each.footprint // 2, each.x + each.footprint // 2) for each in features if each.footprint]
    kept = [(lap.start - clear, lap.end + clear) for lap in others]
    for each in features:
        if each.purpose == "keeper_place":
            continue  # a keeper may go round a lap
        reach = touches(each, goods) + clear
        kept.append((each.x - reach, each.x + reach))
    return _Taken(kept), _Taken([*kept, *rims])


def _sewn(job: Job, piece: Piece, laps: tuple[Splice, ...], lines: int) -> Iterator[StitchLine]:
    """So many lines along the strap in each lap, shared out over its width, at most an inset from its ends.

    The outermost are an inset from the edges, or from their roots; where a line along those runs there already, all lie
    between.
    """
    sewn, half = sewing(job), piece.outline.root_half
    edged = 1 if job.edge_stitched else -1
    end = min(sewn.inset, (laps[0].end - laps[0].start) // 4)
    for lap_number, lap in enumerate(laps):
        for line in range(lines):
            y = (half - sewn.inset) * (2 * line - lines + 1) // (lines + edged)
            name = f"{piece.name}.splice_stitch.{lap_number * lines + line + 1}"
            ends = ((lap.start + end, y), (lap.end - end, y))
            yield straight_line(name, "splice_stitch", ends, half - abs(y), sewn.pitch)
