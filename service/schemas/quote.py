"""A request for a quote as JSON."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from marshmallow import ValidationError, validates_schema

from service.schemas.fields import Choice, StrictSchema, Text, Whole
from service.schemas.gathered import Part, Several
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
from service.shop.pricing import Margin, Markup, Profit
from service.shop.shop import Shop
from service.words import say

MOST_LINES = 200
MOST_QUANTITIES = 20

OVERRIDES = ("margin", "markup", "leather_by")
"""Members of a request that reckon otherwise than the shop does for its buyers."""

LeatherBy = Literal["waste_share", "cut_plan"]


MOST_FOR = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferAsked:
    """What a printed offer says of itself, as it was read."""

    number: str = ""
    date: str = ""
    to: tuple[str, ...] = ()
    """Whom it is for: a name, an address."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteAsked:
    """A request for a quote as it was read. `what_if` are quantities that every line takes in turn."""

    lines: tuple[Asked, ...]
    what_if: tuple[int, ...] = ()
    margin: Decimal | None = None
    markup: Decimal | None = None
    leather_by: LeatherBy = "waste_share"
    offer: OfferAsked = OfferAsked()

    @property
    def profit(self) -> Profit | None:
        """The profit that is asked for instead of the shop's own."""
        if self.margin is not None:
            return Margin(self.margin)
        return None if self.markup is None else Markup(self.markup)


class OfferTextsSchema(StrictSchema):
    """What a printed offer says of itself."""

    class Meta:
        """`for` is a word of Python's own, so it is included by name."""

        include = {"for": Several(Text(most=80), MOST_FOR, alone=True)}  # noqa: RUF012 # marshmallow reads it once

    number = Text(most=40)
    date = Text(most=40)

    @staticmethod
    def makes(**said: Any) -> OfferAsked:
        """What is printed."""
        to = said.pop("for", ())
        return OfferAsked(to=(to,) if isinstance(to, str) else to, **said)


class QuoteRequestSchema(StrictSchema):
    """A request for a quote."""

    makes = QuoteAsked
    lines = Several(Part(StrapOrderSchema, "a line"), MOST_LINES, required=True)
    what_if = Several(Whole(1, MOST_QUANTITY), MOST_QUANTITIES)
    margin = a_margin()
    markup = a_markup()
    leather_by = Choice("waste_share", "cut_plan")
    offer = Part(OfferTextsSchema, "number, date and for, as they are printed")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_profit(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """A margin is of the price, a markup of the cost: never both."""
        if original.get("margin") is not None and original.get("markup") is not None:
            raise mistake("one_of", say("give margin (a share of the price) or markup (a share of the cost), not both"))

    @validates_schema(skip_on_field_errors=False)
    def each_once(self, data: Mapping[str, Any], **_: object) -> None:
        """No quantity twice in `what_if`."""
        wrong = {
            str(index): [Mistake("given_twice", say("the quantity {quantity} is given twice", quantity=quantity))]
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
