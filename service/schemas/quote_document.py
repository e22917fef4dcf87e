"""A quote as JSON data. Money is decimal text."""

from collections.abc import Iterable
from decimal import Decimal

from service.schemas.answers.quote import (
    ChargedLineDocument,
    LineDocument,
    PartDocument,
    PricedDocument,
    PriceDocument,
    ProfitDocument,
    QuoteDocument,
    QuoteSumsDocument,
    QuoteWithoutCostsDocument,
    ScenarioDocument,
)
from service.schemas.sets import strap_of_order
from service.schemas.shop_document import terms_document
from service.shop.pricing import Margin, Profit
from service.shop.shop import Shop
from service.workshop.quote import PricedLine, PricePart, Quote

Scenarios = Iterable[tuple[int, Quote]]
"""The same lines at other quantities: each quantity with its quote."""


def quote_document(quote: Quote, what_if: Scenarios, seals: Iterable[str], shop: Shop) -> QuoteDocument:
    """The quote with all that it costs the shop. `seals` are those of the lines' straps, in their order."""
    return {
        "currency": quote.currency,
        "shop": terms_document(shop),
        "profit": _profit(quote.profit),
        "lines": [_line(line, sealed) for line, sealed in zip(quote.lines, seals, strict=True)],
        **_sums(quote, what_if),
    }


def charged_document(quote: Quote, what_if: Scenarios, seals: Iterable[str], shop: Shop) -> QuoteWithoutCostsDocument:
    """What a buyer is charged, and nothing of how that comes about."""
    return {
        "currency": quote.currency,
        "shop": terms_document(shop),
        "lines": [_charged(line, sealed) for line, sealed in zip(quote.lines, seals, strict=True)],
        **_sums(quote, what_if),
    }


def price_document(quote: Quote, sealed: str, shop: Shop) -> PriceDocument:
    """What a buyer is told of a price: the sum that the shop shows, how it comes about but for its cost, of what."""
    return {
        "price": _money(quote.price),
        "shown": quote.shown,
        "net": _money(quote.net),
        "tax": _money(quote.tax),
        "total": _money(quote.total),
        "tax_title": quote.tax_title,
        "currency": quote.currency,
        "sealed": sealed,
        "shop": terms_document(shop),
    }


def _sums(quote: Quote, what_if: Scenarios) -> QuoteSumsDocument:
    found: QuoteSumsDocument = {
        "net": _money(quote.net),
        "tax": _money(quote.tax),
        "tax_share": plain(quote.tax_share),
        "tax_title": quote.tax_title,
        "total": _money(quote.total),
    }
    scenarios = [_scenario(quantity, each) for quantity, each in what_if]
    if scenarios:
        found["what_if"] = scenarios
    return found


def _profit(profit: Profit) -> ProfitDocument:
    return {"kind": "margin" if isinstance(profit, Margin) else "markup", "share": plain(profit.share)}


def _charged(line: PricedLine, sealed: str) -> ChargedLineDocument:
    return {
        "ref": line.ref,
        **strap_of_order(line.strap),
        "quantity": line.quantity,
        "unit_price": _money(line.unit_price),
        "total": _money(line.total),
        "sealed": sealed,
    }


def _line(line: PricedLine, sealed: str) -> LineDocument:
    return {
        **_charged(line, sealed),
        "cost": _money(line.cost),
        "minutes": plain(line.minutes),
        "parts": [_part(part) for part in line.parts],
    }


def _part(part: PricePart) -> PartDocument:
    found: PartDocument = {
        "kind": part.kind,
        "item": part.item,
        "quantity": plain(part.quantity),
        "unit": part.unit,
        "amount": _money(part.amount),
    }
    if part.unit_price is not None:
        found["unit_price"] = plain(part.unit_price)
    if part.detail:
        found["detail"] = part.detail
    return found


def _scenario(quantity: int, quote: Quote) -> ScenarioDocument:
    return {
        "quantity": quantity,
        "lines": [_priced(line) for line in quote.lines],
        "net": _money(quote.net),
        "tax": _money(quote.tax),
        "total": _money(quote.total),
    }


def _priced(line: PricedLine) -> PricedDocument:
    return {
        "ref": line.ref,
        **strap_of_order(line.strap),
        "unit_price": _money(line.unit_price),
        "total": _money(line.total),
    }


def _money(amount: Decimal) -> str:
    """An amount with all its decimals, never with an exponent."""
    return f"{amount:f}"


def plain(number: Decimal) -> str:
    """A number without an exponent and without zeros that say nothing."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
