"""The shop's reckoning on one screen: orders in; materials, price and cut plan out.

Every function is pure but for the clock that a caller hands in to bound the search for a plan.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import groupby
from typing import Any

from service.desk.ordering import Ordered, patterns_of
from service.drawing.cut_plan.pages import cut_document, cut_drawing
from service.drawing.model import Drawing
from service.drawing.printed.document import Document
from service.forms.form import OutputOptions
from service.schemas.answers.cut_plan import CutPlanDocument
from service.schemas.answers.quote import QuoteDocument, QuoteWithoutCostsDocument
from service.schemas.cut_plan import CutFrom, CutPlanAsked, habits_of, read_cut_plan, stock_of
from service.schemas.cut_plan_document import cut_plan_document
from service.schemas.orders import Asked, OrdersError
from service.schemas.quote import QuoteAsked, read_quote
from service.schemas.quote_document import charged_document, quote_document
from service.schemas.seals import seal_of
from service.schemas.sets import straps_of
from service.schemas.spec import units_of
from service.shop.shop import Shop, Units
from service.strap.errors import Fault
from service.strap.model.pattern import Pattern
from service.words import say
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.model import CutPlan, Wanted
from service.workshop.cut_plan.plan import plan_cuts
from service.workshop.cut_plan.steps import CutStep, cutting_order
from service.workshop.labour import Labour
from service.workshop.quote import QuoteLine, quote_of

MOST_PIECES = 5000
"""Pieces of one cut plan."""
MOST_PRICES = 600
"""Different straps times quantities of one quote; 200 straps at three."""
QUOTE_PLAN_S = 2.0
"""Seconds for all cut plans of one quote."""

Clock = Callable[[], float]
"""Seconds that go on rising, such as `time.monotonic`."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A cut plan, and the units of its readings."""

    plan: CutPlan
    units: Units


def make_quote(
    document: object, shop: Shop, clock: Clock, *, with_costs: bool = True
) -> QuoteDocument | QuoteWithoutCostsDocument:
    """The quote that a document asks for, as JSON data: with what the straps cost the shop, or without.

    Raises `OrdersError`, `ShopChanged`, `OrdersRefused` and `NoPrices`.
    """
    asked = read_quote(document, shop)
    _refuse_many_prices(asked)
    most = MOST_PIECES if asked.leather_by == "cut_plan" else None
    largest = [replace(line, quantity=max(line.quantity, *asked.what_if, 1)) for line in asked.lines]
    straps = patterns_of(largest, "lines", members_of(document), shop, most)
    lines = [_line(each, asked.lines[each.one.order].quantity) for each in straps]
    scenarios = [lines, *([replace(line, quantity=quantity) for line in lines] for quantity in asked.what_if)]
    effort = effort_of(QUOTE_PLAN_S, clock(), clock)
    shares = (_shares(each, asked, shop, effort.share(len(scenarios) - n)) for n, each in enumerate(scenarios))
    labour = Labour(shop)
    quotes = [quote_of(each, shop, asked.profit, share, labour) for each, share in zip(scenarios, shares, strict=True)]
    what_if = zip(asked.what_if, quotes[1:], strict=True)
    write = quote_document if with_costs else charged_document
    return write(quotes[0], what_if, _seals(lines), shop)


def _line(strap: Ordered, quantity: int) -> QuoteLine:
    one = strap.one
    return QuoteLine(ref=one.ref, pattern=strap.pattern, quantity=quantity, strap=one.strap, pair=one.hand is not None)


def _refuse_many_prices(asked: QuoteAsked) -> None:
    """Raise `OrdersError` where different straps at different quantities make more prices than one quote has."""
    different = (replace(line, ref="", quantity=1) for line in asked.lines)
    straps = sum(len(straps_of((line,), "lines")) for line in {repr(each): each for each in different}.values())
    quantities = 1 + len(asked.what_if)
    if straps > 1 and straps * quantities > MOST_PRICES:
        detail = say(
            "{straps} straps at {quantities} quantities are more than {most} prices: ask for fewer at once",
            straps=straps,
            quantities=quantities,
            most=MOST_PRICES,
        )
        fault = Fault(path=("what_if",), code="too_much_work", detail=detail)
        raise OrdersError((fault,))


def _seals(lines: Sequence[QuoteLine]) -> list[str]:
    """The seal of each line's strap; of one that several lines have it is made once."""
    known: dict[int, str] = {}
    for line in lines:
        if id(line.pattern) not in known:
            known[id(line.pattern)] = seal_of(line.pattern)
    return [known[id(line.pattern)] for line in lines]


def make_cut_plan(document: object, shop: Shop, clock: Clock) -> Planned:
    """The cut plan that a document asks for. Raises `OrdersError`, `ShopChanged` and `OrdersRefused`."""
    started = clock()
    asked = read_cut_plan(document, shop)
    wanted = _wanted(asked, members_of(document), shop)
    plan = plan_of(asked, wanted, shop, effort_of(float(asked.time_limit_s), started, clock))
    return Planned(plan, units_of(document, shop.defaults.units))


