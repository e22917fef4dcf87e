"""The small plan of how the pages go together, and the key to tools and lines."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing import lines, palette, words
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import (
    ArcTo,
    CurveTo,
    Group,
    Item,
    LineTo,
    MoveTo,
    Path,
    Segment,
    Text,
)
from service.drawing.parts.legend import legend
from service.drawing.parts.panel import Panel
from service.drawing.parts.symbols import outline_segments
from service.drawing.parts.wrap import wrap
from service.drawing.printed.document import Part
from service.drawing.shelves import shelved
from service.drawing.sizes import Sizes
from service.strap.model.pattern import Piece
from service.strap.plane.lengths import MM
from service.words import say

_THIN = lines.pen("continuous", 0.25, palette.BLACK)
_HIGHEST = 14.0
"""Millimetres of the tallest picture of a piece."""


@dataclass(frozen=True, slots=True)
class Shared:
    """A piece with its parts, and the number of the page that each part is on."""

    piece: Piece
    parts: Sequence[Part]
    pages: Sequence[int]


TITLE = "How the pages go together"


def titled_plan(shared: Sequence[Shared], width: float, sizes: Sizes, beside: Sequence[str] = ()) -> Panel:
    """The plan under its title."""
    under = plan(shared, width, sizes, beside)
    top = 2.6 * sizes.em
    return Panel((_title(TITLE, sizes), Group(under.items, 0.0, top)), width, top + under.height)


def plan(shared: Sequence[Shared], width: float, sizes: Sizes, beside: Sequence[str] = ()) -> Panel:
    """Every piece small, all to one scale: its joints, its parts' names and on which page each lies.

    `beside` is told of pieces that have no page.
    """
    longest = max(each.piece.length for each in shared) / MM
    widest = max(each.piece.width for each in shared) / MM
    scale = min(width / longest, _HIGHEST / widest)
    items: list[Item] = []
    y = sizes.caption
    for each in shared:
        drawn, height = _row(each, scale, width, sizes)
        items.append(Group(drawn, 0.0, y))
        y += height
    for told in beside:
        for line in wrap(told, width, sizes.caption):
            items.append(Text(0.0, y, line, sizes.caption, colour=palette.INK))
            y += 1.25 * sizes.caption
        y += 0.75 * sizes.caption
    return Panel(tuple(items), width, y)


def _title(text: str, sizes: Sizes) -> Text:
    return Text(0.0, CAP_HEIGHT * sizes.em, text, sizes.em, weight="bold", colour=palette.INK)


def _row(shared: Shared, scale: float, width: float, sizes: Sizes) -> tuple[tuple[Item, ...], float]:
    """One piece: its picture, and below it what is said of every part."""
    piece, em = shared.piece, sizes.caption
    half = piece.width / MM / 2 * scale
    items: list[Item] = [Group((Path(scaled(outline_segments(piece.outline), scale), _THIN),), 0.0, half)]
    cuts: list[Segment] = []
    for part in shared.parts:
        if part.begins is not None:
            at = part.begins * scale
            cuts += [MoveTo(at, -1.0), LineTo(at, 2 * half + 1.0)]
            items.append(Text(at + 0.6, -0.6, part.joint_before, em * 0.9, colour=palette.INK))
    if cuts:
        items.append(Path(tuple(cuts), _THIN))
    texts, lowest = _labels(shared, scale, width, 2 * half + 1.2 * em, em)
    return (*items, *texts), lowest + 2.0 * em


def _labels(shared: Shared, scale: float, width: float, baseline: float, em: float) -> tuple[list[Item], float]:
    """Below each part its name and page; a whole piece is named in one line, as it may be short."""
    if len(shared.parts) == 1:
        told = say(
            "{parts}  {piece}: page {pages}",
            parts=shared.parts[0].name,
            piece=words.PIECES[shared.piece.name],
            pages=shared.pages[0],
        )
        at = min(0.0, width - text_width(told, em))
        return [Text(max(at, 0.0), baseline, told, em, colour=palette.INK)], baseline
    items: list[Item] = []
    lowest = baseline
    for part, page in zip(shared.parts, shared.pages, strict=True):
        start = part.begins or 0.0
        end = part.ends if part.ends is not None else shared.piece.length / MM
        lines_of_it = wrap(
            say("{part}: page {page}", part=part.name, page=page), max((end - start) * scale - 1.0, 2 * em), em
        )
        for number, line in enumerate(lines_of_it):
            y = baseline + number * 1.25 * em
            items.append(Text((start + end) / 2 * scale, y, line, em, "middle", colour=palette.INK))
            lowest = max(lowest, y)
    return items, lowest


def scaled(segments: Sequence[Segment], scale: float) -> tuple[Segment, ...]:
    """The segments `scale` times as large about the origin."""
    found: list[Segment] = []
    for segment in segments:
        if isinstance(segment, MoveTo):
            found.append(MoveTo(segment.x * scale, segment.y * scale))
        elif isinstance(segment, LineTo):
            found.append(LineTo(segment.x * scale, segment.y * scale))
        elif isinstance(segment, ArcTo):
            end = segment.x * scale, segment.y * scale
            found.append(ArcTo(segment.radius * scale, *end, segment.clockwise))
        elif isinstance(segment, CurveTo):
            one, two = (segment.x1 * scale, segment.y1 * scale), (segment.x2 * scale, segment.y2 * scale)
            found.append(CurveTo(*one, *two, segment.x * scale, segment.y * scale))
        else:
            found.append(segment)
    return tuple(found)


def key(pieces: Sequence[Piece], tools: Sequence[tuple[str, str]], width: float, sizes: Sizes) -> Panel:
    """What the lines mean, and the tool of every letter: (letter, title) of each.

    It is wider than `width` where one of its entries is.
    """
    small = Sizes(sizes.caption)
    meaning = legend(pieces, width, small)
    items: list[Item] = [_title("Key", sizes), Group(meaning.items, 0.0, 1.7 * sizes.em)]
    y = 1.7 * sizes.em + meaning.height + 0.6 * small.em
    reach = max(width, meaning.width)
    wides = [text_width(letter + "  ", small.em, "bold") + text_width(title, small.em) for letter, title in tools]
    spots = shelved(wides, width, 2.0 * small.em, in_order=True)
    for (letter, title), wide, spot in zip(tools, wides, spots, strict=True):
        baseline = y + spot.shelf * small.line + CAP_HEIGHT * small.em
        items.append(Text(spot.at, baseline, letter, small.em, weight="bold", colour=palette.BLUE))
        beside = spot.at + text_width(letter + "  ", small.em, "bold")
        items.append(Text(beside, baseline, title, small.em, colour=palette.INK))
        reach = max(reach, spot.at + wide)
    rows = spots[-1].shelf + 1 if spots else 0
    return Panel(tuple(items), reach, y + rows * small.line)
