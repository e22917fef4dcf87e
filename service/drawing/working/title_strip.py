"""The strip at the foot of the sheet: whose it is, what was ordered, and at which scale it is drawn."""

from service.drawing import lines, palette, words
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Group, Image, Item, LineTo, MoveTo, Path, Segment, Text, Weight
from service.drawing.parts.check_bar import rectangle
from service.drawing.parts.panel import Panel
from service.drawing.sizes import Sizes
from service.shop.artwork import Artwork
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import reading
from service.words import say
from service.workshop.names import end_to_end

Cell = tuple[str, str]
"""A caption and its value."""

_HEIGHT = 3.5
"""Of a row, in ems."""
_CROSSES: tuple[Cell, ...] = (("crosses", "scribe only, never cut"),)


def cells(pattern: Pattern, shop: Shop, units: Units) -> tuple[Cell, ...]:
    """What was ordered, caption by caption; what the strap does not have is left out."""
    return (
        (shop.name, words.strap_title(pattern)),
        *_lengths(pattern, units),
        ("leather", pattern.pieces[0].leather.title),
        *_decoration(pattern, shop, units),
        *_goods(pattern, shop),
        ("scale", say("true size: 1 unit = 1 mm")),
        (say("wide closed lines"), say("cut through")),
        *(_CROSSES if _is_scribed(pattern) else ()),
    )


def _is_scribed(pattern: Pattern) -> bool:
    return any(feature.action == "mark" for piece in pattern.pieces for feature in piece.features)


def _lengths(pattern: Pattern, units: Units) -> tuple[Cell, ...]:
    finished = pattern.finished
    length = reading(finished.length, units)
    if not pattern.is_buckled:
        return ((say("finished length"), f"{length}, {end_to_end(pattern)}"),)
    return ((say("finished length"), f"{length}, {say(words.DATUMS[finished.measured_from])}"),)


def _decoration(pattern: Pattern, shop: Shop, units: Units) -> tuple[Cell, ...]:
    spec = pattern.spec
    row = [
        f"{line.count} × {words.item_title(shop, line.item)}"
        for line in pattern.hardware
        if line.purpose == "ornament" and line.item in shop.ornaments
    ]
    found = [("ornaments", ", ".join(row))] if row else []
    each = [f"{part.per_gap} × {words.item_title(shop, part.item)}" for part in spec.betweens if part.per_gap]
    if each:
        found.append((say("in each gap"), ", ".join(each)))
    for border in spec.borders:
        inset = say(", {inset} inside", inset=reading(border.inset, units))
        found.append((say("along the edges"), words.item_title(shop, border.item) + inset))
    return tuple(found)


def _goods(pattern: Pattern, shop: Shop) -> tuple[Cell, ...]:
    found: list[Cell] = []
    lining = pattern.piece("lining")
    if lining:
        found.append(("lining", words.lining_title(lining)))
    buckles = (end.buckle for end in pattern.ends.outermost)
    found += [("buckle", words.item_title(shop, buckle)) for buckle in buckles if buckle]
    found += [("joint", words.item_title(shop, line.item)) for line in pattern.hardware if line.purpose == "joint"]
    return tuple(found)


def title_strip(content: tuple[Cell, ...], width: float, sizes: Sizes, mark: Artwork | None = None) -> Panel:
    """The shop's mark and the cells in a frame as wide as the sheet; each row is spread out to the full width."""
    height, left = _HEIGHT * sizes.em, _mark_column(mark, width, sizes)
    rows = _rows(content, width - left, sizes)
    items: list[Item] = []
    for index, row in enumerate(rows):
        items.append(Group(_row(row, index, width - left, sizes), left, index * height))
    whole = height * len(rows)
    if mark:
        items += _mark(mark, left, whole, sizes)
    items.append(Path(rectangle(0.0, 0.0, width, whole), lines.FRAME))
    return Panel(tuple(items), width, whole)


def _mark_column(mark: Artwork | None, width: float, sizes: Sizes) -> float:
    """Room for the mark at the height of one row, with space around it."""
    if mark is None:
        return 0.0
    return min((_HEIGHT - 1) * sizes.em * mark.width / mark.height + 1.6 * sizes.em, 0.2 * width)


def _mark(mark: Artwork, column: float, whole: float, sizes: Sizes) -> tuple[Item, ...]:
    """The mark in the middle of its column, and the line that closes the column."""
    wide = column - 1.6 * sizes.em
    high = wide * mark.height / mark.width
    return (
        Path((MoveTo(column, 0.0), LineTo(column, whole)), lines.RULE),
        Image(mark, (column - wide) / 2, (whole - high) / 2, wide, high, "shop_mark"),
    )


def _cell_width(cell: Cell, sizes: Sizes) -> float:
    caption, value = cell
    return max(text_width(caption, sizes.caption), text_width(value, sizes.em, "bold")) + 2 * sizes.em


def _rows(content: tuple[Cell, ...], width: float, sizes: Sizes) -> list[list[Cell]]:
    """As few rows as `width` allows, and of those the narrowest, so that none is nearly empty."""
    widths = [_cell_width(cell, sizes) for cell in content]
    fewest = len(_filled(content, widths, width))
    low, high = max(widths), width
    for _ in range(12):
        middle = (low + high) / 2
        if len(_filled(content, widths, middle)) > fewest:
            low = middle
        else:
            high = middle
    return _filled(content, widths, high)


def _filled(content: tuple[Cell, ...], widths: list[float], limit: float) -> list[list[Cell]]:
    rows: list[list[Cell]] = [[]]
    used = 0.0
    for cell, wide in zip(content, widths, strict=True):
        if rows[-1] and used + wide > limit:
            rows.append([])
            used = 0.0
        rows[-1].append(cell)
        used += wide
    return rows


def _row(row: list[Cell], number: int, width: float, sizes: Sizes) -> tuple[Item, ...]:
    height = _HEIGHT * sizes.em
    spare = max(0.0, width - sum(_cell_width(cell, sizes) for cell in row)) / len(row)
    items: list[Item] = []
    rules: list[Segment] = [MoveTo(0.0, 0.0), LineTo(width, 0.0)] if number else []
    x = 0.0
    for index, cell in enumerate(row):
        if index:
            rules += [MoveTo(x, 0.0), LineTo(x, height)]
        weight: Weight = "regular" if number or index else "bold"
        items += _texts(cell, x + sizes.em, height, weight, sizes)
        x += _cell_width(cell, sizes) + spare
    texts = (*items[::2], *items[1::2])
    return (Path(tuple(rules), lines.RULE), *texts) if rules else texts


def _texts(cell: Cell, x: float, height: float, weight: Weight, sizes: Sizes) -> tuple[Item, Item]:
    caption, value = cell
    baseline = height - 0.85 * sizes.em
    upper = baseline - 0.5 * sizes.em - CAP_HEIGHT * sizes.em
    return (
        Text(x, upper, caption, sizes.caption, colour=palette.GREY),
        Text(x, baseline, value, sizes.em, weight=weight, colour=palette.INK),
    )
