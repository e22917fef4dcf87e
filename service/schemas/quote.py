"""A quote as JSON: the lines that are asked for, and the priced answer. Money is decimal text."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from marshmallow import ValidationError, validates_schema

from service.schemas.fields import Choice, Part, Several, StrictSchema, Whole
from service.schemas.mistakes import Mistake, listed, mistake
from service.schemas.orders import (
    MOST_QUANTITY,
    Asked,
    OrdersError,
    StrapOrderSchema,
    read_orders,
    repeated_refs,
)
from service.schemas.pricing import a_margin, a_markup
from service.schemas.shop_document import terms_document
from service.shop.pricing import Margin, Markup, Profit
from service.shop.shop import Shop
from service.workshop.quote import PricedLine, PricePart, Quote

MOST_LINES = 200
MOST_QUANTITIES = 20

OVERRIDES = ("margin", "markup", "leather_by")
"""Members of a request that reckon otherwise than the shop does for its buyers."""

LeatherBy = Literal["waste_share", "cut_plan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteAsked:
    """A request for a quote as it was read. `what_if` are quantities that every line takes in turn."""

    lines: tuple[Asked, ...]
    what_if: tuple[int, ...] = ()
    margin: Decimal | None = None
    markup: Decimal | None = None
    leather_by: LeatherBy = "waste_share"

    @property
    def profit(self) -> Profit | None:
        """The profit that is asked for instead of the shop's own."""
        if self.margin is not None:
            return Margin(self.margin)
        return None if self.markup is None else Markup(self.markup)


class QuoteRequestSchema(StrictSchema):
    """A request for a quote."""

    makes = QuoteAsked
    lines = Several(Part(StrapOrderSchema, "a line"), MOST_LINES, required=True)
    what_if = Several(Whole(1, MOST_QUANTITY), MOST_QUANTITIES)
    margin = a_margin()
    markup = a_markup()
    leather_by = Choice("waste_share", "cut_plan")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_profit(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """A margin is of the price, a markup of the cost: never both."""
        if original.get("margin") is not None and original.get("markup") is not None:
            raise mistake("one_of", "give margin (a share of the price) or markup (a share of the cost), not both")

    @validates_schema(skip_on_field_errors=False)
    def each_once(self, data: Mapping[str, Any], **_: object) -> None:
        """No quantity twice in `what_if`."""
        wrong = {
            str(index): [Mistake("given_twice", f"the quantity {quantity} is given twice")]
            for index, quantity in enumerate(data.get("what_if") or ())
            if quantity in data["what_if"][:index]
        }
        if wrong:
            raise ValidationError({"what_if": wrong})


QUOTE_SCHEMA = QuoteRequestSchema()


def read_quote(document: object, shop: Shop) -> QuoteAsked:
    """Read a request for a quote. Raises `OrdersError` with every fault in it."""
    asked: QuoteAsked = read_orders(document, QUOTE_SCHEMA, shop.defaults.units, shop.defaults.units)
    faults = listed(repeated_refs(asked.lines, "lines"))
    if faults:
        raise OrdersError(faults)
    return asked


def overrides_in(document: object) -> tuple[str, ...]:
    """Which members of a request ask for another reckoning than the shop's own."""
    given = document if isinstance(document, Mapping) else {}
    return tuple(name for name in OVERRIDES if given.get(name) is not None)


def quote_document(
    quote: Quote, what_if: Iterable[tuple[int, Quote]], seals: Iterable[str], shop: Shop, *, with_costs: bool
) -> dict[str, Any]:
    """The quote as JSON data, with the same lines at other quantities where they are asked for.

    `seals` are those of the lines' straps, in their order. Without costs it has what a buyer is charged, and
    nothing of how that comes about.
    """
    document: dict[str, Any] = {
        "currency": quote.currency,
        "shop": terms_document(shop),
        **({"profit": _profit(quote.profit)} if with_costs else {}),
        "lines": [
            _charged(line) | {"sealed": sealed} | (_costs(line) if with_costs else {})
            for line, sealed in zip(quote.lines, seals, strict=True)
        ],
        "net": _money(quote.net),
        "tax": _money(quote.tax),
        "tax_share": _plain(quote.tax_share),
        "tax_title": quote.tax_title,
        "total": _money(quote.total),
    }
    scenarios = [_scenario(quantity, each) for quantity, each in what_if]
    return document | ({"what_if": scenarios} if scenarios else {})


def price_document(quote: Quote, sealed: str, shop: Shop) -> dict[str, Any]:
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


def _profit(profit: Profit) -> dict[str, str]:
    return {"kind": "margin" if isinstance(profit, Margin) else "markup", "share": _plain(profit.share)}


def _charged(line: PricedLine) -> dict[str, Any]:
    return {
        "ref": line.ref,
        "quantity": line.quantity,
        "unit_price": _money(line.unit_price),
        "total": _money(line.total),
    }


def _costs(line: PricedLine) -> dict[str, Any]:
    return {
        "cost": _money(line.cost),
        "minutes": _plain(line.minutes),
        "parts": [_part(part) for part in line.parts],
    }


def _part(part: PricePart) -> dict[str, str]:
    found = {
        "kind": part.kind,
        "item": part.item,
        "quantity": _plain(part.quantity),
        "unit": part.unit,
        "amount": _money(part.amount),
    }
    if part.unit_price is not None:
        found["unit_price"] = _plain(part.unit_price)
    return found | ({"detail": part.detail} if part.detail else {})


def _scenario(quantity: int, quote: Quote) -> dict[str, Any]:
    lines = [
        {"ref": line.ref, "unit_price": _money(line.unit_price), "total": _money(line.total)} for line in quote.lines
    ]
    return {
        "quantity": quantity,
        "lines": lines,
        "net": _money(quote.net),
        "tax": _money(quote.tax),
        "total": _money(quote.total),
    }


def _money(amount: Decimal) -> str:
    """An amount with all its decimals, never with an exponent."""
    return f"{amount:f}"


def _plain(number: Decimal) -> str:
    """A number without an exponent and without zeros that say nothing."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
