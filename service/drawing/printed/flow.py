"""Headings, paragraphs and tables that run on from page to page; a table repeats its head on each.

Everything is first made into strips, each as high as its text, and the strips are then dealt out to the pages.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Protocol

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Anchor, Group, Item, LineTo, MoveTo, Path, Text, Weight
from service.drawing.parts.panel import Panel
from service.drawing.parts.wrap import wrap
from service.drawing.printed.document import SheetPages, inner_page
from service.drawing.printed.paper import Sheet
from service.drawing.sizes import Sizes

_RULE = lines.pen("continuous", 0.13, palette.BLACK)
_HEAD_RULE = lines.pen("continuous", lines.WIDE, palette.BLACK)
_HALF_EMPTY, _NEARLY_EMPTY = 0.5, 0.25
"""Of a page's height: a last page with less on it is saved if lettering can, or filled as the others are."""
SMALLER = (0.97, 0.94, 0.91)
"""Shares of the lettering that are tried: capitals of 2.4 mm become 2.2 mm, still read at arm's length."""
_ROUNDS = 10
"""Halvings of a height: a thousandth of it is near enough."""
_SHORT_PROSE = 4
"""Lines of a paragraph that stays on one page."""
_WHOLE = 55.0
"""Millimetres of a table that no page break divides."""
_SLACK = 0.01
"""Millimetres for the rounding of sums: a column is as wide as its widest cell and not a hair narrower."""
_TALLEST_ROW = 16
"""Lines of a row that is kept on one page; a taller one may be divided between any two of its lines."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A line over what follows; it never stands alone at the foot of a page."""

    text: str


@dataclass(frozen=True, slots=True)
class Prose:
    """A paragraph, or one entry of a list where it begins with a `sign`."""

    text: str
    sign: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: as wide as its widest cell, at most `most` of the table; or as wide as all the rest.

    It is never narrower than its title.
    """

    title: str
    most: float = 0.3
    rest: bool = False
    weight: Weight = "regular"
    is_amount: bool = False
    """Whether its texts end where the column ends, as sums of money are set below one another."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of as many texts as there are columns; a text may have several lines."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """Something that no page break divides. `head` is what a new page says before it."""

    items: tuple[Item, ...]
    height: float
    keep: bool = False
    """Whether it stays with the next strip."""
    head: "Strip | None" = None


class Stripped(Protocol):
    """A block that makes its strips itself."""

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """What is dealt out to pages, in order."""


Block = Heading | Prose | Table | Panel | Stripped
"""No page break divides a panel, which is something drawn."""


Pages = tuple[tuple[Item, ...], ...]
"""The items of each page, from its upper left corner."""


def flow(blocks: Sequence[Block], width: float, height: float, sizes: Sizes) -> Pages:
    """The blocks on pages with room for `width` × `height`."""
    return _dealt(all_strips(blocks, width, sizes), height)[0]


def flow_well(blocks: Sequence[Block], width: float, height: float, sizes: Sizes) -> Pages:
    """As `flow`, but no last page has a few lines alone.

    The lettering is made a little smaller where that saves such a page, else all pages are filled alike.
    """
    strips = all_strips(blocks, width, sizes)
    pages, filled = _dealt(strips, height)
    if len(pages) == 1 or filled >= _HALF_EMPTY * height:
        return pages
    for share in SMALLER:
        fewer, _ = _dealt(all_strips(blocks, width, Sizes(sizes.em * share)), height)
        if len(fewer) < len(pages):
            return fewer
    if filled >= _NEARLY_EMPTY * height:
        return pages
    low = least_height(lambda high: len(_dealt(strips, high)[0]) <= len(pages), height)
    return _dealt(strips, low)[0]


def flow_on(blocks: Sequence[Block], sheet: Sheet, title: str, sizes: Sizes) -> SheetPages:
    """As `flow_well`, on pages of this sheet, without what stands on every page."""
    pages = flow_well(blocks, sheet.inner.width, sheet.inner.height, sizes)
    return tuple((sheet, inner_page(sheet, title, items)) for items in pages)


