"""The shop's designs, what may be chosen of them, and what of it can be made."""

from typing import Annotated, Literal, NotRequired, TypedDict

from service.schemas.answers.members import Address, Count, Json, Keyword, Millimetres, Named, Pointer, Reading
from service.shop.shop import Units

Value = str | int | bool
Exact = Annotated[str | int, "A length as a text that is read back exactly; a count."]


class DesignInShortDocument(TypedDict):
    """A design in short."""

    name: str
    title: str
    about: str
    href: Address
    picture: Annotated[Address, "Its finished look, as SVG."]


class DesignsDocument(TypedDict):
    """The shop's designs."""

    designs: list[DesignInShortDocument]


class OptionDocument(TypedDict):
    """One value and what a buyer reads for it."""

    value: Value
    title: str


class _ChoiceBegins(TypedDict):
    name: Annotated[str, "The query parameter."]
    title: str
    pointer: Annotated[Pointer, "What it sets in the spec."]


OfferDocument = TypedDict(
    "OfferDocument",
    {
        "kind": Literal["length", "count", "value"],
        "from": NotRequired[Exact],
        "to": NotRequired[Exact],
        "step": NotRequired[Exact],
        "default": Value,
        "from_mm": NotRequired[Millimetres],
        "to_mm": NotRequired[Millimetres],
        "step_mm": NotRequired[Millimetres],
        "default_mm": NotRequired[Millimetres],
        "values": NotRequired[list[OptionDocument]],
    },
)
"""What of a choice is offered."""


class ChoiceDocument(_ChoiceBegins, OfferDocument):
    """Something that may be chosen: a range of lengths or counts, or a list of values."""


class DesignDocument(TypedDict):
    """A design, and what may be chosen of it."""

    name: str
    title: str
    about: str
    units: Units
    spec: Annotated[Json, Named("Spec"), "The base spec, with every default chosen."]
    choices: list[ChoiceDocument]
    along: Annotated[str, "The choice of length."]
    count: Annotated[str | None, "The choice of how many ornaments, if there is one."]
    sizes: Annotated[list[str], "Labels that a line of an order may give as its `sizes`."]
    price: Annotated[str | None, "Where the price of one is got, if this shop has prices."]
    quotes: Annotated[str | None, "Where many are quoted, if this shop has prices."]


class WithheldCountsDocument(TypedDict):
    """Counts that cannot be made at one length."""

    counts: Annotated[list[Count], Keyword("minItems", 2), Keyword("maxItems", 2), "A closed range."]
    reason: Annotated[str, "A few words for a buyer, to stand behind the length or the count."]


class WithheldValueDocument(TypedDict):
    """A value with which nothing can be made, as everything else is chosen."""

    value: Value
    reason: Annotated[str, "A few words for a buyer, to stand behind its title."]


class MakeableDocument(TypedDict):
    """The counts that can be made at one length; none where the list is empty."""

    length_mm: Millimetres
    length: Reading
    value: Annotated[str, "The length as a query says it."]
    counts: Annotated[list[Annotated[list[Count], Keyword("minItems", 2), Keyword("maxItems", 2)]], "Closed ranges."]
    withheld: Annotated[list[WithheldCountsDocument], "The other counts that were asked for."]


class ChoicesDocument(TypedDict):
    """What of a design can be made, with these choices given.

    What is not here is refused.
    """

    design: str
    given: Annotated[dict[str, Value], "Every other choice, as taken."]
    units: Units
    along: str
    step_mm: Millimetres
    step: Reading
    count: str | None
    count_step: int | None
    makeable: list[MakeableDocument]
    offered: Annotated[
        dict[str, list[Value]], "Of each other choice the values with which anything at all can be made."
    ]
    withheld: Annotated[dict[str, list[WithheldValueDocument]], "Of each other choice the values that are not offered."]


class OEmbedDocument(TypedDict):
    """A photo (oEmbed 1.0)."""

    version: Literal["1.0"]
    type: Literal["photo"]
    title: str
    url: Annotated[str, Keyword("format", "uri")]
    width: Count
    height: Count
    provider_name: str
    provider_url: Annotated[str, Keyword("format", "uri")]
    cache_age: Count