@dataclass(frozen=True, slots=True)
class CutPlanSubject:
    """A cut plan, to be encoded as `options` say, its readings in their units or the request's own."""

    planned: Planned
    shop: Shop
    options: OutputOptions

    def data(self) -> CutPlanDocument:
        """Every sheet, piece and step."""
        return cut_plan_document(self.planned.plan, self._steps(), self._units)

    def drawing(self) -> Drawing:
        """Every sheet, one below the other."""
        return cut_drawing(self.planned.plan, self._steps(), self.shop, self._units)

    def pages(self) -> Document:
        """The sheets on paper."""
        return cut_document(self.planned.plan, self._steps(), self.shop, self._units, self.options.paper)

    @property
    def _units(self) -> Units:
        return self.options.units or self.planned.units

    def _steps(self) -> tuple[CutStep, ...]:
        return cutting_order(self.planned.plan, self.shop, self._units)


def members_of(document: object) -> Mapping[str, Any]:
    """The members of a document that was read as an object."""
    return document if isinstance(document, dict) else {}


def effort_of(seconds: float, started: float, clock: Clock) -> Effort:
    """So many seconds, from when something was begun."""
    return Effort(lambda: seconds - (clock() - started))


def plan_of(asked: CutFrom, wanted: Sequence[Wanted], shop: Shop, effort: Effort) -> CutPlan:
    """How these pieces are cut, out of what is asked for."""
    stock = stock_of(asked, (piece.leather for piece in wanted), len(wanted), shop)
    return plan_cuts(wanted, stock, habits_of(asked, shop), shop.leathers, effort)


def _shares(lines: Sequence[QuoteLine], asked: QuoteAsked, shop: Shop, effort: Effort) -> dict[str, Decimal]:
    """By leather, what a cut plan from hides of the shop's own size uses for each part of blank, if that is asked.

    What is used is the hides without the offcuts worth keeping. Raises `OrdersError` for too many pieces.
    """
    if asked.leather_by != "cut_plan":
        return {}
    refuse_many(sum(strip_count(line.pattern) * line.quantity for line in lines), "lines")
    wanted = [piece for line in lines for piece in pieces_of(line.ref, line.strap, line.quantity, line.pattern)]
    plan = plan_of(CutFrom(), wanted, shop, effort)
    return {
        each.leather: Decimal(each.used.area - sum(sheet.offcuts_area for sheet in each.sheets))
        / sum(sheet.pieces_area for sheet in each.sheets)
        for each in plan.leathers
        if each.sheets
    }


def _wanted(asked: CutPlanAsked, document: Mapping[str, Any], shop: Shop) -> list[Wanted]:
    """Every piece of every order, in the order of the request. Raises `OrdersError` where there are too many."""
    straps = patterns_of(asked.orders, "orders", document, shop, MOST_PIECES)
    bare = sum(order.quantity * len(order.pieces or ()) for order in asked.orders)
    refuse_many(bare + sum(each.one.quantity * strip_count(each.pattern) for each in straps), "orders")
    by_order = {index: list(own) for index, own in groupby(straps, key=lambda each: each.one.order)}
    return [
        piece
        for index, order in enumerate(asked.orders)
        for piece in (_bare(order) if order.pieces else pieces_of_all(by_order[index]))
    ]


def pieces_of_all(straps: Iterable[Ordered]) -> Iterator[Wanted]:
    """Every strip to cut for these straps."""
    for each in straps:
        yield from pieces_of(each.one.ref, each.one.strap, each.one.quantity, each.pattern)


def strip_count(pattern: Pattern) -> int:
    """How many strips are cut for one strap."""
    return sum(piece.count * len(piece.strips) for piece in pattern.pieces)


def refuse_many(count: int, name: str) -> None:
    """Raise `OrdersError` for more pieces than one plan cuts."""
    if count > MOST_PIECES:
        detail = say("together they have {count} pieces; one plan cuts at most {most}", count=count, most=MOST_PIECES)
        fault = Fault(
            path=(name,), code="too_many_pieces", detail=detail, limit=MOST_PIECES, found=count, is_length=False
        )
        raise OrdersError((fault,))


def _bare(order: Asked) -> Iterator[Wanted]:
    for copy in range(1, order.quantity + 1):
        for piece in order.pieces or ():
            yield Wanted(
                ref=order.ref,
                copy=copy,
                piece=piece.name,
                leather=piece.leather,
                width=piece.width,
                length=piece.length,
            )


def pieces_of(ref: str, strap: str, quantity: int, pattern: Pattern) -> Iterator[Wanted]:
    """Every strip to cut for so many of a strap, copy by copy."""
    for copy in range(1, quantity + 1):
        for piece in pattern.pieces:
            for strip in piece.strips * piece.count:
                yield Wanted(
                    ref=ref,
                    strap=strap,
                    copy=copy,
                    piece=strip.name,
                    leather=piece.leather.id,
                    width=piece.cut_width,
                    length=strip.cut_length,
                )
