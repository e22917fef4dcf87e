"""One piece with everything that is said about it: name, rulers, cuts and marks, and its table of tools."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing import lines, palette, words
from service.drawing.font import DESCENT, text_width
from service.drawing.model import Group, Item, LayerName, Path, Text
from service.drawing.parts import symbols
from service.drawing.parts.callouts import Callout, callouts, even_row, rows_of
from service.drawing.parts.edging import edging_lines
from service.drawing.parts.panel import Box, Panel
from service.drawing.parts.ruler import Ruler, Side, Station, ruler
from service.drawing.parts.stations import stations_above, stations_across, stations_below
from service.drawing.parts.symbols import CENTRE_OVERHANG
from service.drawing.sizes import Sizes
from service.drawing.working.even_line import even_line
from service.drawing.working.table import tool_table
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Piece
from service.strap.plane.lengths import MM, reading
from service.words import say
from service.workshop.names import narrowing_words


@dataclass(frozen=True, slots=True)
class Block(Box):
    """A piece's part of the sheet by layers, in the piece's own frame, with its bounds there."""

    piece: Piece
    layers: tuple[tuple[LayerName, tuple[Item, ...]], ...]


@dataclass(frozen=True, slots=True)
class _Rulers:
    above: Ruler
    below: Ruler | None
    across: Ruler
    rows: tuple[Item, ...]
    rows_depth: float


def piece_block(piece: Piece, shop: Shop, units: Units, sizes: Sizes) -> Block:
    """Lay out one piece; `units` are those of the readings."""
    groups = callouts(piece)
    rulers = _rulers(piece, groups, units, sizes)
    table = tool_table(piece, groups, shop, units, sizes)
    heading = _heading(piece, units)
    half = (piece.width / 2 + piece.stands_out) / MM
    left = min(-CENTRE_OVERHANG, rulers.above.low, rulers.below.low if rulers.below else 0.0)
    top_of_rulers = -half - max(rulers.above.depth, -rulers.across.low)
    head_items, top, head_width = _set_heading(heading, left, top_of_rulers, sizes)
    below = rulers.below.depth if rulers.below else max(rulers.rows_depth, CENTRE_OVERHANG)
    table_top = max(half + below, rulers.across.high - half) + 1.3 * sizes.em
    texts = (*head_items, *_moved(table, left, table_top))
    right = max(piece.length / MM + rulers.across.depth, left + head_width, left + table.width, rulers.above.high)
    layers, bottom = _layers(piece, rulers, texts, sizes), table_top + table.height
    return Block(left, top, right, bottom, piece=piece, layers=layers)


def _rulers(piece: Piece, groups: Sequence[Callout], units: Units, sizes: Sizes) -> _Rulers:
    length, half, em = piece.length / MM, (piece.width / 2 + piece.stands_out) / MM, sizes.em
    bounds = (-1.2 * em, length + 1.2 * em)
    above = ruler(stations_above(piece, groups, units), Side("top", -half), sizes, bounds, 1.6 * em)
    marks = stations_below(groups, units)
    rows, rows_depth = _rows(groups, marks, half, units, sizes)
    below = ruler(marks, Side("bottom", half), sizes, bounds, rows_depth + 1.2 * em) if marks else None
    reach = max(above.high, below.high if below else 0.0) - length
    offset = max(2.2 * em, reach + em)
    edge = piece.width / MM / 2
    side = Side("right", length, -edge)
    across = ruler(stations_across(piece, units), side, sizes, (-0.8 * em, 2 * edge + 0.8 * em), offset)
    return _Rulers(above, below, across, rows, rows_depth)


def _rows(
    groups: Sequence[Callout], marks: Sequence[Station], edge: float, units: Units, sizes: Sizes
) -> tuple[tuple[Item, ...], float]:
    """Equal steps of the rows along the edges, one dimension line below another."""
    items: list[Item] = []
    depth = 0.0
    for group in groups:
        rows = list(rows_of(group).values())
        row = even_row(rows[0])
        if group.sample.purpose != "border" or row is None or any(other != rows[0] for other in rows):
            continue
        crossed = [station.at for station in marks]
        drawn = even_line(row, units, edge, depth, crossed, sizes)
        items += drawn
        depth += 1.9 * sizes.em if drawn else 0.0
    return tuple(items), depth


def _heading(piece: Piece, units: Units) -> tuple[str, str]:
    size = f"{reading(piece.length, units)} × {reading(piece.width, units)}{narrowing_words(piece, units)}"
    parts = [
        size,
        piece.leather.title,
        say("{thickness} thick", thickness=reading(piece.thickness, "mm")),
        say(words.FACES[piece.face]),
    ]
    if piece.skived != piece.thickness:
        parts.append(say("skive to {skived}", skived=reading(piece.skived, "mm")))
    if piece.count > 1:
        parts.append(words.how_many(piece))
    if piece.splices:
        parts.append(words.strips(piece))
    if piece.over or piece.rise:
        parts.append(words.cut_larger(piece, units))
    return words.PIECES[piece.name], "  ·  ".join(parts)


def _set_heading(
    heading: tuple[str, str], left: float, floor: float, sizes: Sizes
) -> tuple[tuple[Text, ...], float, float]:
    name, details = heading
    baseline = floor - (1.0 + DESCENT) * sizes.em
    upper = baseline - sizes.line
    texts = (
        Text(left, upper, name, sizes.name, weight="bold", colour=palette.INK),
        Text(left, baseline, details, sizes.em, colour=palette.INK),
    )
    width = max(text_width(name, sizes.name, "bold"), text_width(details, sizes.em))
    return texts, upper - 0.8 * sizes.name, width


def _moved(table: Panel, x: float, y: float) -> tuple[Item, ...]:
    return (Group(table.items, x, y),) if table.items else ()


def _layers(
    piece: Piece, rulers: _Rulers, texts: tuple[Item, ...], sizes: Sizes
) -> tuple[tuple[LayerName, tuple[Item, ...]], ...]:
    segments = symbols.outline_segments(piece.outline)
    punched = [feature for feature in piece.features if feature.action == "punch"]
    marks = [feature for feature in piece.features if feature.action == "mark"]
    folds = [feature for feature in piece.features if feature.action == "fold"]
    notes: tuple[Item, ...] = (
        *edging_lines(piece),
        Path(segments, fill=palette.LEATHER),
        symbols.centre_line(piece),
        *symbols.laps(piece),
        *symbols.footprints(piece.features),
        *symbols.hole_numbers(piece, sizes.caption),
        *rulers.rows,
        *rulers.above.items,
        *(rulers.below.items if rulers.below else ()),
        *rulers.across.items,
        *texts,
    )
    return (
        ("notes", notes),
        ("fold", tuple(symbols.fold(feature, piece) for feature in folds)),
        ("stitch", tuple(item for line in piece.stitch_lines for item in symbols.stitches(line))),
        ("mark", tuple(symbols.mark(feature) for feature in marks)),
        ("punch", tuple(symbols.cut_through(feature) for feature in punched)),
        ("cut", (Path(segments, lines.OUTLINE, id=f"{piece.name}.outline"),)),
    )
