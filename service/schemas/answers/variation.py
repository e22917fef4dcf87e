"""What changes about a strap where a rule of the shop, a size or a good is turned: before and after, side by side."""

from typing import Annotated, Literal, NotRequired, TypedDict

from service.schemas.answers.members import Currency, Json, Millimetres, Money, Pointer, Reading

Side = str | int | float | bool | None


class TurnedDocument(TypedDict):
    """One thing that is turned."""

    vary: Annotated[str, "As it was asked for."]
    before: Annotated[Side, "What it was: of a rule the shop's figure, else what the spec says with its defaults."]
    after: Annotated[Side, "What it is turned to."]


class MovedFigureDocument(TypedDict):
    """One figure of this answer that is another where that is turned; `null` where there is none."""

    at: Annotated[Pointer, "RFC 6901, into this answer: the figure before; of a length its member in millimetres."]
    of: Annotated[str, "The id of the feature, the name of the piece, the item or the part of the answer it stands in."]
    figure: Annotated[str, "The member's own name, as `x` or `count`."]
    before: Side
    after: Side
    before_mm: NotRequired[Annotated[Millimetres | None, "Of a length."]]
    after_mm: NotRequired[Annotated[Millimetres | None, "Of a length."]]


class ThingDocument(TypedDict):
    """A piece, a feature, a line of stitches or a good."""

    what: Literal["piece", "feature", "stitch_line", "splice", "hardware"]
    id: Annotated[str, "Its id, or a piece's name, or the good's."]


class CheckSideDocument(TypedDict):
    """One rule on one side."""

    passed: bool
    value_mm: Millimetres
    value: Reading
    limit_mm: Millimetres
    limit: Reading
    at: Annotated[list[str], "The features that it was measured at."]


class TurnedCheckDocument(TypedDict):
    """A rule that finds something else, or has another limit; `null` where it has nothing to measure."""

    rule: str
    before: CheckSideDocument | None
    after: CheckSideDocument | None


class TurnedPriceDocument(TypedDict):
    """What a buyer is charged for one."""

    currency: Currency
    before: Money
    after: Annotated[Money | None, "`null` where it cannot be made."]


class ReasonDocument(TypedDict):
    """Why it cannot be made so."""

    pointer: Annotated[Pointer, "RFC 6901, into `spec`."]
    code: str
    detail: str
    limit: NotRequired[int | Reading]
    found: NotRequired[int | Reading]
    limit_mm: NotRequired[Annotated[Millimetres, "Of a length."]]
    found_mm: NotRequired[Annotated[Millimetres, "Of a length."]]


class VariedDocument(TypedDict):
    """What is turned, and what changes with it. Where it cannot be made so, `refused` says why, and nothing moves."""

    turned: list[TurnedDocument]
    moved: Annotated[list[MovedFigureDocument], "The figures that move."]
    gone: Annotated[list[ThingDocument], "What there is no more."]
    new: Annotated[list[ThingDocument], "What there was not."]
    checks: Annotated[list[TurnedCheckDocument], "The rules that find something else."]
    refused: Annotated[list[ReasonDocument], "Why it cannot be made so; empty where it can."]
    spec: Annotated[Json, "The spec as it is turned."]
    price: NotRequired[Annotated[TurnedPriceDocument, "Where prices were asked for."]]
