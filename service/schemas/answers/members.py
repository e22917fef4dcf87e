"""What members of several answers are made of."""

from dataclasses import dataclass
from typing import Annotated, Any, TypedDict

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Keyword:
    """A keyword of JSON Schema 2020-12 beside a member's type."""

    name: str
    value: str | int | float


@dataclass(frozen=True, slots=True)
class Named:
    """A schema of the document that stands in place of the member's type."""

    name: str


@dataclass(frozen=True, slots=True)
class AtLeast:
    """An object that has the members of this declared one, and more."""

    declared: type


Count = Annotated[int, Keyword("minimum", 0)]
Millimetres = Annotated[float, "Millimetres, rounded to 0.001."]
Reading = Annotated[
    str,
    "What a person reads off a ruler: to 1/64 in or 0.1 mm; `≈` where that is not exact.",
    Keyword("pattern", r"^(≈ )?-?([0-9]+( [0-9]+/[0-9]+)?|[0-9]+/[0-9]+) in$|^(≈ )?-?[0-9]+(\.[0-9])? mm$"),
]
Area = Annotated[float, "Square millimetres.", Keyword("minimum", 0)]
Share = Annotated[float, Keyword("minimum", 0), Keyword("maximum", 1)]
Number = Annotated[str, "An exact decimal number.", Keyword("pattern", r"^-?[0-9]+(\.[0-9]+)?$")]
Money = Annotated[
    str,
    "In the quote's currency, with that currency's own number of decimals.",
    Keyword("pattern", r"^-?[0-9]+(\.[0-9]+)?$"),
]
Currency = Annotated[str, "ISO 4217."]
Pointer = Annotated[str, Keyword("format", "json-pointer")]
Address = Annotated[str, Keyword("format", "uri-reference")]
Sealed = Annotated[
    str,
    "A code that holds this very strap fast: asked for later it gives the same one, or 409 `shop_changed`. Keep it "
    "with an order.",
]


class StrapOfOrderDocument(TypedDict, total=False):
    """Of an order of several straps: a pair, sizes, a set."""

    strap: Annotated[str, "Which strap of its order, where it has several: `left`, `M`, `M right`, `tip half`."]


class SealedStrapDocument(TypedDict):
    """A strap that was sealed, in place of a spec: for a seal that is too long for a URL."""

    sealed: Annotated[str, "The `sealed` of a pattern, a price or a line of a quote."]


class TermsDocument(TypedDict):
    """By whose terms an answer was reckoned."""

    name: str
    digest: Annotated[
        str,
        "SHA-256 of all that shapes a pattern or a price: goods, rules, defaults, limits, prices. "
        "Titles, colours, pictures and designs may change without it.",
    ]
