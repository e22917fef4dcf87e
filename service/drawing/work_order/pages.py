"""All pages of a work order, section by section, each with what stands on every page."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.drawing import words
from service.drawing.cut_plan.pages import cut_pages
from service.drawing.model import Group
from service.drawing.printed.columns import in_columns
from service.drawing.printed.document import Document, SheetPages, TooManyPages, inner_page
from service.drawing.printed.flow import all_strips, dealt, flow_on
from service.drawing.printed.furniture import furnished
from service.drawing.printed.paper import PaperName, Sheet, lying, margin_on, upright
from service.drawing.printed.plan import TITLE
from service.drawing.sizes import Sizes
from service.drawing.work_order.cover import cover_blocks, pictures_of
from service.drawing.work_order.lists import goods_blocks, minutes_blocks, stock_blocks
from service.drawing.work_order.patterns import Patterns
from service.drawing.work_order.sheet import sheet_blocks, tools_of_day
from service.drawing.work_order.tags import tag_pages
from service.shop.shop import Shop, Units
from service.words import say
from service.workshop.cut_plan.model import CutPlan
from service.workshop.cut_plan.steps import cutting_order
from service.workshop.day.batch import Job
from service.workshop.day.goods import GoodsUse, goods_of, minutes_of
from service.workshop.day.merging import merged
from service.workshop.day.task_words import TaskWords, how_many

SIZES = Sizes(3.2)


@dataclass(frozen=True, slots=True)
class Day:
    """What is printed: the jobs told in units of their own, all that is summed in `units`."""

    title: str
    jobs: tuple[Job, ...]
    plan: CutPlan
    shop: Shop
    units: Units
    paper: PaperName


@dataclass(frozen=True, slots=True)
class _Section:
    """A part of the work order, and what the cover calls it."""

    title: str
    pages: SheetPages


def day_document(day: Day, most_pages: int) -> Document:
    """The whole work order. Raises `PaperTooSmall`, and `TooManyPages` as soon as there are more."""
    tasks = merged(day.jobs)
    tools = tools_of_day(day.jobs, tasks, day.shop)
    told = TaskWords(day.shop, day.units)
    side = upright(day.paper, margin_on(day.paper, day.shop.paper))
    goods = goods_of(day.jobs, day.shop)
    work = sheet_blocks(day.jobs, tasks, tools, told, day.shop)
    sheet = (*work, *minutes_blocks(minutes_of(day.jobs, day.shop)))
    patterns = Patterns(day.jobs, tools, day.paper, day.shop)
    if patterns.count > most_pages:
        raise TooManyPages(patterns.count, most_pages)
    before = [
        _Section(say("Goods"), _goods(day, goods, side)),
        _Section(say("Cut plan"), _cut(day)),
        _Section(say("Bench sheet"), flow_on(sheet, side, say("Bench sheet"), SIZES)),
    ]
    tags = _Section(say("Tags"), _tags(day, side))
    pictures, drawn, name = pictures_of(day.jobs, day.shop), patterns.pages(), _name(day)
    cover: SheetPages = ()
    while True:
        begun = len(cover) + sum(len(section.pages) for section in before)
        sections = [*before, _Section(say("Patterns"), (*drawn, *_plans(patterns, begun, side))), tags]
        contents = _contents(sections, len(cover))
        blocks = tuple(cover_blocks(name, day.jobs, contents, patterns.pages_of_jobs(begun), pictures))
        count, cover = len(cover), flow_on(blocks, side, say("Cover"), SIZES)
        if len(cover) == count:
            break
    pages = (*cover, *(page for section in sections for page in section.pages))
    if len(pages) > most_pages:
        raise TooManyPages(len(pages), most_pages)
    return Document(name, _description(day), words.LANGUAGE, furnished(pages, name, day.shop))


def _name(day: Day) -> str:
    named = day.title
    told = "{shop}, work order: {title}" if named else "{shop}, work order"
    return say(told, shop=day.shop.name, title=named)


def _description(day: Day) -> str:
    count = how_many(sum(job.quantity for job in day.jobs))
    return say("{count}: {tags}.", count=count, tags="; ".join(job.tags for job in day.jobs))


def _goods(day: Day, goods: Sequence[GoodsUse], side: Sheet) -> SheetPages:
    """Goods in two columns, leather and stock below them."""
    inner, title = side.inner, say("Goods to lay out")
    listed = tuple(goods_blocks(goods, day.shop, day.units))
    (*full, last), used = in_columns(listed, 2, (inner.width, inner.height), SIZES, inner.height)
    stock = all_strips(tuple(stock_blocks(day.jobs, day.shop, day.units)), inner.width, SIZES)
    (under, *more), _ = dealt(stock, lambda _: inner.height)
    if used + sum(strip.height for strip in stock) <= inner.height:
        full.append((*last, Group(under, 0.0, used)))
    else:
        full += [last, under, *more]
    return tuple((side, inner_page(side, title, items)) for items in full)


def _plans(patterns: Patterns, begun: int, side: Sheet) -> SheetPages:
    """What follows the patterns: how their pages go together and what their lines mean."""
    return flow_on(tuple(patterns.plans(begun, side.inner.width)), side, say(TITLE), SIZES)


def _contents(sections: Sequence[_Section], cover: int) -> str:
    """What the cover says of the pages after it: `Goods: page 2. Cut plan: pages 3 to 5.`."""
    told, at = [], cover + 1
    for section in sections:
        last = at + len(section.pages) - 1
        which = say("page {at}", at=at) if last == at else say("pages {at} to {last}", at=at, last=last)
        told.append(say("{title}: {which}", title=section.title, which=which))
        at = last + 1
    return ". ".join(told) + "."


def _cut(day: Day) -> SheetPages:
    side = lying(day.paper, margin_on(day.paper, day.shop.paper))
    steps = cutting_order(day.plan, day.shop, day.units)
    found = cut_pages(day.plan, steps, day.shop, day.units, side.inner.width, side.inner.height)
    return tuple((side, inner_page(side, say("Cut plan"), items)) for items in found)


def _tags(day: Day, side: Sheet) -> SheetPages:
    found = tag_pages(day.jobs, day.shop, side.inner.width, side.inner.height)
    return tuple((side, inner_page(side, say("Tags to cut out"), items)) for items in found)
