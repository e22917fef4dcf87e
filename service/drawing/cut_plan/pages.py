"""A cut plan as one tall drawing for a screen, or as pages for a printer."""

from collections.abc import Iterator, Sequence

from service.drawing import palette, words
from service.drawing.cut_plan.hide import TINTS, hide_panel
from service.drawing.cut_plan.scale import LEAST_STRIPS, Scale, scale_for
from service.drawing.model import Colour, Drawing, Group, Item, Layer, Text
from service.drawing.parts.panel import Panel
from service.drawing.printed.boxes import Entry, Ticked
from service.drawing.printed.columns import in_columns_well
from service.drawing.printed.document import Document, Page
from service.drawing.printed.flow import Block, Column, Heading, Prose, Table, all_strips, dealt, flow
from service.drawing.printed.paper import PaperName, Sheet, lying, margin_on
from service.drawing.sizes import Sizes
from service.shop.shop import Shop, Units
from service.strap.plane.lengths import reading
from service.words import say, say_count
from service.workshop.cut_plan.model import CutPlan, LeatherPlan, Missing
from service.workshop.cut_plan.steps import CutStep

SIZES = Sizes(3.0)
_WIDTH = 277.0
_ROOM = 245.0
_TALLEST = 150.0
_MARGIN = 10.0
_GAP = 6.0
_FOOT = 6.0
_ENDLESS = 1e9
_LEAST_LIST = 40.0
"""Millimetres at the foot of a page that are worth beginning a list on."""
_ONE_COLUMN = 6
"""Steps of a list that needs no columns."""


def cut_drawing(plan: CutPlan, steps: Sequence[CutStep], shop: Shop, units: Units) -> Drawing:
    """The whole plan, one thing below the other: what it comes to, each hide, and the cutting order."""
    scale = scale_for(plan.sheets, _ROOM, _TALLEST)
    (summary,) = flow(tuple(_summary(plan, scale, shop, units)), _WIDTH, _ENDLESS, SIZES)
    (order,) = flow(tuple(_order(steps)), _WIDTH, _ENDLESS, SIZES)
    items: list[Item] = [Group(summary, _MARGIN, _MARGIN)]
    y = _MARGIN + _height(summary) + _GAP
    for panel in _panels(plan, scale, shop, units):
        items.append(Group(panel.items, _MARGIN, y))
        y += panel.height + _GAP
    items.append(Group(order, _MARGIN, y))
    layer = Layer("notes", say("Cut plan"), tuple(items))
    height = y + _height(order) + _MARGIN
    return Drawing(_WIDTH + 2 * _MARGIN, height, _title(shop), _told(plan), words.LANGUAGE, (layer,))


def cut_document(plan: CutPlan, steps: Sequence[CutStep], shop: Shop, units: Units, paper: PaperName) -> Document:
    """The plan on pages that lie on their long side, each hide whole on one page."""
    side = lying(paper, margin_on(paper, shop.paper))
    width, height = side.width - 2 * side.margin, side.height - 2 * side.margin - _FOOT
    pages = cut_pages(plan, steps, shop, units, width, height)
    furnished = tuple(_page(side, items, n, len(pages), _title(shop)) for n, items in enumerate(pages, 1))
    return Document(_title(shop), _told(plan), words.LANGUAGE, furnished)


def cut_pages(
    plan: CutPlan, steps: Sequence[CutStep], shop: Shop, units: Units, width: float, height: float
) -> list[tuple[Item, ...]]:
    """What it comes to, the hides, and the cutting order in columns below them, on pages `width` × `height`.

    Of the scales at which strips are read, the largest that takes the fewest pages.
    """
    ways = (_laid_out(plan, steps, shop, units, (width, height), least) for least in LEAST_STRIPS)
    return min(ways, key=len)


def _laid_out(
    plan: CutPlan, steps: Sequence[CutStep], shop: Shop, units: Units, paper: tuple[float, float], least: float
) -> list[tuple[Item, ...]]:
    width, height = paper
    room = width - (_WIDTH - _ROOM)
    summary = tuple(_summary(plan, scale_for(plan.sheets, room, height, least), shop, units))
    (told,) = flow(summary, width, _ENDLESS, SIZES)
    below = max(height - _height(told) - 3 * _GAP, height / 2)
    scale = scale_for(plan.sheets, room, below, least)
    panels = [Panel(each.items, each.width, each.height + _GAP) for each in _panels(plan, scale, shop, units)]
    strips = all_strips((*_summary(plan, scale, shop, units), *panels), width, SIZES)
    pages, filled = dealt(strips, lambda _: height + _GAP)
    left = height - filled - _GAP
    if not steps:
        return list(pages)
    columns = 2 if len(steps) > _ONE_COLUMN else 1
    listed = tuple(_order(steps))
    if left < _LEAST_LIST:
        return [*pages, *in_columns_well(listed, columns, width, height, SIZES)]
    first, *more = in_columns_well(listed, columns, width, height, SIZES, first=left)
    return [*pages[:-1], (*pages[-1], Group(first, 0.0, filled + _GAP)), *more]


