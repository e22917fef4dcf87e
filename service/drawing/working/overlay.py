"""What a piece was, thin and dashed over what it is: two patterns on one sheet, told apart by line and words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from service.drawing import palette, words
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.lines import NARROW
from service.drawing.model import Circle, Item, LineTo, MoveTo, Path, Pen, Text
from service.drawing.parts import symbols
from service.drawing.parts.panel import Panel
from service.drawing.parts.wrap import wrap
from service.drawing.sizes import Sizes
from service.drawing.working.block import Block
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.plane.lengths import MM
from service.words import say

_BEFORE = Pen(NARROW, palette.GREY, (1.2, 0.8))
_AFTER = Pen(2 * NARROW, palette.BLACK)


@dataclass(frozen=True, slots=True)
class Overlay:
    """What a pattern is drawn over: the one `before` it, if there are two; `lines` say what is turned."""

    before: Pattern | None
    lines: tuple[str, ...]

    def of(self, piece: Piece) -> Piece | None:
        """What a piece was before, if there was one."""
        return self.before.piece(piece.name) if self.before else None

    def gone(self, after: Sequence[Piece]) -> Iterator[Piece]:
        """The pieces that there are no more."""
        names = {each.name for each in after}
        yield from (each for each in (self.before.pieces if self.before else ()) if each.name not in names)


def ghost(piece: Piece) -> tuple[Item, ...]:
    """A piece as it was: its outline and all that was done to it, in thin dashes."""
    outline = Path(symbols.outline_segments(piece.outline), _BEFORE)
    lines = (symbols.stitch_line(each) for each in piece.stitch_lines)
    return (
        outline,
        *(replace(each, pen=_BEFORE, id=None) for each in lines),
        *(item for each in piece.features for item in _feature(each, piece)),
    )


def _feature(feature: Feature, piece: Piece) -> Iterator[Item]:
    x, y = feature.x / MM, feature.y / MM
    if feature.footprint:
        yield Circle(x, y, feature.footprint / MM / 2, _BEFORE)
    if feature.action == "fold":
        yield replace(symbols.fold(feature, piece), pen=_BEFORE, id=None)
    elif feature.action == "mark":
        yield replace(symbols.mark(feature), pen=_BEFORE, id=None)
    elif feature.kind == "hole":
        yield Circle(x, y, (feature.diameter or 0) / MM / 2, _BEFORE)
    else:
        size = (feature.length or 0) / MM, (feature.width or 0) / MM
        yield Path(symbols.stadium(x, y, *size, feature.angle), _BEFORE)


def overlaid(block: Block, before: Piece | None) -> Block:
    """A piece's part of the sheet with what it was over it, and room for that."""
    if before is None:
        return block
    half = (before.width / 2) / MM
    return replace(
        block,
        left=min(block.left, 0.0),
        top=min(block.top, -half),
        right=max(block.right, before.length / MM),
        bottom=max(block.bottom, half),
        layers=(*block.layers, ("before", ghost(before))),
    )


def gone_block(piece: Piece, sizes: Sizes) -> Block:
    """A piece that there is no more."""
    half, length = piece.width / 2 / MM, piece.length / MM
    text = say("{piece}: no more", piece=words.PIECES[piece.name])
    top = -half - 1.2 * sizes.name
    title = Text(0.0, -half - 0.5 * sizes.name, text, sizes.name, weight="bold", colour=palette.GREY)
    right = max(length, text_width(text, sizes.name, "bold"))
    return Block(0.0, top, right, half, piece=piece, layers=(("notes", (title,)), ("before", ghost(piece))))


def overlay_key(overlay: Overlay, width: float, sizes: Sizes) -> Panel:
    """Which lines are before and which after, and what is turned."""
    em, line, long = sizes.em, sizes.line, 5.0 * sizes.em
    items: list[Item] = []
    y = CAP_HEIGHT * em
    if overlay.before:
        for pen, text in ((_BEFORE, say("thin and dashed: before")), (_AFTER, say("in full: after"))):
            middle = y - CAP_HEIGHT * em / 2
            items.append(Path((MoveTo(0, middle), LineTo(long, middle)), pen))
            items.append(Text(long + 0.8 * em, y, text, em, weight="bold", colour=palette.INK))
            y += line
    for text in overlay.lines:
        for part in wrap(text, width, em):
            items.append(Text(0.0, y, part, em, colour=palette.INK))
            y += line
    return Panel(tuple(items), width, y - line + 0.3 * em)
