"""What another shop file would change."""

from typing import Annotated, Literal, NotRequired, TypedDict

from service.schemas.answers.members import Count, Currency, Pointer, TermsDocument
from service.schemas.answers.problem import MovedDocument

Outcome = Literal["same", "changed", "gone", "new", "never"]

_From = TypedDict("_From", {"from": str | None})


class ComparedPriceDocument(_From):
    """What one costs, without tax; null where it cannot be made or has no price. `from` is now, `to` by the other."""

    to: str | None


class ReasonDocument(TypedDict):
    """Why a strap cannot be made."""

    pointer: Annotated[Pointer, "Into its spec."]
    code: str
    detail: str


class PairsDocument(TypedDict):
    """Counts at one length."""

    length: Annotated[str, "As in a query."]
    counts: Annotated[list[list[int]], "Closed ranges."]


class ComparedChoicesDocument(TypedDict):
    """Of the pairs of length and count that the design offers now, all else at its default: what can be made."""

    offered: Annotated[Count, "How many pairs there are."]
    lost: Annotated[Count, "How many can be made now and not by the other file."]
    gained: Annotated[Count, "How many can be made by the other file and not now."]
    lost_at: Annotated[list[PairsDocument], "Which are lost."]
    gained_at: Annotated[list[PairsDocument], "Which are gained."]


class ComparedStrapDocument(TypedDict):
    """One strap: a design as it is where nothing is chosen, in one of its sizes where it has any; or a code."""

    design: NotRequired[str]
    size: NotRequired[Annotated[str, "A label of the design's size table."]]
    code: NotRequired[Annotated[str, "As it was sent."]]
    title: str
    outcome: Annotated[
        Outcome,
        "`same`: the very pattern. `changed`: another one. `gone`: it could not be made any more. `new`: by the other "
        "file only it can be made. `never`: by neither.",
    ]
    errors: Annotated[list[ReasonDocument], "Of `gone` and `never`: why the other file cannot make it."]
    moved: Annotated[
        list[MovedDocument], "Of `changed`: the figures that moved; none where only a place between others did."
    ]
    price: NotRequired[ComparedPriceDocument]
    choices: NotRequired[ComparedChoicesDocument]


class ComparedCountsDocument(TypedDict):
    """How many straps of each outcome; and of those that both make, how many would cost otherwise."""

    same: Count
    changed: Count
    gone: Count
    new: Count
    never: Count
    dearer: Count
    cheaper: Count


class ComparisonDocument(TypedDict):
    """What another shop file would change."""

    shop: TermsDocument
    currency: Currency
    other: TermsDocument
    other_currency: Currency
    counts: ComparedCountsDocument
    straps: Annotated[list[ComparedStrapDocument], "Designs in the shop's order, then codes in that of the request."]