def _page(side: Sheet, items: tuple[Item, ...], number: int, count: int, title: str) -> Page:
    baseline = side.height - side.margin - 1.0
    foot = (
        Text(side.margin, baseline, title, SIZES.em, colour=palette.GREY),
        Text(
            side.width - side.margin,
            baseline,
            say("page {number} of {count}", number=number, count=count),
            SIZES.em,
            "end",
            colour=palette.GREY,
        ),
    )
    return Page(side.width, side.height, say("Cut plan"), (), (Group(items, side.margin, side.margin), *foot))


def _panels(plan: CutPlan, scale: Scale, shop: Shop, units: Units) -> Iterator[Panel]:
    refs = dict.fromkeys(p.wanted.tag for sheet in plan.sheets for strip in sheet.strips for p in strip.pieces)
    colours: dict[str, Colour] = {ref: TINTS[n % len(TINTS)] for n, ref in enumerate(refs)}
    for sheet in plan.sheets:
        yield hide_panel(sheet, scale, colours, shop, units, SIZES)


def _height(items: Sequence[Item]) -> float:
    """The height of flowed items: that of the lowest group, and one line."""
    return max((item.y for item in items if isinstance(item, Group)), default=0.0) + 2 * SIZES.line


def _title(shop: Shop) -> str:
    return say("{shop}: cut plan", shop=shop.name)


def _told(plan: CutPlan) -> str:
    """The plan in one sentence."""
    pieces = sum(len(strip.pieces) for sheet in plan.sheets for strip in sheet.strips)
    strips = sum(len(sheet.strips) for sheet in plan.sheets)
    told = "{cut}, {best}; missing: {missing}." if plan.missing else "{cut}, {best}."
    best = (
        say("no plan needs less leather")
        if plan.proven
        else say("no plan needs fewer than {sheets}", sheets=plan.lower_bound.sheets)
    )
    cut = say(
        "{pieces} in {strips} out of {sheets}",
        pieces=_pieces(pieces),
        strips=say_count("{count} strip", "{count} strips", strips),
        sheets=say_count("{count} hide", "{count} hides", plan.used.sheets),
    )
    return say(told, cut=cut, best=best, missing=_pieces(len(plan.missing)))


def _pieces(count: int) -> str:
    return say_count("{count} piece", "{count} pieces", count)


def _summary(plan: CutPlan, scale: Scale, shop: Shop, units: Units) -> Iterator[Block]:
    yield Heading(_title(shop))
    yield Prose(_told(plan))
    if plan.sheets:
        yield Prose(
            say(
                "Hides are drawn {scale}: read their measures, do not measure the drawing. A dashed part is kept.",
                scale=scale,
            )
        )
    columns = (
        Column("Leather", most=0.4, weight="bold"),
        Column("Hides"),
        Column("At least"),
        Column(say("Becomes pieces")),
        Column(say("Settings of the strap cutter"), rest=True),
    )
    yield Table(columns, tuple(_leather(each, shop) for each in plan.leathers))
    if plan.missing:
        yield Heading("Missing")
        yield Table(
            (Column("Order"), Column("Piece", most=0.4), Column("Size", most=0.4), Column("Why", rest=True)),
            tuple(_missing(each, units) for each in plan.missing),
        )
        yield from (Prose(text, sign="•") for text in _more(plan, shop, units))


def _leather(plan: LeatherPlan, shop: Shop) -> tuple[str, ...]:
    pieces = sum(sheet.pieces_area for sheet in plan.sheets)
    share = f"{pieces / plan.used.area:.0%}" if plan.used.area else "nothing"
    least = f"{plan.lower_bound.sheets}{', proven' if plan.proven else ''}"
    return (shop.leathers[plan.leather].title, str(plan.used.sheets), least, share, str(plan.settings))


def _missing(missing: Missing, units: Units) -> tuple[str, ...]:
    wanted = missing.wanted
    why = {"stock_used_up": say("the stock is used up"), "fits_no_sheet": say("no hide in stock is large enough")}[
        missing.why
    ]
    size = f"{reading(wanted.length, units)} × {reading(wanted.width, units)}"
    return (f"{wanted.tag}/{wanted.copy}", wanted.piece, size, why)


def _more(plan: CutPlan, shop: Shop, units: Units) -> Iterator[str]:
    for more in plan.more:
        size = f"{reading(more.length, units)} × {reading(more.width, units)}"
        least = "" if more.count == more.at_least else say(" (at least {at_least} by any plan)", at_least=more.at_least)
        title = shop.leathers[more.leather].title
        yield say(
            "{count} more of {title}, {size}, would hold what is missing{least}.",
            count=more.count,
            title=title,
            size=size,
            least=least,
        )


def _order(steps: Sequence[CutStep]) -> Iterator[Block]:
    if steps:
        yield Heading(say("Cutting order"))
        entries = tuple(Entry(str(step.n), (step.do,)) for step in steps)
        yield Ticked(say("Hide by hide"), entries)
