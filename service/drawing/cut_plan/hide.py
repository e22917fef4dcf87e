"""One hide: its outline, strips and pieces by name, what is kept of it, and a box to tick for each strip."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from service.drawing import lines, palette
from service.drawing.cut_plan.scale import Scale
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Colour, Item, LineTo, MoveTo, Path, Text
from service.drawing.parts.check_bar import rectangle
from service.drawing.parts.panel import Panel
from service.drawing.sizes import Sizes
from service.shop.shop import Shop, Units
from service.strap.plane.lengths import reading
from service.words import say
from service.workshop.cut_plan.model import Offcut, PlacedPiece, Sheet, Strip
from service.workshop.names import called

TINTS: tuple[Colour, ...] = ("#cde3f4", "#fbe5bf", "#cfeadf", "#f3dbe8", "#f8f4c4", "#d9eefb", "#f6d9c7")
"""The hues of the palette thinned with white, by turns for the orders; each piece says its order in words too."""
WASTE: Colour = "#e4e4e4"
_EDGE = lines.pen("continuous", lines.WIDE, palette.BLACK)
_CUT = lines.pen("continuous", lines.NARROW, palette.BLACK)
_KEPT = lines.pen("dashed", lines.NARROW, palette.BLUISH_GREEN)
_BOX_SIDE = 4.2
"""Millimetres: of strips that are drawn lower, boxes stand in two columns by turns, so that a pencil hits them."""
_BESIDE = 0.3
_TOOTH = 4.0
REST = 12.0
"""Millimetres that are drawn of the rest of a hide: it is read there how wide it is."""


def hide_panel(sheet: Sheet, scale: Scale, colours: dict[str, Colour], shop: Shop, units: Units, sizes: Sizes) -> Panel:
    """The hide under its heading; strip numbers and boxes stand to its left, widths to its right."""
    left = 4.6 * sizes.em
    top = 2.2 * sizes.em
    length = scale.x(sheet.stock.length)
    rest = scale.y(sheet.stock.width - sheet.used_width)
    width = scale.y(sheet.used_width) + min(rest, REST)
    items: list[Item] = [_heading(sheet, shop, units, sizes)]
    items.append(Path(rectangle(left, top, length, width), fill=WASTE))
    for strip in sheet.strips:
        items += _strip(strip, scale, left, top, colours, units, sizes)
    for offcut in sheet.offcuts:
        items += _kept(offcut, scale, left, top, units, sizes)
    items += _straightened(sheet, scale, left, top, units, sizes)
    items.append(_edge(left, top, length, width, is_whole=rest <= REST))
    items += _widths(sheet.strips, scale, left + length, top, units, sizes)
    return Panel(tuple(items), left + length + 7 * sizes.em, top + width)


def _edge(left: float, top: float, length: float, width: float, *, is_whole: bool) -> Path:
    """Round the hide; where most of what is left of it is not drawn, it is broken off in a zigzag."""
    if is_whole:
        return Path(rectangle(left, top, length, width), _EDGE)
    teeth = max(2, round(length / _TOOTH) // 2 * 2)
    low = top + width
    broken = [LineTo(left + length * (1 - n / teeth), low + (0.0 if n % 2 else 1.2)) for n in range(teeth)]
    return Path((MoveTo(left, low), LineTo(left, top), LineTo(left + length, top), *broken, LineTo(left, low)), _EDGE)


def _heading(sheet: Sheet, shop: Shop, units: Units, sizes: Sizes) -> Text:
    stock = sheet.stock
    size = f"{reading(stock.length, units)} × {reading(stock.width, units)}"
    share = sheet.pieces_area / sheet.area
    told = say(
        "{stock}, hide {sheet}: {leather}, {size}; {share:.0%} becomes pieces",
        stock=stock.id,
        sheet=sheet.n,
        leather=shop.leathers[stock.leather].title,
        size=size,
        share=share,
    )
    return Text(0.0, CAP_HEIGHT * sizes.em, told, sizes.em * 1.1, weight="bold", colour=palette.INK)


def _strip(
    strip: Strip, scale: Scale, left: float, top: float, colours: dict[str, Colour], units: Units, sizes: Sizes
) -> Iterator[Item]:
    y, height = top + scale.y(strip.from_y), scale.y(strip.width)
    for piece in strip.pieces:
        x, length = left + scale.x(piece.from_x), scale.x(piece.wanted.length)
        yield Path(rectangle(x, y, length, height), _CUT, colours[piece.wanted.tag])
        yield from _name(piece, x, y, length, height, units, sizes)
    middle = y + height / 2
    em = _em(height, sizes)
    is_low = height < _BOX_SIDE + _BESIDE
    box = min(_BOX_SIDE, 1.9 * height) if is_low else _BOX_SIDE
    x = (box + _BESIDE) * (strip.n % 2) if is_low else 0.0
    yield Path(rectangle(x, middle - box / 2, box, box), _CUT)
    yield Text(left - 0.8, middle + CAP_HEIGHT * em / 2, str(strip.n), em, "end", weight="bold", colour=palette.INK)


def _em(height: float, sizes: Sizes) -> float:
    """Lettering that a strip of this height has room for."""
    return min(sizes.em, 0.92 * height)


def _name(
    piece: PlacedPiece, x: float, y: float, length: float, height: float, units: Units, sizes: Sizes
) -> Iterator[Text]:
    """As much of the piece's order, name and length as it has room for; its number in the order at least."""
    wanted, em = piece.wanted, _em(height, sizes)
    order, name = f"{wanted.tag}/{wanted.copy}", called(wanted.piece)
    forms = (f"{order} {name} {reading(wanted.length, units)}", f"{order} {name}", order, str(wanted.copy))
    room = length - 0.8
    told = next((form for form in forms if text_width(form, em) <= room), None)
    if told is not None:
        yield Text(x + length / 2, y + (height + CAP_HEIGHT * em) / 2, told, em, "middle", colour=palette.INK)


