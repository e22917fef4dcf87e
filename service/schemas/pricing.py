"""The shop file's forms for what work and goods cost, how a price is made of that, and how leather is cut."""

from collections.abc import Iterable, Mapping
from dataclasses import MISSING, fields
from decimal import Decimal
from itertools import pairwise
from typing import Any, get_args

from marshmallow import ValidationError, post_load, validates_schema

from service.schemas.fields import Choice, Number, StrictField, StrictSchema, Text, Whole
from service.schemas.gathered import Goods, Part, Several
from service.schemas.goods import a_length, a_price, a_share
from service.schemas.mistakes import Mistake, mistake, unknown_name
from service.shop.pricing import (
    Break,
    Consumable,
    ConsumedPer,
    Cutting,
    Margin,
    Markup,
    Operation,
    Operations,
    Pack,
    Pricing,
    Rounding,
    Shown,
)
from service.words import say

_MOST_MARGIN = "0.95"
_LENGTH_ITEMS = ("lace", "thread")


def a_margin(**more: Any) -> Number:
    """A share of the price; at the whole of it no price would be high enough."""
    return Number("0", _MOST_MARGIN, **more)


def a_markup(**more: Any) -> Number:
    """A share of the cost, or several times it."""
    return Number("0", "20", **more)


class OperationSchema(StrictSchema):
    """Minutes to set up, and for each."""

    makes = Operation
    setup = Number("0", "600", required=True)
    each = Number("0", "600", required=True)


def _operations() -> type[StrictSchema]:
    """A schema with one part for each kind of work: required, but for what a shop may leave uncharged."""
    parts = {
        field.name: Part(OperationSchema, say("setup and each, in minutes"), required=field.default is MISSING)
        for field in fields(Operations)
    }
    return type("OperationsSchema", (StrictSchema,), {"makes": Operations, **parts})


class PackSchema(StrictSchema):
    """An item bought by the pack."""

    makes = Pack
    size = Whole(2, 1_000_000, required=True)
    price = a_price()
    charged = Choice("whole", "share", required=True)


class ConsumableSchema(StrictSchema):
    """Something used up on the way."""

    makes = Consumable
    title = Text(required=True)
    per = Choice(*get_args(ConsumedPer), required=True)
    amount = Number("0", "100000", required=True)
    unit = Text(required=True, most=10)
    price = a_price()


class BreakSchema(StrictSchema):
    """A lower price from a quantity on."""

    makes = Break
    quantity = Whole(2, 1_000_000, required=True)
    discount = Number("0", "0.9", required=True)


class MetrePrices(StrictField[dict[str, Decimal]]):
    """Prices of a metre by item."""

    kind = "a table of prices of a metre by item"
    price = Number("0", "1000000")

    def _read(self, value: object) -> dict[str, Decimal]:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        wrong = {
            name: [Mistake("unknown_item", unknown_name("item", name, _LENGTH_ITEMS))]
            for name in value
            if name not in _LENGTH_ITEMS
        }
        wrong |= {
            name: [Mistake("missing", say("has to be given: the price of a metre"))]
            for name in ("lace",)
            if name not in value
        }
        if wrong:
            raise ValidationError(wrong)
        return {name: self.price.deserialize(price) or Decimal(0) for name, price in value.items()}


class PricingSchema(StrictSchema):
    """How the shop reckons a price. Exactly one of `margin` and `markup` is given."""

    makes = Pricing
    rounding = Choice(*get_args(Rounding), required=True)
    waste = a_share("0", "0.9")
    overhead = a_share("0", "10")
    margin = a_margin()
    markup = a_markup()
    tax = a_share("0", "1")
    tax_title = Text(required=True, most=40)
    shown = Choice(*get_args(Shown))
    rate_per_hour = a_price()
    operations = Part(_operations(), "minutes by operation", required=True)
    packs = Goods(PackSchema, "packs", may_be_empty=True, required=True)
    per_metre = MetrePrices(required=True)
    consumables = Goods(ConsumableSchema, "consumables", may_be_empty=True, required=True)
    breaks = Several(Part(BreakSchema, "a price break"), 20, least=0, required=True)

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_profit(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """A margin is of the price, a markup of the cost: never both."""
        if ("margin" in original) == ("markup" in original):
            raise mistake("one_of", say("give exactly one of margin (a share of the price) and markup (of the cost)"))

    @validates_schema(skip_on_field_errors=False)
    def rising_breaks(self, data: Mapping[str, Any], **_: object) -> None:
        """A larger quantity never has a smaller discount."""
        breaks = data.get("breaks") or []
        if any(a.quantity >= b.quantity or a.discount > b.discount for a, b in pairwise(breaks)):
            wrong = Mistake(
                "out_of_order", say("quantities have to rise from break to break, and discounts may not fall")
            )
            raise ValidationError({"breaks": [wrong]})

    @post_load
    def one_form(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """Margin or markup under one name."""
        data["profit"] = Margin(data.pop("margin")) if "margin" in data else Markup(data.pop("markup"))
        return data


class CuttingSchema(StrictSchema):
    """How leather is cut where a request does not say."""

    makes = Cutting
    kerf = a_length(zero=True)
    straighten = a_length(zero=True)
    end_trim = a_length(zero=True)
    offcut_length = a_length(zero=True)
    offcut_width = a_length(zero=True)


def unknown_packs(packs: Iterable[str], items: Iterable[str]) -> dict[str, list[Mistake]]:
    """A mistake for each pack of something that the shop does not have."""
    known = tuple(items)
    return {name: [Mistake("unknown_item", unknown_name("item", name, known))] for name in packs if name not in known}
