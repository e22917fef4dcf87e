"""A piece from above, as it lies on the bench, with what a rule measures on it."""

from collections.abc import Callable
from dataclasses import dataclass

from openapi.figures.near import Between, Chain, Place, along_outline, middle_line, nearest, rim, shortened
from openapi.figures.seen import Seen
from openapi.figures.sketch import MEASURED, MEASURED_FILL, Dimension, Sketch
from service.drawing import lines, palette
from service.drawing.model import Circle, Close, Item, LineTo, MoveTo, Path, Segment
from service.drawing.parts import symbols
from service.drawing.parts.edging import edging_strips
from service.strap.model.pattern import Feature, Piece
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.lengths import MM

Drawn = Callable[[Seen], Sketch]
By = Callable[[Feature | StitchLine], float]
"""Half of what a thing takes, in nanometres."""
_NARROW = 30 * MM
"""A piece of which both edges are seen."""


def cut(feature: Feature | StitchLine) -> float:
    """Half the width of what is cut; a line of stitches has none."""
    return feature.across / 2 if isinstance(feature, Feature) else 0.0


def cover(feature: Feature | StitchLine) -> float:
    """Half of what is set there; a line of stitches has none."""
    return feature.footprint / 2 if isinstance(feature, Feature) else 0.0


def piece_items(piece: Piece, *, heavy: bool = False) -> tuple[Item, ...]:
    """A piece with all that is done to it; its outline `heavy` where a rule measures from that."""
    pen = MEASURED if heavy else lines.OUTLINE
    strips = edging_strips(piece.outline, piece.edging) if piece.edging and piece.name != "edging" else ()
    beyond = tuple(Path(each, lines.OUTLINE, palette.LEATHER) for each in strips)
    seams = (item for line in piece.stitch_lines for item in symbols.stitches(line))
    return (
        *beyond,
        Path(symbols.outline_segments(piece.outline), pen, palette.LEATHER),
        *(Path(each, lines.EDGING) for each in strips),
        *symbols.laps(piece),
        *seams,
        *symbols.footprints(piece.features),
        *(symbols.cut_through(each) for each in piece.features if each.action == "punch"),
        *(symbols.mark(each) for each in piece.features if each.action == "mark"),
        *(symbols.fold(each, piece) for each in piece.features if each.kind == "fold"),
    )


def to_edge(words: str, by: By = cut, term: str = "") -> Drawn:
    """From what is cut or set, or a line of stitches, to the outline."""

    def drawn(seen: Seen) -> Sketch:
        thing = seen.things[0]
        core, half = (middle_line(thing), cut(thing)) if by is cut else (rim(thing), cover(thing))
        found = shortened(nearest(core, along_outline(seen.piece.outline)), half, 0.0)
        return _sketch(seen, found, words, (_measured(thing, by),), heavy=True, term=term)

    return drawn


def between(words: str, first: By = cut, second: By = cut) -> Drawn:
    """From the rim of one thing to that of the other."""

    def drawn(seen: Seen) -> Sketch:
        one, other = seen.things[:2]
        cores: list[Chain] = [_core(one, first), _core(other, second)]
        found = shortened(nearest(cores[0], cores[1]), first(one), second(other))
        return _sketch(seen, found, words, (_measured(one, first), _measured(other, second)))

    return drawn


def _core(thing: Feature | StitchLine, by: By) -> Chain:
    return middle_line(thing) if by is cut else rim(thing)


def hardware(words: str) -> Drawn:
    """From the rim of an ornament to the nearest cap, hole or slot."""

    def drawn(seen: Seen) -> Sketch:
        ornament = next(each for each in seen.things if isinstance(each, Feature) and each.item)
        other = next(each for each in seen.things if each is not ornament)
        by = cover if cover(other) > cut(other) else cut
        found = shortened(nearest(rim(ornament), _core(other, by)), cover(ornament), by(other))
        return _sketch(seen, found, words, (_measured(ornament, cover), _measured(other, by)))

    return drawn


def along(
    words: str, ends: Callable[[Seen], tuple[float, float]], also: Callable[[Seen], tuple[Item, ...]] | None = None
) -> Drawn:
    """From one place along the piece to another, in nanometres; `also` is what else is measured."""

    def drawn(seen: Seen) -> Sketch:
        measured = also(seen) if also else tuple(_thing(each) for each in seen.things)
        return strip(seen, (Part(*ends(seen), words),), measured)

    return drawn


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a strap's length, in nanometres, and what it is called."""

    start: float
    end: float
    words: str
    term: str = ""
    below: bool = False
    """Whether its dimension is drawn below the piece."""