def _kept(offcut: Offcut, scale: Scale, left: float, top: float, units: Units, sizes: Sizes) -> Iterator[Item]:
    x, y = left + scale.x(offcut.from_x), top + scale.y(offcut.from_y)
    length, height = scale.x(offcut.length), scale.y(offcut.width)
    height = min(height, REST) if offcut.of == "hide" else height
    yield Path(rectangle(x + 0.3, y + 0.3, length - 0.6, height - 0.6), _KEPT, palette.PAPER)
    em = _em(height, sizes)
    size = f"{reading(offcut.length, units)} × {reading(offcut.width, units)}"
    told = next(
        (each for each in (say("keep {size}", size=size), "keep") if text_width(each, em) <= length - 1.4), None
    )
    if told:
        yield Text(x + length / 2, y + (height + CAP_HEIGHT * em) / 2, told, em, "middle", colour=palette.GREY)


def _straightened(sheet: Sheet, scale: Scale, left: float, top: float, units: Units, sizes: Sizes) -> Iterator[Item]:
    """The first cut, where one long edge is straightened."""
    stock = sheet.stock
    if not stock.straighten:
        return
    y, em = top + scale.y(stock.straighten), sizes.em * 0.78
    yield Path((MoveTo(left, y), LineTo(left + scale.x(stock.length), y)), _EDGE)
    told = say("first cut: {straighten} off", straighten=reading(stock.straighten, units))
    x = left + scale.x(stock.length) + 0.8
    yield Text(x, top + CAP_HEIGHT * em / 2, told, em, colour=palette.GREY)


def _widths(
    strips: Sequence[Strip], scale: Scale, right: float, top: float, units: Units, sizes: Sizes
) -> Iterator[Item]:
    """What the strap cutter is set to, once for each run of strips of one width."""
    for width, group in groupby(strips, key=lambda strip: strip.width):
        run = list(group)
        first = top + scale.y(run[0].from_y)
        last = top + scale.y(run[-1].from_y + run[-1].width)
        x = right + 1.0
        ends = (
            MoveTo(x, first + 0.3),
            LineTo(x + 1.0, first + 0.3),
            LineTo(x + 1.0, last - 0.3),
            LineTo(x, last - 0.3),
        )
        yield Path(ends, _CUT)
        em = _em(last - first, sizes)
        baseline = (first + last + CAP_HEIGHT * em) / 2
        yield Text(x + 1.8, baseline, reading(width, units), em, weight="bold", colour=palette.INK)
