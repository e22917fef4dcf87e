"""A piece, or a part of one, as it stands on a page at true size, with the readings of its places above it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from service.drawing import lines, palette, words
from service.drawing.font import DESCENT, text_width
from service.drawing.model import Circle, Item, LineTo, MoveTo, Path, Text
from service.drawing.parts import symbols
from service.drawing.parts.callouts import Callout, callouts
from service.drawing.parts.edging import edging_lines
from service.drawing.parts.panel import Box
from service.drawing.parts.ruler import Ruler, Side, Station, ruler
from service.drawing.parts.stations import stations_above
from service.drawing.parts.symbols import CENTRE_OVERHANG, outline_segments
from service.drawing.parts.wrap import wrap
from service.drawing.printed import join_marks
from service.drawing.printed.document import Part
from service.drawing.printed.parting import reach
from service.drawing.sizes import Sizes
from service.shop.shop import Units
from service.strap.model.pattern import Face, Feature, Piece
from service.strap.plane.lengths import MM, reading
from service.words import say
from service.workshop.names import narrowing_words

_CLEAR = 4.5
"""Below a piece that has no joints: what folds stand out, and a little more."""
_NARROWEST = 85.0
"""A heading is broken into lines no narrower than this."""
_DOT = 0.2
_SLACK = 1e-6
_NUMBERS = 3.0
"""Em of the numbers of size holes."""


@dataclass(frozen=True, slots=True)
class PartBlock:
    """A part with what belongs to it, in the piece's frame. `inside` is shown within `window` only."""

    part: Part
    face: Face
    box: Box
    window: Box
    inside: tuple[Item, ...]
    outside: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Style:
    """How parts are drawn: lettering, the units of readings, the letters of tools by feature, and the piece's own."""

    sizes: Sizes
    units: Units
    tools: Mapping[str, str]
    letter: str
    owner: str = ""
    """Whose it is, where patterns of several straps are printed together."""


def part_blocks(piece: Piece, parts: Sequence[Part], style: Style, widest: float) -> tuple[PartBlock, ...] | None:
    """All parts of a piece with their readings; `None` where these are so many that they reach beyond a part."""
    stations = stations_above(piece, _lettered(piece, style), style.units)
    rulers = [_ruler(piece, part, stations, style) for part in parts]
    if not all(_keeps_to(each, _shown(piece, part)) for each, part in zip(rulers, parts, strict=True)):
        return None
    found = zip(parts, rulers, strict=True)
    return tuple(_block(piece, part, readings, style, widest) for part, readings in found)


def _keeps_to(readings: Ruler | None, shown: tuple[float, float]) -> bool:
    return readings is None or (shown[0] - _SLACK <= readings.low and readings.high <= shown[1] + _SLACK)


def without_readings(piece: Piece, parts: Sequence[Part], style: Style, widest: float) -> tuple[PartBlock, ...]:
    """The same parts, flatter, with a word of where their places are read."""
    note = say("no room here for readings: every place is on the bench sheet")
    return tuple(_block(piece, part, None, style, widest, note) for part in parts)


def _lettered(piece: Piece, style: Style) -> tuple[Callout, ...]:
    """The piece's groups with the letters that their tools have in the whole document; a fold has its name."""
    return tuple(replace(group, tag=style.tools.get(group.sample.id, "")) for group in callouts(piece))


def _shown(piece: Piece, part: Part) -> tuple[float, float]:
    """From where to where the part is drawn, the overhang at the piece's own ends with it."""
    left = -CENTRE_OVERHANG if part.begins is None else part.left
    right = piece.length / MM + CENTRE_OVERHANG if part.ends is None else part.right
    return left, right


def _ruler(piece: Piece, part: Part, stations: Sequence[Station], style: Style) -> Ruler | None:
    near = [station for station in stations if part.left <= station.at <= part.right]
    if not near:
        return None
    left, right = _shown(piece, part)
    offset = join_marks.DEPTH + 1.0 if part.count > 1 else 1.6 * style.sizes.em
    side = Side("top", -(piece.width / 2 + piece.stands_out) / MM)
    drawn = ruler(near, side, style.sizes, (left, right), offset, two_lines=True)
    if part.ends is None:
        return drawn
    onward = (MoveTo(*side.point(near[-1].at, offset)), LineTo(*side.point(right, offset)))
    return replace(drawn, items=(*drawn.items, Path(onward, lines.DIMENSION)))


