"""The strap that joins two buckles: as wide as they take, and long enough to lie between their frames."""

from collections.abc import Iterator

from service.strap.errors import Cure, Path
from service.strap.model.job import Job
from service.strap.model.joining import Joining
from service.strap.model.pattern import Pattern, Piece
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.rules.family import StrapFamily

JOINING_WIDE = Code("joining_wide", "the joining strap is wider than a buckle that it goes through")
JOINING_SHORT = Code("joining_short", "at its innermost holes the joining strap has no room between the two buckles")


def _length(_measured: Measured, job: Job) -> Path:
    joining = job.spec.joining_strap
    return ("joining_strap", "adds" if joining and joining.adds else "length")


JOINING_WIDTH = Rule(
    name="joining_width",
    meaning="Whether the strap that joins two buckles goes through both of them.",
    sense="least",
    sentence="The buckle is narrower inside than the joining strap by {found_abs}.",
    blames=(Blame(JOINING_WIDE, ("joining_strap", "width"), Cure.JOINING_WIDTH),),
    formula=Formula(
        found="inside_width - joining_width",
        limit="0",
        terms={
            "inside_width": "how wide the narrower of the two buckles is inside",
            "joining_width": "the width of the joining strap",
        },
    ),
    source="geometry",
)
JOINING_ROOM = Rule(
    name="joining_room",
    meaning="How long the joining strap is between its innermost holes: the frames of both buckles lie there.",
    sense="least",
    sentence="Between its innermost holes the joining strap is {found} long; the frames of both buckles need {limit}.",
    overlap="The innermost holes of the joining strap pass each other by {found_abs}; the frames need {limit} between.",
    blames=(Blame(JOINING_SHORT, _length, Cure.JOINING_ROOM),),
    formula=Formula(
        found="between",
        limit="head_frame + foot_frame + hardware_clear",
        terms={
            "between": "from the innermost hole of the one row to that of the other",
            "head_frame": "from the bar of the head's buckle to the far side of its frame",
            "foot_frame": "from the bar of the foot's buckle to the far side of its frame",
        },
    ),
    source="geometry",
)


def _joining(pattern: Pattern, job: Job) -> Iterator[Measured]:
    piece = pattern.piece("joining_strap")
    if piece and job.joining:
        yield from _fits(piece, job.joining, job)


def _fits(piece: Piece, joining: Joining, job: Job) -> Iterator[Measured]:
    buckles = [end.buckle for end in job.ends if end.buckle]
    holes = [each.x for each in piece.features]  # row by row, whichever lies before the other
    between = holes[joining.count] - holes[joining.count - 1]
    frames = sum(buckle.bar_to_frame for buckle in buckles)
    width = min(buckle.inside_width for buckle in buckles)
    yield JOINING_WIDTH.measured(width - piece.width, 0, kinds=("joining_strap",))
    yield JOINING_ROOM.measured(between, frames + job.rules.hardware_clear, kinds=("joining_strap",))


JOINING = StrapFamily(rules=(JOINING_WIDTH, JOINING_ROOM), measure=_joining)