def least_height(does: Callable[[float], bool], height: float) -> float:
    """About the least height that does, where `height` does."""
    low, high = 0.0, height
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        low, high = (low, middle) if does(middle) else (middle, high)
    return high


def all_strips(blocks: Sequence[Block], width: float, sizes: Sizes) -> list[Strip]:
    """The strips of all blocks; a paragraph over a table or a panel stays with it."""
    strips: list[Strip] = []
    for block, following in zip_longest(blocks, blocks[1:]):
        strips += _strips(block, width, sizes)
        if isinstance(block, Prose) and isinstance(following, Table | Panel):
            strips[-1] = replace(strips[-1], keep=True)
    return strips


def _dealt(strips: Sequence[Strip], height: float) -> tuple[Pages, float]:
    """The strips dealt out to pages, and how far down the last one is filled."""
    return dealt(strips, lambda _: height)


def dealt(strips: Sequence[Strip], height_of: Callable[[int], float]) -> tuple[Pages, float]:
    """The strips dealt out to pages or columns of these heights, by number, and how far down the last one is filled.

    What is higher than all of them stands alone in one.
    """
    pages: list[list[Item]] = [[]]
    y = 0.0
    for index, strip in enumerate(strips):
        room = height_of(len(pages) - 1)
        full = y + _needed(strips, index) > room and (y > 0 or height_of(len(pages)) > room)
        if full and not strip.items:
            continue
        if full:
            pages.append([])
            y = 0.0
            if strip.head:
                pages[-1].append(Group(strip.head.items, 0.0, y))
                y += strip.head.height
        pages[-1].append(Group(strip.items, 0.0, y))
        y += strip.height
    return tuple(tuple(page) for page in pages), y


def _needed(strips: Sequence[Strip], index: int) -> float:
    """The height of a strip and of those that it stays with."""
    needed = strips[index].height
    while strips[index].keep and index + 1 < len(strips):
        index += 1
        needed += strips[index].height
    return needed


def _strips(block: Block, width: float, sizes: Sizes) -> Iterator[Strip]:
    if isinstance(block, Heading):
        yield _heading(block, sizes)
    elif isinstance(block, Prose):
        yield from _prose(block, width, sizes)
    elif isinstance(block, Panel):
        yield Strip(block.items, block.height)
    elif isinstance(block, Table):
        yield from _table(block, width, sizes)
    else:
        yield from block.strips(width, sizes)


def _heading(heading: Heading, sizes: Sizes) -> Strip:
    em = sizes.em * 1.2
    baseline = 1.1 * sizes.em + CAP_HEIGHT * em
    text = Text(0.0, baseline, heading.text, em, weight="bold", colour=palette.INK)
    return Strip((text,), baseline + 0.7 * sizes.em, keep=True)


def _prose(prose: Prose, width: float, sizes: Sizes) -> Iterator[Strip]:
    em, indent = sizes.em, 1.6 * sizes.em if prose.sign else 0.0
    told = wrap(prose.text, width - indent, em)
    for number, line in enumerate(told):
        items: list[Item] = [Text(indent, CAP_HEIGHT * em, line, em, colour=palette.INK)]
        if prose.sign and number == 0:
            items.insert(0, Text(0.0, CAP_HEIGHT * em, prose.sign, em, colour=palette.INK))
        yield Strip(tuple(items), sizes.line, keep=number + 1 < len(told) <= _SHORT_PROSE)


def _table(table: Table, width: float, sizes: Sizes) -> Iterator[Strip]:
    widths = _column_widths(table, width, sizes)
    head = _head(table, widths, width, sizes)
    rows = [strip for row in table.rows for strip in _row(table, row, widths, head, sizes)]
    yield head
    yield from _kept(rows)
    yield Strip((), 0.4 * sizes.em)


