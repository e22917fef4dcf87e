"""Fixed keepers: held over their whole width in what is turned back, with room between two of them."""

from collections.abc import Iterator
from itertools import pairwise

from service.shop.goods import Nm
from service.strap.errors import Cure
from service.strap.model.job import End, Job
from service.strap.model.loops import Loops
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Rule
from service.strap.rules.blame import KEEPER_WIDTH
from service.strap.rules.family import StrapFamily

FIXED_KEEPERS_CROWDED = Code(
    "fixed_keepers_crowded", "a fixed keeper lies too near another one, or the next rivet of its fold"
)
FIXED_KEEPER_UNHELD = Code("fixed_keeper_unheld", "a fixed keeper reaches past what is turned back, or past its seam")
_WIDTH = "the width of the keeper's loop, along the strap"

KEEPERS_APART = Rule(
    name="fixed_keeper_clear",
    meaning="How far a fixed keeper stays off what holds the fold next, another keeper or a rivet's cap.",
    sense="least",
    sentence="From a fixed keeper to what holds the fold next there is {found}; {limit} is the least.",
    overlap="A fixed keeper reaches {found_abs} over what holds the fold next; {limit} between them is the least.",
    blames=(Blame(FIXED_KEEPERS_CROWDED, KEEPER_WIDTH, Cure.FIXED_KEEPERS_APART),),
    formula=Formula(
        found="apart - keeper / 2 - half_next",
        limit="hardware_clear",
        terms={
            "apart": "from the middle of the keeper to the middle of the next one, or of the fold's next rivet",
            "keeper": _WIDTH,
            "half_next": "half the width of that keeper, or half the diameter of that rivet's cap",
        },
    ),
    source="geometry",
)
KEEPER_HELD = Rule(
    name="fixed_keeper_held",
    meaning="Whether what is turned back holds a fixed keeper over its whole width.",
    sense="least",
    sentence="What is turned back holds past the fixed keeper by {found}; {limit} is the least.",
    overlap="The fixed keeper reaches {found_abs} past what holds it.",
    blames=(Blame(FIXED_KEEPER_UNHELD, KEEPER_WIDTH, Cure.FIXED_KEEPER_HELD),),
    formula=Formula(
        found="held - middle - keeper / 2",
        limit="0",
        terms={
            "held": "from the bar to the tail's end, or to the end of the seam where it is stitched",
            "middle": "from the bar to the middle of the keeper that lies farthest from it",
            "keeper": _WIDTH,
        },
    ),
    source="geometry",
)


def _fixed_keepers(pattern: Pattern, job: Job) -> Iterator[Measured]:
    for end, is_foot in ((job.head, False), (job.foot, True)):
        if end.loops and end.loops.fixed:
            yield from _measured(pattern, job, end, end.loops, is_foot=is_foot)


def _measured(pattern: Pattern, job: Job, end: End, loops: Loops, *, is_foot: bool) -> Iterator[Measured]:
    piece = next(each for each in pattern.pieces if each.name == (end.billet_name or pattern.pieces[0].name))
    inwards = -1 if is_foot else 1
    places = sorted(_keeper_places(piece, loops, is_foot=is_foot), key=lambda each: inwards * each.x)
    kinds: tuple[Kind, ...] = (loops.piece, "foot") if is_foot else (loops.piece,)
    for one, other in pairwise(places):
        apart = abs(other.x - one.x) - loops.width
        yield KEEPERS_APART.measured(apart, job.rules.hardware_clear, one, other, kinds=kinds)
    last = places[-1]
    for rivet in _next_rivet(piece, last, inwards):
        apart = abs(rivet.x - last.x) - loops.width // 2 - rivet.footprint // 2
        yield KEEPERS_APART.measured(apart, job.rules.hardware_clear, last, rivet, kinds=kinds)
    held = inwards * (_held_to(piece, loops, last, is_foot=is_foot) - last.x)
    yield KEEPER_HELD.measured(held - loops.width // 2, 0, last, kinds=kinds)


def _next_rivet(piece: Piece, last: Feature, inwards: int) -> list[Feature]:
    """The rivet of the fold behind its last keeper, if there is one."""
    rivets = [each for each in piece.features if each.purpose == "fold_rivet" and last.purpose == "fold_rivet"]
    behind = [each for each in rivets if inwards * (each.x - last.x) > 0]
    return sorted(behind, key=lambda each: inwards * each.x)[:1]


def _keeper_places(piece: Piece, loops: Loops, *, is_foot: bool) -> list[Feature]:
    """What each fixed keeper lies over on the front ply: the fold's rivet that goes through it, or its mark."""
    if loops.hold.is_stitched:
        number = 0 if is_foot else 1
        marks = (each for each in piece.features if each.purpose == "fixed_keeper")
        return [each for each in marks if int(each.id.rsplit(".", 1)[1]) % 2 == number]
    holes = [each for each in piece.features if any(mate.startswith(f"{loops.piece}.") for mate in each.mates)]
    fold = _fold_at(piece, is_foot=is_foot)
    return [each for each in holes if (each.x < fold) is is_foot]


def _fold_at(piece: Piece, *, is_foot: bool) -> Nm:
    outer = max if is_foot else min
    return outer(each.x for each in piece.features if each.purpose == "fold_line")


def _held_to(piece: Piece, loops: Loops, last: Feature, *, is_foot: bool) -> Nm:
    """How far along the front ply the fold holds: to the tail's end, or to the end of the seam that it lies over."""
    if not loops.hold.is_stitched:
        return 2 * _fold_at(piece, is_foot=is_foot) - (piece.length if is_foot else 0)
    spans = [[x for x, _ in line.points] for line in piece.stitch_lines if line.purpose == "fold_stitch"]
    over = [(min(xs), max(xs)) for xs in spans if min(xs) <= last.x <= max(xs)]
    return next(((low if is_foot else high) for low, high in over), last.x)


FIXED_KEEPERS = StrapFamily(rules=(KEEPERS_APART, KEEPER_HELD), measure=_fixed_keepers)