def strip(seen: Seen, parts: tuple[Part, ...], measured: tuple[Item, ...] = ()) -> Sketch:
    """Parts of a piece's length, each with its dimension above it."""
    half = (seen.piece.width / 2 + seen.piece.stands_out) / MM
    first, last = min(each.start for each in parts) / MM, max(each.end for each in parts) / MM
    level = half + 0.08 * (last - first)
    found = []
    for each in parts:
        side = 1 if each.below else -1
        start, end = (each.start / MM, side * half), (each.end / MM, side * half)
        found.append(Dimension(start, end, each.words, each.term, at=side * level))
    around = ((first, half), (last, half))
    return Sketch(items=piece_items(seen.piece), measured=measured, dimensions=tuple(found), around=around, most=3.0)


def across(words: str, ends: Callable[[Seen], tuple[float, float, float]], *, edges: bool = False) -> Drawn:
    """From one place across the piece to another: x, then both y, in nanometres; with its `edges` if need be."""

    def drawn(seen: Seen) -> Sketch:
        x, start, end = (each / MM for each in ends(seen))
        measured = tuple(_thing(each) for each in seen.things)
        size = abs(end - start)
        bounds = [(a / MM, b / MM) for each in seen.things for a, b in _near_ends(each)]
        half = (seen.piece.width / 2 + seen.piece.stands_out) / MM if edges else 0.0
        around: tuple[Place, ...] = ((x - size, start), (x + size, end), *bounds)
        around += ((x, -half), (x, half)) if edges else ()
        found = (Dimension((x, start), (x, end), words),)
        return Sketch(items=piece_items(seen.piece), measured=measured, dimensions=found, around=around, most=3.0)

    return drawn


def _sketch(
    seen: Seen, found: Between, words: str, measured: tuple[Item, ...], *, heavy: bool = False, term: str = ""
) -> Sketch:
    start, end = ((x / MM, y / MM) for x, y in found)
    things = tuple((x / MM, y / MM) for each in seen.things for x, y in _near_ends(each))
    dimension = (Dimension(start, end, words, term),)
    is_narrow = seen.piece.width <= _NARROW and not any(isinstance(each, StitchLine) for each in seen.things)
    half = seen.piece.width / MM / 2
    edges = ((start[0], -half), (start[0], half)) if is_narrow and not heavy else ()
    items = piece_items(seen.piece, heavy=heavy)
    return Sketch(items=items, measured=measured, dimensions=dimension, around=(*things, *edges), most=3.0)


def _near_ends(thing: Feature | StitchLine) -> Chain:
    """The bounds of what is measured; of a line of stitches none."""
    if isinstance(thing, StitchLine):
        return ()
    half = max(cut(thing), cover(thing))
    reach = max(half, thing.long / 2)
    long = (reach, half) if not thing.angle else (half, reach)
    return ((thing.x - long[0], thing.y - long[1]), (thing.x + long[0], thing.y + long[1]))


def _thing(thing: Feature | StitchLine) -> Item:
    return _measured(thing, cut if isinstance(thing, Feature) and thing.across else cover)


def _measured(thing: Feature | StitchLine, by: By) -> Item:
    """A thing that a rule measures, in its widest line."""
    if isinstance(thing, StitchLine):
        points = middle_line(thing)
        segments: list[Segment] = [MoveTo(points[0][0] / MM, points[0][1] / MM)]
        segments += [LineTo(x / MM, y / MM) for x, y in points[1:]]
        return Path(tuple(segments), MEASURED)
    x, y = thing.x / MM, thing.y / MM
    if by is cut and thing.length and thing.width:
        shape = symbols.stadium(x, y, thing.length / MM, thing.width / MM, thing.angle)
        return Path(shape, MEASURED, MEASURED_FILL)
    return Circle(x, y, by(thing) / MM, MEASURED, MEASURED_FILL)


def box(x: float, y: float, width: float, height: float) -> tuple[Segment, ...]:
    """A rectangle from its upper left corner, in millimetres."""
    return (MoveTo(x, y), LineTo(x + width, y), LineTo(x + width, y + height), LineTo(x, y + height), Close())