def _kept(rows: Sequence[Strip]) -> Iterator[Strip]:
    """A short table stays on one page; of a longer one the first two rows do, and the last two, where they are low."""
    last = len(rows) - 1
    whole = sum(row.height for row in rows) <= _WHOLE
    for index, row in enumerate(rows):
        pair = index < last and row.height + rows[index + 1].height <= _WHOLE / 2
        yield replace(row, keep=index < last and (whole or (pair and index in (0, last - 1))))


def _column_widths(table: Table, width: float, sizes: Sizes) -> list[float]:
    """As wide as each column's texts, up to its share of the whole; the rest for the one that takes it."""
    gap = 1.2 * sizes.em
    widths = []
    for index, column in enumerate(table.columns):
        lines = [line for row in table.rows for line in row[index].split("\n")]
        natural = max((text_width(line, sizes.em, column.weight) for line in lines), default=0.0)
        title = text_width(column.title, sizes.em, "bold")
        widths.append(max(title, min(natural, column.most * width)) + gap + _SLACK)
    rest = [index for index, column in enumerate(table.columns) if column.rest]
    if rest:
        widths[rest[0]] = 0.0
        widths[rest[0]] = max(width - sum(widths), 4 * sizes.em)
    return widths


def _head(table: Table, widths: Sequence[float], width: float, sizes: Sizes) -> Strip:
    em = sizes.em
    items: list[Item] = []
    x = 0.0
    for column, wide in zip(table.columns, widths, strict=True):
        at, anchor = _set_at(column, x, wide, sizes)
        items.append(Text(at, CAP_HEIGHT * em + 0.2 * em, column.title, em, anchor, weight="bold", colour=palette.INK))
        x += wide
    low = CAP_HEIGHT * em + 0.7 * em
    end = width if any(column.rest for column in table.columns) else x
    items.append(Path((MoveTo(0.0, low), LineTo(end, low)), _HEAD_RULE))
    return Strip(tuple(items), low + 0.35 * em, keep=True)


def _set_at(column: Column, x: float, wide: float, sizes: Sizes) -> tuple[float, Anchor]:
    """Where the texts of a column are set that begins at `x`."""
    return (x + wide - 1.2 * sizes.em, "end") if column.is_amount else (x, "start")


def _row(table: Table, row: Sequence[str], widths: Sequence[float], head: Strip, sizes: Sizes) -> Iterator[Strip]:
    """The row as one strip, or as a strip for each of its lines where it is tall."""
    em, gap = sizes.em, 1.2 * sizes.em
    cells = [
        [line for part in text.split("\n") for line in wrap(part, wide - gap, em, column.weight)]
        for text, wide, column in zip(row, widths, table.columns, strict=True)
    ]
    count = max(len(cell) for cell in cells)
    texts: list[list[Item]] = [[] for _ in range(count)]
    x = 0.0
    for cell, wide, column in zip(cells, widths, table.columns, strict=True):
        for number, line in enumerate(cell):
            if line:
                at, anchor = _set_at(column, x, wide, sizes)
                texts[number].append(Text(at, 0.0, line, em, anchor, weight=column.weight, colour=palette.INK))
        x += wide
    yield from _lines(texts, x, head, sizes)


def _lines(texts: Sequence[Sequence[Item]], width: float, head: Strip, sizes: Sizes) -> Iterator[Strip]:
    em = sizes.em
    rule = Path((MoveTo(0.0, 0.0), LineTo(width, 0.0)), _RULE)
    if len(texts) <= _TALLEST_ROW:
        tall = (len(texts) - 1) * sizes.line + CAP_HEIGHT * em + 0.5 * em
        items = [Group(tuple(line), 0.0, CAP_HEIGHT * em + n * sizes.line) for n, line in enumerate(texts)]
        yield Strip((*items, Group((rule,), 0.0, tall)), tall + 0.45 * em, head=head)
        return
    for line in texts:
        yield Strip((Group(tuple(line), 0.0, CAP_HEIGHT * em),), sizes.line, head=head)
    yield Strip((Group((rule,), 0.0, -0.2 * em),), 0.3 * em, head=head)
