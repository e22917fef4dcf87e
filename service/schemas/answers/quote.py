"""What straps cost."""

from typing import Annotated, Literal, NotRequired, TypedDict

from service.schemas.answers.members import Count, Currency, Money, Number, Sealed, StrapOfOrderDocument, TermsDocument
from service.shop.pricing import Shown


class PartDocument(TypedDict):
    """One part of a line's total."""

    kind: Annotated[str, "`leather`, `buckle`, `labour`, `overhead`, `margin` and so on."]
    item: str
    quantity: Number
    unit: str
    unit_price: NotRequired[Number]
    amount: Annotated[Money, "Rounded once; the parts' amounts add up to the line's total exactly."]
    detail: NotRequired[str]


class ProfitDocument(TypedDict):
    """A margin is a share of the price, a markup a share of the cost."""

    kind: Literal["margin", "markup"]
    share: Number


class _OfOrder(TypedDict):
    ref: str


class PricedDocument(_OfOrder, StrapOfOrderDocument):
    """One line, or one strap of it."""

    unit_price: Money
    total: Money


class ChargedLineDocument(PricedDocument):
    """One line; `unit_price` times `quantity` is its total."""

    quantity: Count
    sealed: Sealed


class LineDocument(ChargedLineDocument):
    """One line; `unit_price` times `quantity` is its total."""

    cost: Annotated[Money, "Materials, labour and overhead."]
    minutes: Annotated[Number, "Minutes of work on the whole line."]
    parts: list[PartDocument]


class SumsDocument(TypedDict):
    """What all lines come to."""

    net: Annotated[Money, "The sum of the lines."]
    tax: Money
    total: Annotated[Money, "`net` and `tax` together."]


class _ScenarioBegins(TypedDict):
    quantity: Count
    lines: list[PricedDocument]


class ScenarioDocument(_ScenarioBegins, SumsDocument):
    """The same lines, each at this quantity."""


class QuoteSumsDocument(SumsDocument):
    """What all lines come to, by what tax, and what other quantities would."""

    tax_share: Number
    tax_title: str
    what_if: NotRequired[list[ScenarioDocument]]


class _QuoteBegins(TypedDict):
    currency: Currency
    profit: ProfitDocument
    lines: list[LineDocument]


class _ChargedBegins(TypedDict):
    currency: Currency
    lines: list[ChargedLineDocument]


class QuoteDocument(_QuoteBegins, QuoteSumsDocument):
    """The price of straps, and how it comes about: for the holder of a key, or for all while there are no keys."""

    shop: TermsDocument


class QuoteWithoutCostsDocument(_ChargedBegins, QuoteSumsDocument):
    """The price of straps as who shows no key is told it, once there are keys."""

    shop: TermsDocument


class PriceDocument(TypedDict):
    """What one of a design costs as chosen."""

    price: Annotated[Money, "What buyers are shown: `total` or `net`, as `shown` says."]
    shown: Annotated[Shown, "Whether `price` is with the tax (`gross`) or without it (`net`)."]
    net: Money
    tax: Annotated[Money, "Of `net`, rounded once."]
    total: Annotated[Money, "`net` and `tax` together."]
    tax_title: str
    currency: Currency
    sealed: Sealed
    shop: TermsDocument
