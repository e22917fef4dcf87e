"""The work at the bench: what a step says as data."""

from typing import Annotated, NotRequired, TypedDict

from service.schemas.answers.members import Count, Millimetres, Reading
from service.strap.model.pattern import PieceName
from service.workshop.bench.step import Op


class GoodsDocument(TypedDict):
    """So many of one item of the hardware list; lace and thread have a length."""

    item: str
    count: Count
    length_mm: NotRequired[Millimetres]
    length: NotRequired[Reading]


class _StepBegins(TypedDict):
    n: Count
    op: Annotated[Op, "What is done."]


class StepPieceDocument(TypedDict, total=False):
    """Of a step at one piece."""

    piece: Annotated[str, "Where it is done to one piece alone."]


class _StepDone(TypedDict):
    pieces: Annotated[list[PieceName], "All that it is done to."]
    plies: Annotated[
        list[PieceName],
        "The plies that it goes through or lays on one another, from the front to the back; a piece folded on itself "
        "stands there twice. Empty where every piece is worked by itself.",
    ]
    do: Annotated[str, "The whole step as a sentence."]


class StepToolDocument(TypedDict, total=False):
    """Of a step with a tool."""

    tool: Annotated[str, "The id of a punch, or a hand tool; left out where it takes none."]


class StepDocument(_StepBegins, StepPieceDocument, _StepDone, StepToolDocument):
    """One thing to do.

    What is in the hardware list is used once, and every feature is made by one step: holes, slots by `punch`, marks by
    `mark`, lines of stitches by `prick`, tapers by `taper`, ends by `shape`, folds by `fold`. The first are tries, on
    an offcut (`test`) and in paper (`try`), which touch no piece.
    """

    features: Annotated[
        list[str],
        "The ids of what it makes or works on: features, lines of stitches, laps (`piece.splice.n`), tapers "
        "(`piece.taper.n`), and ends, which are `piece.end.1` at the buckle end and `piece.end.2` at the other.",
    ]
    uses: Annotated[list[GoodsDocument], "What it takes of the hardware list."]
    after: Annotated[list[Count], "The numbers of the steps that have to be done before it."]
