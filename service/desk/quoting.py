"""A quote on one screen: orders in; prices out, as data, or as an offer on paper.

Every function is pure but for the clock that a caller hands in to bound the search for plans.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from service.desk.counting import MOST_PIECES, refuse_many, strip_count
from service.desk.ordering import Ordered, patterns_of
from service.desk.reckoning import (
    Clock,
    effort_of,
    members_of,
    pieces_of,
    plan_of,
)
from service.drawing import words
from service.drawing.model import Drawing
from service.drawing.offer.pages import OfferCopy, offer_document
from service.drawing.offer.pictures import all_pictures
from service.drawing.printed.document import Document
from service.forms.form import OutputOptions
from service.schemas.answers.quote import QuoteDocument, QuoteWithoutCostsDocument
from service.schemas.cut_plan import CutFrom
from service.schemas.orders import OrdersError
from service.schemas.quote import QuoteAsked, read_quote
from service.schemas.quote_document import charged_document, quote_document
from service.schemas.seals import seal_of
from service.schemas.sets import straps_of
from service.shop.shop import Shop
from service.strap.errors import Fault
from service.strap.model.pattern import Pattern
from service.words import say
from service.workshop.cut_plan.effort import Effort
from service.workshop.labour import Labour
from service.workshop.offer import Offer, OfferLine, rows_of
from service.workshop.quote import PricedLine, Quote, QuoteLine, quote_of

MOST_PRICES = 600
"""Different straps times quantities of one quote; 200 straps at three."""
QUOTE_PLAN_S = 2.0
"""Seconds for all cut plans of one quote."""


@dataclass(frozen=True, slots=True)
class Quoted:
    """What was asked for, the straps, and their prices: at the quantities of the lines, and at each of `what_if`."""

    asked: QuoteAsked
    straps: tuple[Ordered, ...]
    lines: tuple[QuoteLine, ...]
    quotes: tuple[Quote, ...]


def make_quote(document: object, shop: Shop, clock: Clock) -> Quoted:
    """The quote that a document asks for. Raises `OrdersError`, `ShopChanged`, `OrdersRefused` and `NoPrices`."""
    asked = read_quote(document, shop)
    _refuse_many_prices(asked)
    most = MOST_PIECES if asked.leather_by == "cut_plan" else None
    largest = [replace(line, quantity=max(line.quantity, *asked.what_if, 1)) for line in asked.lines]
    straps = patterns_of(largest, "lines", members_of(document), shop, most)
    lines = tuple(_line(each, asked.lines[each.one.order].quantity) for each in straps)
    scenarios = [lines, *([replace(line, quantity=quantity) for line in lines] for quantity in asked.what_if)]
    effort = effort_of(QUOTE_PLAN_S, clock(), clock)
    shares = (_shares(each, asked, shop, effort.share(len(scenarios) - n)) for n, each in enumerate(scenarios))
    labour = Labour(shop)
    quotes = [quote_of(each, shop, asked.profit, share, labour) for each, share in zip(scenarios, shares, strict=True)]
    return Quoted(asked, straps, lines, tuple(quotes))


@dataclass(frozen=True)
class QuoteSubject:
    """A quote, to be encoded as `options` say: with what the straps cost the shop, or without."""

    quoted: Quoted
    shop: Shop
    options: OutputOptions
    with_costs: bool = True
    copy: OfferCopy = "customer"

    def data(self) -> QuoteDocument | QuoteWithoutCostsDocument:
        """Every line, and every sum."""
        write = quote_document if self.with_costs else charged_document
        what_if = zip(self.quoted.asked.what_if, self.quoted.quotes[1:], strict=True)
        return write(self.quoted.quotes[0], what_if, _seals(self.quoted.lines), self.shop)

    def drawing(self) -> Drawing:
        """How every strap will look, one below the other."""
        return all_pictures(self._offer, self.shop)

    def pages(self) -> Document:
        """The offer, or the maker's own copy of it."""
        return offer_document(self._offer, self.shop, self.options.paper, self.copy)

    @cached_property
    def _offer(self) -> Offer:
        quoted, said = self.quoted, self.quoted.asked.offer
        priced = quoted.quotes[0].lines
        lines = [self._line(n, strap) for n, strap in enumerate(quoted.straps)]
        further = self._further()
        told = (
            replace(line, priced=price, at=tuple((n, each) for n, each in own if n > price.quantity))
            for line, price, own in zip(lines, priced, further, strict=True)
        )
        return Offer(number=said.number, date=said.date, to=said.to, rows=rows_of(told), quote=quoted.quotes[0])

    def _line(self, place: int, strap: Ordered) -> OfferLine:
        one, pattern = strap.one, self._told[place]
        design = self.shop.designs.get(one.asked.design or "")
        plain = replace(pattern, spec=replace(pattern.spec, hand=None)) if one.hand else pattern
        return OfferLine(
            tag=" ".join(filter(None, (one.ref, one.name, one.label))),
            title=design.title if design else words.strap_title(plain),
            pattern=pattern,
            priced=self.quoted.quotes[0].lines[place],
            is_paired=one.hand is not None,
        )

    @cached_property
    def _told(self) -> list[Pattern]:
        """The pattern of each line in the wanted units; of one that several lines have it is made once."""
        units, known = self.options.units, {id(each.pattern): each.pattern for each in self.quoted.lines}
        told = {key: pattern.in_units(units) if units else pattern for key, pattern in known.items()}
        return [told[id(line.pattern)] for line in self.quoted.lines]

    def _further(self) -> list[tuple[tuple[int, Decimal], ...]]:
        """Of each line its price at further quantities: those asked for, else those from which the shop asks less."""
        quoted = self.quoted
        if quoted.asked.what_if:
            scenarios = [quote.lines for quote in quoted.quotes[1:]]
        else:
            labour = Labour(self.shop)
            scenarios = [self._at(quantity, labour) for quantity in self._breaks()]
        return [
            tuple(sorted((lines[place].quantity, lines[place].unit_price) for lines in scenarios))
            for place in range(len(quoted.lines))
        ]

    def _breaks(self) -> list[int]:
        """The quantities from which the shop asks less, as many of them as one quote has prices for."""
        quoted, pricing = self.quoted, self.shop.pricing
        if pricing is None or quoted.asked.leather_by == "cut_plan":  # which has a plan for what was asked for only
            return []
        most = MOST_PRICES // max(1, len({id(line.pattern) for line in quoted.lines})) - 1
        return [each.quantity for each in pricing.breaks][: max(0, most)]

    def _at(self, quantity: int, labour: Labour) -> tuple[PricedLine, ...]:
        """Every line at so many straps at least, of pairs at half as many."""
        lines = [
            replace(line, quantity=max(-(-quantity // 2) if line.pair else quantity, line.quantity))
            for line in self.quoted.lines
        ]
        return quote_of(lines, self.shop, self.quoted.asked.profit, labour=labour).lines


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
