"""Splices: laps where nothing is cut or set, strips worth sewing together, lines of stitches side by side."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from service.shop.figures import OwnLength
from service.shop.goods import Nm
from service.strap.errors import Cure, Path
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.model.spec_leather import Splices
from service.strap.model.splice import Splice
from service.strap.model.stitch_line import StitchLine
from service.strap.model.touching import touches
from service.strap.rules.family import PieceFamily
from service.strap.rules.stitches import STITCH_EDGE
from service.strap.rules.surface import Surface

SPLICE_CROWDED = Code("splice_crowded", "no place is near where a splice could lie clear of what is cut or set")
STRIPS_SHORT = Code("strips_short", "a splice leaves a strip that is too short to be worth sewing on")
SPLICE_LINES_CLOSE = Code("splice_lines_close", "the lines of stitches of a splice lie too near one another")

SPLICES: Path = ("body", "splices")


def _count(_measured: Measured, job: Job) -> Path:
    """Where the laps are counted, if they are."""
    return (*SPLICES, "count") if isinstance(job.given.body.splices, Splices) else SPLICES


def _lines(_measured: Measured, job: Job) -> Path:
    return (*SPLICES, "stitch_lines") if isinstance(job.given.body.splices, Splices) else SPLICES


STRIP = OwnLength("splice_strip", meaning="the least length of each strip of a spliced piece", usual=304_800_000)
LINES = OwnLength(
    "splice_lines", meaning="the least distance between two lines of stitches of a splice", usual=3_000_000
)

SPLICE_CLEAR = Rule(
    name="splice_clear",
    meaning="How far what is cut or set stays off a splice: there two feathered plies lie over one another, "
    "and hold no hole.",
    sense="least",
    sentence="Between a splice and {what} there is {found}; {limit} is the least.",
    overlap="{What} lies {found_abs} deep in a splice, and no place near it is free; {limit} is the least.",
    blames=(Blame(SPLICE_CROWDED, SPLICES, Cure.SPLICE_PLACE),),
    formula=Formula(
        found="apart - reach",
        limit="splice_clear",
        terms={
            "apart": "along the strap, from the nearer end of the lap to the middle of the thing; inside it negative",
            "reach": "how far the thing is cut or lies on the leather along the strap; of a bell only its cut",
        },
    ),
    source="from memory: nothing is punched in a lap, which is two feathered plies",
)
SPLICE_STRIP = Rule(
    name="splice_strip",
    meaning="How long the shortest strip of a spliced piece is; a shorter one is more lap than strap.",
    sense="least",
    sentence="A strip of the spliced piece would be {found} long; {limit} is the least.",
    blames=(Blame(STRIPS_SHORT, _count, Cure.FEWER_SPLICES),),
    figure=STRIP,
    formula=Formula(
        found="strip", limit="splice_strip", terms={"strip": "from end to end of the shortest strip, its laps with it"}
    ),
    source="from memory: a strip shorter than a foot is not worth its lap",
)
SPLICE_LINES = Rule(
    name="splice_lines",
    meaning="How far the lines of stitches of a splice lie apart; nearer rows cut the leather between them.",
    sense="least",
    sentence="The lines of stitches of a splice lie {found} apart; {limit} is the least.",
    blames=(Blame(SPLICE_LINES_CLOSE, _lines, Cure.FEWER_SPLICE_LINES),),
    figure=LINES,
    formula=Formula(
        found="apart",
        limit="splice_lines",
        terms={"apart": "across the strap, between neighbouring lines of a lap, those along the edges with them"},
    ),
    source="from memory: nearer rows cut the leather between them",
)


_Nearest = tuple[Nm, Splice, Feature]


def _splices(surface: Surface) -> Iterator[Measured]:
    piece, job = surface.piece, surface.job
    if not piece.splices:
        return
    yield from _nearest(piece, job)
    starts, ends = (0, *(lap.start for lap in piece.splices)), (*(lap.end for lap in piece.splices), piece.length)
    shortest = min(end - start for start, end in zip(starts, ends, strict=True))
    yield SPLICE_STRIP.measured(shortest, job.rules.of(STRIP), piece.splices[0])
    lines = [line for line in piece.stitch_lines if line.purpose == "splice_stitch"]
    if not lines:
        return  # those of an edging are sewn with it
    yield SPLICE_LINES.measured(_apart(lines, piece, job), job.rules.of(LINES), *lines[:1])
    outermost = min(lines, key=lambda line: line.inset)
    yield STITCH_EDGE.measured(outermost.inset, job.rules.stitch_edge, outermost)


def _nearest(piece: Piece, job: Job) -> Iterator[Measured]:
    """The thing of each purpose that comes nearest to a lap; a lining has none of its own."""
    least: dict[Purpose, _Nearest] = {}
    for feature in piece.features:
        if feature.action == "mark" and not feature.item:
            continue
        reach = touches(feature, job.shop.ornaments)
        for lap in piece.splices:
            found = max(lap.start - feature.x, feature.x - lap.end) - reach
            if feature.purpose not in least or found < least[feature.purpose][0]:
                least[feature.purpose] = (found, lap, feature)
    for purpose, (found, lap, feature) in least.items():
        limit = job.rules.splice_clear
        yield SPLICE_CLEAR.measured(found, limit, lap, feature, kinds=(purpose,), item=feature.item or "")


def _apart(lines: Iterable[StitchLine], piece: Piece, job: Job) -> Nm:
    """Between neighbouring lines across the piece, those along its edges among them."""
    across = {line.points[0][1] for line in lines}
    if job.edge_stitched:
        edge = piece.outline.root_half - job.stitch_inset
        across |= {-edge, edge}
    return min((after - before for before, after in pairwise(sorted(across))), default=0)


LAPS = PieceFamily(rules=(SPLICE_CLEAR, SPLICE_STRIP, SPLICE_LINES), measure=_splices)
