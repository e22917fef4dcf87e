"""The working sheet: every piece of a pattern at true size with all that is needed to make it."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing import words
from service.drawing.description import description, title
from service.drawing.model import Drawing, Group, Item, Layer, LayerName
from service.drawing.parts.check_bar import check_bar
from service.drawing.parts.chosen import chosen
from service.drawing.parts.legend import legend
from service.drawing.parts.panel import Panel, shelves
from service.drawing.sizes import Sizes, sizes_for
from service.drawing.working.block import Block, piece_block
from service.drawing.working.overlay import Overlay, gone_block, overlaid, overlay_key
from service.drawing.working.title_strip import cells, title_strip
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern, Piece
from service.strap.plane.lengths import MM
from service.words import say

MARGIN = 10.0
_LEAST_WIDTH = 180.0
_WIDEST_FOOT = 900.0
"""Beyond it the key, the bars and the title strip would lie too far apart to be seen together."""
_LAYERS: dict[LayerName, str] = {
    "notes": "Notes, dimensions, key and title strip",
    "fold": "Folds",
    "stitch": "Stitches: prick",
    "mark": "Marks: scribe only, never cut",
    "punch": "Holes and slots: cut through",
    "cut": "Outlines: cut",
    "before": "What it was before: thin and dashed",
}


_ONLY_WHERE_NEEDED: frozenset[LayerName] = frozenset({"stitch", "before"})
"""Left out where they would be empty."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """A block with where its piece's origin lies on the sheet."""

    block: Block
    x: float
    y: float


def working_sheet(
    pattern: Pattern, shop: Shop, *, piece: str | None, units: Units, overlay: Overlay | None = None
) -> Drawing:
    """The working view of a pattern, all pieces or one alone, its readings in `units`, with an `overlay` if there is.

    One unit of the drawing is one millimetre of leather. Raises `UnknownPiece`.
    """
    pieces = chosen(pattern, piece)
    sizes = sizes_for(max(each.length for each in pieces) / MM)
    blocks = [piece_block(each, shop, units, sizes) for each in pieces]
    if overlay:
        blocks = [overlaid(block, overlay.of(block.piece)) for block in blocks]
        blocks += [gone_block(each, sizes) for each in overlay.gone(pieces)]
    width = max(_LEAST_WIDTH, *(block.width for block in blocks))
    spots, height = _place(blocks, width, sizes)
    foot = _foot(pattern, pieces, shop, units, min(width, _WIDEST_FOOT), sizes)
    foot = _under_key(overlay, foot, sizes) if overlay else foot
    layers = _layers(spots, Group(foot.items, MARGIN, MARGIN + height + 1.3 * sizes.gap))
    return Drawing(
        width + 2 * MARGIN,
        height + 1.3 * sizes.gap + foot.height + 2 * MARGIN,
        title(pattern, shop, units),
        description(pieces, shop, units),
        words.LANGUAGE,
        layers,
    )


def _place(blocks: Sequence[Block], width: float, sizes: Sizes) -> tuple[tuple[_Spot, ...], float]:
    bounds = [(block.width, block.height) for block in blocks]
    places, height = shelves(bounds, width, 1.4 * sizes.gap, sizes.gap)
    spots = tuple(
        _Spot(block, MARGIN + place.x - block.left, MARGIN + place.y - block.top)
        for block, place in zip(blocks, places, strict=True)
    )
    return spots, height


def _foot(pattern: Pattern, pieces: tuple[Piece, ...], shop: Shop, units: Units, width: float, sizes: Sizes) -> Panel:
    """Key and check bar side by side if they fit, else one above the other; the title strip below."""
    bar = check_bar(sizes)
    beside = width - bar.width - sizes.gap
    wide = beside > 1.2 * bar.width
    key = legend(pieces, beside if wide else width, sizes)
    top = max(key.height, bar.height) if wide else key.height + 0.7 * sizes.gap + bar.height
    mark = shop.artwork[shop.mark] if shop.mark else None
    strip = title_strip(cells(pattern, shop, units), width, sizes, mark)
    bar_place = (width - bar.width, 0.0) if wide else (0.0, key.height + 0.7 * sizes.gap)
    strip_top = top + 0.7 * sizes.gap
    items = (Group(key.items), Group(bar.items, *bar_place), Group(strip.items, 0.0, strip_top))
    return Panel(items, width, strip_top + strip.height)


def _under_key(overlay: Overlay, foot: Panel, sizes: Sizes) -> Panel:
    """The foot, with the key to an overlay above it."""
    key = overlay_key(overlay, foot.width, sizes)
    top = key.height + 0.7 * sizes.gap
    return Panel((Group(key.items), Group(foot.items, 0.0, top)), foot.width, top + foot.height)


def _layers(spots: Sequence[_Spot], foot: Group) -> tuple[Layer, ...]:
    items: dict[LayerName, list[Item]] = {name: [] for name in _LAYERS}
    for spot in spots:
        for name, drawn in spot.block.layers:
            if drawn:
                items[name].append(Group(drawn, spot.x, spot.y, name=spot.block.piece.name))
    items["notes"].append(foot)
    shown = [name for name in _LAYERS if items[name] or name not in _ONLY_WHERE_NEEDED]
    return tuple(Layer(name, say(_LAYERS[name]), tuple(items[name])) for name in shown)
