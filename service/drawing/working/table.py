"""The small table under a piece: letter, symbol, how many with which tool, and what for."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing import palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Item, Text
from service.drawing.parts.callouts import Callout, row_detail, what, why
from service.drawing.parts.panel import Panel
from service.drawing.parts.seams import counted, where
from service.drawing.parts.specimens import feature_specimen, specimen
from service.drawing.sizes import Sizes
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Feature, Piece


@dataclass(frozen=True, slots=True)
class _Row:
    tag: str
    sample: Feature | None
    """`None` for a line of stitches."""
    what: str
    why: str
    detail: str | None


def tool_table(piece: Piece, groups: Sequence[Callout], shop: Shop, units: Units, sizes: Sizes) -> Panel:
    """One row for each group of equal features and each line of stitches; nothing where the piece has none."""
    rows = [
        _Row(group.tag, group.sample, what(group, shop, units), why(group, shop), row_detail(group, piece, units))
        for group in groups
    ]
    rows += [_Row("", None, counted(line, units), where(line, piece, units), None) for line in piece.stitch_lines]
    if not rows:
        return Panel((), 0.0, 0.0)
    em = sizes.em
    columns = (0.0, 3.3 * em, 5.2 * em, 6.2 * em + max(text_width(row.what, em) for row in rows))
    items: list[Item] = []
    width, baseline = 0.0, CAP_HEIGHT * em
    for row in rows:
        drawn, reach, used = _row(row, columns, baseline, sizes)
        items += drawn
        width, baseline = max(width, reach), baseline + used
    items.sort(key=_colour)
    return Panel(tuple(items), width, baseline - sizes.line + 0.3 * em)


def _colour(item: Item) -> str:
    """Texts of one colour are drawn together: fewer, larger strokes for every encoder."""
    return item.colour if isinstance(item, Text) else ""


def _row(
    row: _Row, columns: tuple[float, float, float, float], baseline: float, sizes: Sizes
) -> tuple[list[Item], float, float]:
    em = sizes.em
    middle = baseline - CAP_HEIGHT / 2 * em
    tag = Text(columns[0], baseline, row.tag, em, weight="bold", colour=palette.BLUE)
    items: list[Item] = [
        *((tag,) if row.tag else ()),
        specimen("stitch", columns[1], middle, 2.4 * em, em)
        if row.sample is None
        else feature_specimen(row.sample, columns[1], middle, em),
        Text(columns[2], baseline, row.what, em, colour=palette.INK),
        Text(columns[3], baseline, row.why, em, colour=palette.GREY),
    ]
    reach = columns[3] + text_width(row.why, em)
    if row.detail is None:
        return items, reach, sizes.line
    items.append(Text(columns[2], baseline + sizes.line, row.detail, em, colour=palette.GREY))
    return items, max(reach, columns[2] + text_width(row.detail, em)), 2 * sizes.line
