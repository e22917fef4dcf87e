"""The grain of leather: a bounded number of faint flecks, and clouds of lighter and darker colour.

Always the same for the same ply: places come from a fixed sequence, not from chance.
"""

from collections.abc import Iterator

from service.drawing.finished.ply import Band, Ply
from service.drawing.finished.shapes import box, moved
from service.drawing.finished.tint import BLACK, mix, sheen
from service.drawing.model import Colour, Item, LineTo, MoveTo, Path, Pen, RadialGradient, Segment, Stamp, Stop

_TILE = 60.0
"""Flecks are drawn once for so many millimetres of a ply, and stamped along it."""
_MOST_TILES = 60
_AREA_OF_A_FLECK = 10.0
_MOST_FLECKS = 260
"""In one tile."""
_AREA_OF_A_MARK, _MOST_MARKS = 24.0, 150
"""The same where every mark is drawn by itself."""
_EDGE = 1.3
_LAPSE = 2.6
"""Clouds lie about so many half widths apart."""
_MOST_CLOUDS = 40


def flecks(ply: Ply, colour: Colour) -> tuple[Item, ...]:
    """Pores and tiny creases, darker and lighter than the leather, where the ply has its full width."""
    return tuple(item for band in ply.bands for item in _flecks(band, colour))


def _flecks(band: Band, colour: Colour) -> tuple[Item, ...]:
    start, run, half = band.start, band.end - band.start, band.half - _EDGE
    if run <= 2 * _EDGE or half <= 0:
        return ()
    count = min(max(1, round(run / _TILE)), _MOST_TILES)
    tile = _tile(run / count, half, colour)
    return tuple(Stamp(tile, start + number * run / count, 0.0) for number in range(count))


def _tile(run: float, half: float, colour: Colour) -> tuple[Item, ...]:
    """Flecks between x = 0 and `run`, dark ones first."""
    count = min(int(run * 2 * half / _AREA_OF_A_FLECK), _MOST_FLECKS)
    return tuple(Path(segments, pen) for segments, pen in _strokes(run, half, colour, count))


def _strokes(run: float, half: float, colour: Colour, count: int) -> Iterator[tuple[tuple[Segment, ...], Pen]]:
    strokes: tuple[list[Segment], list[Segment]] = ([], [])
    for number, (across, down, turn) in enumerate(_places(count)):
        length, rise = 0.12 + 0.5 * turn * turn, (turn - 0.5) * 0.6
        x, y = across * (run - length), (2 * down - 1) * half
        strokes[number % 3 == 0].extend((MoveTo(x, y), LineTo(x + length, y + rise)))
    pens = (Pen(0.24, mix(colour, BLACK, 0.5), cap="round", opacity=0.3), Pen(0.2, sheen(colour), opacity=0.3))
    yield from ((tuple(found), pen) for found, pen in zip(strokes, pens, strict=True) if found)


def grain_marks(ply: Ply, span: tuple[float, float], colour: Colour) -> Iterator[tuple[tuple[Segment, ...], Pen]]:
    """The same between two places on the strap made up, no mark a copy of another; from the ply's own left end."""
    first, last = ply.bands[0].start, ply.bands[-1].end
    start = max(span[0] - ply.left, first)
    run, half = min(span[1] - ply.left, last) - start, min(band.half for band in ply.bands) - _EDGE
    if half > 0 and run > 2 * _EDGE:
        count = min(int(run * 2 * half / _AREA_OF_A_MARK), _MOST_MARKS)
        for segments, pen in _strokes(run, half, colour, count):
            yield moved(segments, start, 0.0), pen


def _places(count: int) -> Iterator[tuple[float, float, float]]:
    for number in range(1, count + 1):
        yield _scrambled(number), _scrambled(number + 77_773), _scrambled(number + 500_009)


def _scrambled(number: int) -> float:
    """A number from 0 to 1 without a visible order: Knuth's multiplier, then two rounds of mixing 32 bits."""
    mixed = (number * 2_654_435_761) & 0xFFFFFFFF
    for _ in range(2):
        mixed = ((mixed >> 16) ^ mixed) * 0x45D9F3B & 0xFFFFFFFF
    return ((mixed >> 16) ^ mixed) / 0x100000000


def clouds(ply: Ply, colour: Colour) -> tuple[Item, ...]:
    """Soft patches, in turn darker and lighter, over the ply's full width."""
    counts = ((band, min(int((band.end - band.start) / (_LAPSE * band.half)), _MOST_CLOUDS)) for band in ply.bands)
    return tuple(_cloud(band, number, count, colour) for band, count in counts for number in range(count))


def _cloud(band: Band, number: int, count: int, colour: Colour) -> Path:
    """Cloud `number` of `count`. It ends before the shaped ends, so that it is never cut off."""
    start, end, half = band
    x = start + (end - start) * (number + 0.5 + 0.6 * (_scrambled(number + 31) - 0.5)) / count
    y = (_scrambled(number + 4_001) - 0.5) * 1.4 * half
    radius = min((1.0 + _scrambled(number + 9)) * half, x - start, end - x)
    dark = number % 2 == 0
    tone, opacity = (mix(colour, BLACK, 0.6), 0.18) if dark else (sheen(colour), 0.13)
    stops = (
        Stop(0, tone, opacity),
        Stop(0.35, tone, opacity * 0.75),
        Stop(0.7, tone, opacity * 0.25),
        Stop(1, tone, 0.0),
    )
    edge = half - 0.5
    shape = box(x - radius, max(y - radius, -edge), x + radius, min(y + radius, edge))
    return Path(shape, fill=RadialGradient(x, y, radius, x, y, stops))