def _block(piece: Piece, part: Part, readings: Ruler | None, style: Style, widest: float, note: str = "") -> PartBlock:
    half = (piece.width / 2 + piece.stands_out) / MM
    left, right = _shown(piece, part)
    marks = join_marks.DEPTH if part.count > 1 else _CLEAR
    above = max(marks, readings.depth if readings else 0.0)
    details = wrap(_details(piece, part, style, note), max(right - left, min(_NARROWEST, widest)), style.sizes.em)
    heading, top, reach = _heading(piece, part, style, left, -half - above, details)
    window = Box(left, -half - above, right, half + marks)
    box = Box(left, top, max(right, reach), half + marks)
    inside = (*_drawn(piece, part), *(readings.items if readings else ()))
    return PartBlock(part, piece.face, box, window, inside, heading)


def _drawn(piece: Piece, part: Part) -> tuple[Item, ...]:
    """The piece's lines and what is done to it, as far as the part shows it."""
    left, right = _shown(piece, part)
    near = [each for each in piece.features if _overlaps(each, left, right)]
    half = piece.width / MM / 2
    joints = [(part.begins, part.joint_before), (part.ends, part.joint_after)]
    return (
        symbols.centre_line(piece),
        *edging_lines(piece),
        *symbols.laps(piece),
        *symbols.footprints(near, palette.PAPER),
        *(item for line in piece.stitch_lines for item in symbols.stitches(line)),
        *(symbols.fold(each, piece) for each in near if each.action == "fold"),
        *(symbols.mark(each) for each in near if each.action == "mark"),
        *(item for each in near if each.action == "punch" for item in _cut(each)),
        *symbols.hole_numbers(piece, _NUMBERS, near),
        Path(outline_segments(piece.outline), lines.OUTLINE),
        *(item for at, name in joints if at is not None for item in join_marks.join_marks(at, half, name)),
    )


def _overlaps(feature: Feature, left: float, right: float) -> bool:
    return left * MM < feature.x + reach(feature) and feature.x - reach(feature) < right * MM


def _cut(feature: Feature) -> tuple[Item, ...]:
    """What is cut through; a hole with a dot at its centre, to set the punch by."""
    cut = symbols.cut_through(feature)
    if feature.kind != "hole":
        return (cut,)
    return (cut, Circle(feature.x / MM, feature.y / MM, _DOT, fill=palette.INK))


def _heading(
    piece: Piece, part: Part, style: Style, left: float, floor: float, told: Sequence[str]
) -> tuple[tuple[Item, ...], float, float]:
    """The part's name over it, which face is up and the lines told; its top and how far to the right it goes."""
    sizes = style.sizes
    first = floor - (DESCENT + 0.5) * sizes.em - (len(told) - 1) * sizes.line
    whose = f"{style.owner}: " if style.owner else ""
    name, title = part.name, f"{whose}{words.PIECES[piece.name]}, {say(words.FACES[piece.face])}"
    upper = first - sizes.line
    beside = left + text_width(name + "  ", sizes.name, "bold")
    items: list[Item] = [
        Text(left, upper, name, sizes.name, weight="bold", colour=palette.INK),
        Text(beside, upper, title, sizes.em, weight="bold", colour=palette.INK),
    ]
    for number, line in enumerate(told):
        items.append(Text(left, first + number * sizes.line, line, sizes.em, colour=palette.INK))
    widths = [beside + text_width(title, sizes.em, "bold"), *(left + text_width(line, sizes.em) for line in told)]
    return tuple(items), upper - 0.8 * sizes.name, max(widths)


def _details(piece: Piece, part: Part, style: Style, note: str) -> str:
    told = [note] if note else []
    if part.number == 1:
        wide = reading(piece.width, style.units) + narrowing_words(piece, style.units)
        told += [f"{reading(piece.length, style.units)} × {wide}", piece.leather.title]
        told.append(say("{thickness} thick", thickness=reading(piece.thickness, "mm")))
        if piece.skived != piece.thickness:
            told.append(say("skive to {skived}", skived=reading(piece.skived, "mm")))
        if piece.count > 1:
            told.append(words.how_many(piece))
        if piece.splices:
            told.append(words.strips(piece))
        if piece.over or piece.rise:
            told.append(words.cut_larger(piece, style.units))
    before, after = (f"{part.letter} {number}/{part.count}" for number in (part.number - 1, part.number + 1))
    if part.begins is not None:
        joint = part.joint_before
        told.append(
            say("cut along line {joint} and lay it on {before}, {joint} to {joint}", joint=joint, before=before)
        )
    if part.ends is not None:
        told.append(say("{after} is laid on at line {joint_after}", after=after, joint_after=part.joint_after))
    return " · ".join(told)
