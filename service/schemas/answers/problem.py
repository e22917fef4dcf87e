"""What is wrong, what would help, and what has moved since a strap was sealed."""

from typing import Annotated, NotRequired, TypedDict

from service.schemas.answers.members import Address, Json, Keyword, Millimetres, Pointer, Reading

Bound = int | Reading


class CellDocument(TypedDict, total=False):
    """Of orders as CSV: where it stands in the file."""

    row: Annotated[int, Keyword("minimum", 1), "As a spreadsheet numbers it: the header row is usually 1."]
    column: Annotated[str, "The caller's own name of it; a remedy's may be one to add, empty in other rows."]


class FaultDocument(CellDocument):
    """One thing that is wrong: in the body by `pointer`, in the query by `parameter`, in a shop file by `key`."""

    pointer: NotRequired[Annotated[Pointer, "RFC 6901, into the caller's document."]]
    parameter: NotRequired[str]
    key: NotRequired[Annotated[str, "Of a shop file that was sent: its dotted key, or `(file)`."]]
    code: str
    detail: str
    limit: NotRequired[Bound]
    limit_mm: NotRequired[Millimetres]
    found: NotRequired[Bound]
    found_mm: NotRequired[Millimetres]


class ChangeDocument(CellDocument):
    """Set the value at this place of the caller's document; of a design, or the query's `parameter` to `text`."""

    parameter: NotRequired[str]
    text: NotRequired[str]
    pointer: Pointer
    value: Annotated[str | int | bool | Json | None, "null leaves the member out."]


class RemedyDocument(TypedDict):
    """Changes that make the spec one that is accepted."""

    detail: str
    changes: list[ChangeDocument]


_MovedFrom = TypedDict(
    "_MovedFrom",
    {
        "figure": Annotated[str, "Its place, such as `pieces.body.length` or `hardware.bell_38.count`."],
        "detail": str,
        "from": NotRequired[Bound],
        "from_mm": NotRequired[Millimetres],
        "to": NotRequired[Bound],
        "to_mm": NotRequired[Millimetres],
    },
)


class MovedDocument(_MovedFrom):
    """A figure that moved: a count, or a length as a pair.

    `from` is left out where there was none, `to` where there is none.
    """


class ChangedAtDocument(CellDocument, total=False):
    """Of orders."""

    pointer: Annotated[Pointer, "Of orders: where the seal stands."]


class ChangedDocument(ChangedAtDocument):
    """A sealed strap of which the shop would make another today, or none."""

    moved: Annotated[
        list[MovedDocument],
        "What differs. None of a strap that can no longer be made, or where only what is no figure differs.",
    ]
    errors: Annotated[list[FaultDocument], "Why it can no longer be made, in places of its spec; else empty."]
    code: Annotated[str, "The same spec, no longer sealed."]
    today: Annotated[
        str | None,
        Keyword("format", "uri-reference"),
        "What the shop makes of that spec today, or why it does not and what would help; null where that is too long "
        "for a URL.",
    ]


class ProblemMembersDocument(TypedDict, total=False):
    """What some kinds of problem add."""

    reason: Annotated[str, "Of `choice_refused`: why, in a buyer's words; `detail` and `errors` have the bench's."]
    errors: Annotated[list[FaultDocument], "Every fault at once."]
    remedies: Annotated[list[RemedyDocument], "Each would make the strap one that can be made."]
    changed: Annotated[list[ChangedDocument], "Of `shop_changed`: every sealed strap that would be another one today."]


class ProblemBeginsDocument(TypedDict):
    """What every kind of problem has."""

    type: Annotated[Address, "Where this kind is explained."]
    title: str
    status: Annotated[int, Keyword("minimum", 400), Keyword("maximum", 599)]
    detail: str
    code: Annotated[str, "Stable; the table of problems lists them all."]
    request_id: str


class ProblemDocument(ProblemBeginsDocument, ProblemMembersDocument):
    """What is wrong (RFC 9457)."""
