"""JSON Schemas of the work at the bench: what a step says as data."""

from typing import get_args

from openapi.answers import COUNT, TEXT, Json, closed, lengths, listed, ref, words
from service.strap.model.pattern import PieceName
from service.workshop.bench.step import Op

PIECES: Json = words(*get_args(PieceName))

STEP = closed(
    "One thing to do. What is in the hardware list is used once, and every feature is made by one step: holes, slots "
    "by `punch`, marks by `mark`, lines of stitches by `prick`, ends by `shape`, folds by `fold`. The first are "
    "tries, on an offcut (`test`) and in paper (`try`), which touch no piece.",
    {
        "n": COUNT,
        "op": words(*get_args(Op), description="What is done."),
        "piece": TEXT | {"description": "Where it is done to one piece alone."},
        "pieces": listed(PIECES, "All that it is done to."),
        "plies": listed(
            PIECES,
            "The plies that it goes through or lays on one another, from the front to the back; a piece folded on "
            "itself stands there twice. Empty where every piece is worked by itself.",
        ),
        "do": TEXT | {"description": "The whole step as a sentence."},
        "tool": TEXT | {"description": "The id of a punch, or a hand tool; left out where it takes none."},
        "features": listed(
            TEXT,
            "The ids of what it makes or works on: features, lines of stitches, and ends, which are `piece.end.1` at "
            "the buckle end and `piece.end.2` at the other.",
        ),
        "uses": listed(ref("Goods"), "What it takes of the hardware list."),
        "after": listed(COUNT, "The numbers of the steps that have to be done before it."),
    },
    optional=("piece", "tool"),
)

GOODS = closed(
    "So many of one item of the hardware list; lace and thread have a length.",
    {"item": TEXT, "count": COUNT, **lengths("length")},
    optional=("length_mm", "length"),
)

BENCH_ANSWERS: dict[str, Json] = {"Goods": GOODS, "Step": STEP}
"""As in `openapi.answers`."""
