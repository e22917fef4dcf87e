"""A pattern at true size on pages: which way the paper lies for each piece, what goes where, and the plan of it.

Every piece may lie along the long or the short side of the paper. All ways are tried, and the one that costs least is
taken: a sheet is one, a joint as many sheets as the shop says.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from service.drawing import words
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Group, Item
from service.drawing.parts.callouts import letters
from service.drawing.parts.chosen import chosen
from service.drawing.parts.panel import Box, Panel
from service.drawing.printed.document import Page, Placed, SheetPages, Window, inner_page
from service.drawing.printed.flow import Heading, flow
from service.drawing.printed.packing import Spot, pack
from service.drawing.printed.paper import PAPERS, TITLES, PaperName, Sheet, lying, margin_on, upright
from service.drawing.printed.parting import parts_of
from service.drawing.printed.parts import PartBlock, Style, part_blocks, without_readings
from service.drawing.printed.plan import TITLE, Shared, key, plan, titled_plan
from service.drawing.sizes import Sizes
from service.shop.looks import Paper
from service.shop.shop import Units
from service.strap.errors import StrapError
from service.strap.model.pattern import Pattern, Piece
from service.strap.plane.lengths import MM, reading
from service.words import opening, say, say_list

SIZES = Sizes(2.5 / CAP_HEIGHT)
"""Capitals 2.5 mm high, from the series of ISO 3098-1 (from memory): a page is read at arm's length."""
_GAP = 7.0
"""Between two parts, so that each can be cut out by its own lines."""
# Tried in this order, so that the first of those that take equally few pages is chosen.
_PANEL_WIDTHS = (128.0, 180.0, 1e9, 92.0, 62.0, 46.0)
_ANY_PAGE = 10


class PaperTooSmall(StrapError, ValueError):
    """A piece wider than a page of this paper. `larger` are the papers that are larger."""

    def __init__(self, paper: PaperName, piece: Piece) -> None:
        area = PAPERS[paper][0] * PAPERS[paper][1]
        self.paper = paper
        self.larger = tuple(name for name, (width, height) in PAPERS.items() if width * height > area)
        super().__init__(
            say(
                "the {replace} is too wide for {titles}: choose {larger}",
                replace=piece.name.replace("_", " "),
                titles=TITLES[paper],
                larger=say_list(self.larger, "{most} or {last}") or say("the svg or png form"),
            )
        )


