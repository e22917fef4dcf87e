"""What stands on every page: check bars in both directions, how to print, and which page this is."""

from dataclasses import replace

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Group, Image, Item, LineTo, MoveTo, Path, Segment, Text
from service.drawing.parts.check_bar import INCHES, METRIC, rectangle
from service.drawing.parts.wrap import wrap
from service.drawing.printed.document import Page, SheetPages
from service.drawing.printed.paper import Sheet
from service.shop.artwork import Artwork
from service.shop.shop import Shop
from service.words import say

PRINT_SO = "Print at 100 %, no scaling"
_THICK = 1.6
_BETWEEN = 0.9
_EM = 3.0
_LINE = 4.1
_EDGE = lines.pen("continuous", 0.13, palette.BLACK)
_MARK_HEIGHT, _MARK_WIDTH = 8.0, 30.0
_WORDS_FROM = INCHES + 17.0


def furnished(pages: SheetPages, name: str, shop: Shop) -> tuple[Page, ...]:
    """The pages of the document of that name, each with what stands on every page of it."""
    mark, found = shop.artwork[shop.mark] if shop.mark else None, []
    for number, (sheet, page) in enumerate(pages, 1):
        which = say("page {number} of {count}", number=number, count=len(pages))
        found.append(replace(page, items=(*page.items, *_furniture(sheet, name, page.title, which, mark))))
    return tuple(found)


def _furniture(sheet: Sheet, name: str, told: str, page: str, mark: Artwork | None) -> tuple[Item, ...]:
    """The check bars from the corner at the lower left, up and to the right, and the page's words beside them.

    `name` and `told` say what the document and this page are; both are cut short where they have no room. The
    shop's `mark` stands at the lower right.
    """
    foot = sheet.foot
    corner_y = foot.bottom - 2 * _THICK - _BETWEEN - _EDGE.width
    level = Group(_bars("level"), foot.left, corner_y)
    upright = Group(_bars("upright"), sheet.margin + _EDGE.width, corner_y)
    rule = (MoveTo(foot.left, foot.top + 1.0), LineTo(foot.right, foot.top + 1.0))
    marks = (_mark(mark, sheet),) if mark else ()
    room = sheet.foot.right - (marks[0].width + 3.0 if marks else 0.0)
    return (Path(rule, _EDGE), level, upright, *_words(sheet, name, told, page, room), *marks)


def _mark(mark: Artwork, sheet: Sheet) -> Image:
    """The shop's mark, as large as the two lower lines of words leave room for."""
    scale = min(_MARK_HEIGHT / mark.height, _MARK_WIDTH / mark.width)
    wide, high = mark.width * scale, mark.height * scale
    return Image(mark, sheet.foot.right - wide, sheet.foot.bottom - high, wide, high)


def _bars(direction: str) -> tuple[Item, ...]:
    """Both bars from their common beginning: to the right below one another, or up beside one another."""
    items: list[Item] = []
    for number, (length, parts, label) in enumerate(((METRIC, 10, "100 mm"), (INCHES, 4, "4 in"))):
        items += _bar(direction, number * (_THICK + _BETWEEN), length, parts, label)
    return tuple(items)


def _bar(direction: str, off: float, length: float, parts: int, label: str) -> tuple[Item, ...]:
    """One bar `off` away from the first one; every other part of it is filled."""

    def box(start: float, long: float) -> tuple[Segment, ...]:
        if direction == "level":
            return rectangle(start, off, long, _THICK)
        return rectangle(off, -start - long, _THICK, long)

    step = length / parts
    filled = tuple(segment for index in range(0, parts, 2) for segment in box(index * step, step))
    down = off + _THICK / 2 + CAP_HEIGHT * _EM * 0.85 / 2
    beyond = INCHES + 1.2
    words = (
        Text(beyond, down, label, _EM * 0.85, weight="bold", colour=palette.INK)
        if direction == "level"
        else Text(down, -beyond, label, _EM * 0.85, rotation=-90.0, weight="bold", colour=palette.INK)
    )
    return (Path(filled, fill=palette.INK), Path(box(0.0, length), _EDGE), words)


def _words(sheet: Sheet, name: str, told: str, page: str, right: float) -> tuple[Item, ...]:
    foot = sheet.foot
    left, top = foot.left + _WORDS_FROM, foot.top + 1.0 + _LINE
    room = foot.right - left
    caution = foot.top + 1.0 + _LINE
    beside = room - text_width(page, _EM, "bold") - 3.0
    return (
        Text(
            foot.left,
            caution,
            say("{print_so}, and lay a ruler on the bars", print_so=PRINT_SO),
            _EM,
            weight="bold",
            colour=palette.INK,
        ),
        Text(left, top, _short(told, beside), _EM, weight="bold", colour=palette.INK),
        Text(foot.right, top, page, _EM, "end", weight="bold", colour=palette.INK),
        *(
            Text(left, top + (number + 1) * _LINE, line, _EM, colour=palette.INK)
            for number, line in enumerate(wrap(name, right - left, _EM)[:2])
        ),
    )


def _short(text: str, width: float) -> str:
    """The first line of the text, with dots where more of it follows."""
    first, *more = wrap(text, width - text_width("…", _EM, "bold"), _EM, "bold")
    return first + "…" if more else first