@dataclass(frozen=True, slots=True)
class Tools:
    """The letter of each feature's tool by feature id, and every (letter, title) in the order of use."""

    letter_of: Mapping[str, str]
    titles: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Owner:
    """One of several straps whose patterns are printed together: its number goes before its pieces' letters."""

    number: str
    title: str


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece in parts that fit one way of laying the paper."""

    piece: Piece
    sheet: Sheet
    blocks: tuple[PartBlock, ...]
    has_readings: bool


@dataclass(frozen=True, slots=True)
class Stack:
    """What shares pages of one sheet: blocks first, then panels, and where all of it lies."""

    sheet: Sheet
    blocks: tuple[PartBlock, ...]
    panels: tuple[Panel, ...]
    spots: tuple[Spot, ...]

    @property
    def count(self) -> int:
        """How many pages that takes."""
        return max((spot.page for spot in self.spots), default=-1) + 1


@dataclass(frozen=True, slots=True)
class PatternPages:
    """The pages of a pattern, and the plan of them where these have no room for it."""

    pages: SheetPages
    plan: Panel | None

    @property
    def with_plan(self) -> SheetPages:
        """The pages, and one more for a plan that these have no room for."""
        if self.plan is None:
            return self.pages
        sheet, _ = self.pages[-1]
        (items,) = flow((Heading(TITLE), self.plan), sheet.inner.width, sheet.inner.height, SIZES)
        return (*self.pages, (sheet, inner_page(sheet, "Plan", items)))


def pattern_pages(
    pattern: Pattern,
    paper: PaperName,
    printing: Paper,
    piece: str | None,
    units: Units,
    tools: Tools,
) -> PatternPages:
    """The pages of all pieces or of one alone, without what stands on every page.

    A lining that is trimmed to what it lines, and one that is a plain strip, have pages only where they are asked for;
    the plan says so. Plan and key are there wherever they take no page of their own. Raises `UnknownPiece`, and
    `PaperTooSmall` where a piece is too wide either way.
    """
    best = cuts_of(pattern, paper, printing, piece, units, tools)
    wanted, named = chosen(pattern, piece), {each.name: letters(n) for n, each in enumerate(pattern.pieces)}
    beside = tuple(_beside(each, named[each.name], units) for each in wanted if len(wanted) > 1 and _has_no_page(each))
    stacks, left_over = _with_panels(best, tuple(cut.piece for cut in best), tools.titles, beside)
    return PatternPages(pages_of(stacks), left_over)


def cuts_of(
    pattern: Pattern,
    paper: PaperName,
    printing: Paper,
    piece: str | None,
    units: Units,
    tools: Tools,
    owner: Owner | None = None,
) -> tuple[Cut, ...]:
    """Each piece in parts, the paper laid for it in the best way. Raises `UnknownPiece` and `PaperTooSmall`."""
    pieces, margin = _patterned(chosen(pattern, piece)), margin_on(paper, printing)
    prefix = owner.number if owner else ""
    named = {each.name: prefix + letters(index) for index, each in enumerate(pattern.pieces)}
    sheets = (lying(paper, margin), upright(paper, margin))
    cuts = []
    for each in pieces:
        style = Style(SIZES, units, tools.letter_of, named[each.name], owner.title if owner else "")
        ways = [_cut_up(each, sheet, style, printing.overlap / MM) for sheet in sheets]
        found = [cut for cut in ways if cut is not None]
        if not found:
            raise PaperTooSmall(paper, each)
        cuts.append([cut for cut in found if cut.has_readings] or found)
    return min(product(*cuts), key=lambda way: _cost(way, printing.joint_sheets))


def _patterned(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """Those that have pages, as they are cut where nobody trims them to another."""
    return tuple(_as_cut(piece) for piece in pieces if len(pieces) == 1 or not _has_no_page(piece))


def _has_no_page(piece: Piece) -> bool:
    return piece.name in ("lining", "edging") and (not piece.is_loose or piece.is_plain_strip)


def _as_cut(piece: Piece) -> Piece:
    """A lining that keepers hold with its rise in it."""
    if not piece.is_loose or piece.splices:
        return piece
    return replace(piece, outline=piece.cut_outline, length=piece.length + piece.rise, rise=0)


def _beside(piece: Piece, letter: str, units: Units) -> str:
    """What is told of a piece that has no page."""
    title = words.PIECES[piece.name]
    if piece.is_loose:
        return say(
            "{letter}  {piece}: no page, for it is a plain strip: {width} by {length}",
            letter=letter,
            piece=title,
            width=reading(piece.cut_width, units),
            length=reading(piece.cut_length, units),
        )
    if piece.has_edges or piece.name == "edging":
        return say("{letter}  {piece}: no page, for its shape is told in the steps", letter=letter, piece=title)
    return say("{letter}  {piece}: no page, for it is trimmed once it is glued", letter=letter, piece=title)


def _cut_up(piece: Piece, sheet: Sheet, style: Style, overlap: float) -> Cut | None:
    """The piece in parts; without readings where it fits only so, `None` where it fits in no way."""
    inner = sheet.inner
    parts = parts_of(piece, style.letter, inner.width, overlap)
    for draw in (part_blocks, without_readings):
        blocks = draw(piece, parts, style, inner.width)
        if blocks and all(_fits(block.box, inner) for block in blocks):
            return Cut(piece, sheet, blocks, has_readings=draw is part_blocks)
    return None


def _fits(box: Box, inner: Box) -> bool:
    return box.height <= inner.height and box.width <= inner.width


def _cost(cuts: Sequence[Cut], joint_sheets: int) -> tuple[int, int]:
    """Sheets of paper, each joint counted as `joint_sheets` of them; of equal ways the one with the fewest joints."""
    pages = sum(_stack(sheet, blocks, ()).count for sheet, blocks in by_sheet(cuts))
    joints = sum(len(cut.blocks) - 1 for cut in cuts)
    return pages + joint_sheets * joints, joints


def by_sheet(cuts: Sequence[Cut]) -> Iterator[tuple[Sheet, tuple[PartBlock, ...]]]:
    """All parts that are printed on paper which lies one way, and those on paper which lies the other."""
    for sheet in dict.fromkeys(cut.sheet for cut in cuts):
        yield sheet, tuple(block for cut in cuts if cut.sheet == sheet for block in cut.blocks)


def stacked(sheet: Sheet, blocks: tuple[PartBlock, ...]) -> Stack:
    """Parts of several straps on as few pages as hold them, those of the first strap first."""
    sizes = [(block.box.width, block.box.height) for block in blocks]
    ranks = [-float(index) for index in range(len(blocks))]
    return Stack(sheet, blocks, (), pack(sizes, sheet.inner.width, sheet.inner.height, _GAP, ranks))


def _stack(sheet: Sheet, blocks: tuple[PartBlock, ...], panels: tuple[Panel, ...]) -> Stack:
    """Parts of one piece stay together, those of the tallest first; panels fill what is left."""
    inner = sheet.inner
    tallest: dict[str, float] = {}
    for block in blocks:
        tallest[block.part.piece] = max(block.box.height, tallest.get(block.part.piece, 0.0))
    sizes = [(block.box.width, block.box.height) for block in blocks]
    sizes += [(panel.width, panel.height) for panel in panels]
    ranks = [*(tallest[block.part.piece] for block in blocks), *(0.0 for _ in panels)]
    return Stack(sheet, blocks, panels, pack(sizes, inner.width, inner.height, _GAP, ranks))


_Key = tuple[tuple[str, str], ...]


def _with_panels(
    cuts: Sequence[Cut], pieces: tuple[Piece, ...], titles: _Key, beside: Sequence[str]
) -> tuple[tuple[Stack, ...], Panel | None]:
    """The stacks with as much of plan and key as takes no page more, the plan first; and a plan that has no room."""
    bare = [_stack(sheet, blocks, ()) for sheet, blocks in by_sheet(cuts)]
    pages = sum(stack.count for stack in bare)
    ways = [(bare, False)]
    for at, stack in enumerate(bare):
        for wide in dict.fromkeys(min(width, stack.sheet.inner.width) for width in _PANEL_WIDTHS):
            plans = (titled_plan(planned_parts(cuts, {}), wide, SIZES, beside),) if pages > 1 else ()
            keys = (key(pieces, titles, wide, SIZES),)
            for panels in ((*plans, *keys), plans, keys):
                filled = _stack(stack.sheet, stack.blocks, panels)
                ways.append(([*bare[:at], filled, *bare[at + 1 :]], bool(plans) and panels != keys))
    best, planned = min(ways, key=_panel_cost)
    numbers = {block.part.name: number for number, _, _, block in numbered(best) if block}
    if planned:
        return tuple(_replanned(stack, cuts, numbers, beside) for stack in best), None
    return tuple(best), plan(planned_parts(cuts, numbers), _PANEL_WIDTHS[0], SIZES, beside) if pages > 1 else None


def _panel_cost(way: tuple[Sequence[Stack], bool]) -> tuple[int, bool, int]:
    """Pages, then whether the plan is left out, then panels."""
    stacks, planned = way
    return sum(stack.count for stack in stacks), not planned, -sum(len(stack.panels) for stack in stacks)


def _replanned(stack: Stack, cuts: Sequence[Cut], numbers: Mapping[str, int], beside: Sequence[str]) -> Stack:
    """The stack with a plan, its first panel, that says the pages."""
    if not stack.panels:
        return stack
    panels = (titled_plan(planned_parts(cuts, numbers), stack.panels[0].width, SIZES, beside), *stack.panels[1:])
    return Stack(stack.sheet, stack.blocks, panels, stack.spots)


def planned_parts(cuts: Sequence[Cut], numbers: Mapping[str, int]) -> list[Shared]:
    """What a plan tells of these pieces; `numbers` are the pages of their parts by name."""
    shared = []
    for cut in cuts:
        parts = [block.part for block in cut.blocks]
        shared.append(Shared(cut.piece, parts, [numbers.get(part.name, _ANY_PAGE) for part in parts]))
    return shared


def numbered(stacks: Iterable[Stack]) -> Iterator[tuple[int, Stack, Spot, PartBlock | None]]:
    """Everything with the number of its page in the document, from 1; pages go by the first part on them."""
    begun = 0
    for stack in stacks:
        for index, spot in enumerate(stack.spots):
            yield begun + spot.page + 1, stack, spot, stack.blocks[index] if index < len(stack.blocks) else None
        begun += stack.count


def pages_of(stacks: Sequence[Stack]) -> SheetPages:
    """The pages of these stacks, one after the other."""
    found = []
    for stack in stacks:
        found += [(stack.sheet, _page(stack, number)) for number in range(stack.count)]
    return tuple(found)


def _page(stack: Stack, number: int) -> Page:
    inner = stack.sheet.inner
    windows: list[Window] = []
    items: list[Item] = []
    placed: list[Placed] = []
    for index, spot in enumerate(stack.spots):
        if spot.page != number:
            continue
        x, y = spot.x + inner.left, spot.y + inner.top
        if index >= len(stack.blocks):
            items.append(Group(stack.panels[index - len(stack.blocks)].items, x, y))
            continue
        block = stack.blocks[index]
        x, y = x - block.box.left, y - block.box.top
        windows.append(Window(_moved(block.window, x, y), block.inside, x, y))
        items.append(Group(block.outside, x, y))
        placed.append(Placed(block.part, x, y))
    title = _title([block for block, spot in zip(stack.blocks, stack.spots, strict=False) if spot.page == number])
    return Page(stack.sheet.width, stack.sheet.height, title, tuple(windows), tuple(items), tuple(placed))


def _title(blocks: Sequence[PartBlock]) -> str:
    """Which face is up, and of what: `Grain side up: A 1/3, C`."""
    faces = dict.fromkeys(block.face for block in blocks)
    told = [f"{say(words.FACES[face])}: {', '.join(b.part.name for b in blocks if b.face == face)}" for face in faces]
    text = "; ".join(told)
    return opening(text)


def _moved(box: Box, x: float, y: float) -> Box:
    return Box(box.left + x, box.top + y, box.right + x, box.bottom + y)
