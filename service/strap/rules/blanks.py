"""What a piece is cut out of: strips as long and as wide as the leather yields, and ends that it has room for."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.ends.tip import TipEnd
from service.strap.errors import Cure, Path
from service.strap.making.measures import size_path
from service.strap.model.job import Job
from service.strap.model.pattern import Pattern, Piece
from service.strap.model.places import length_at
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule, of
from service.strap.model.two_ends import is_said_by_ends
from service.strap.rules.blame import LINING, billet_called, piece_width
from service.strap.rules.family import PieceFamily, StrapFamily
from service.strap.rules.surface import Surface
from service.words import say

STRIP_TOO_LONG = Code("strip_too_long", "a piece is longer than the strips of its leather")
STRIP_TOO_WIDE = Code("strip_too_wide", "a piece is wider than its leather is usable")
ENDS_TOO_DEEP = Code("ends_too_deep", "the shaped ends of a piece pass each other")


def _size(_measured: Measured, job: Job) -> Path:
    return size_path(job)


def _end_depth(measured: Measured, job: Job) -> Path:
    """The deepest end of the piece that it is about."""
    piece = measured.kinds[0]
    if not is_said_by_ends(job.spec):
        return ("body", "end", "depth") if piece == "body" else ("billet", "tip", "depth")
    depths = ((*place, "depth") for place in _shaped(piece, job))
    return max(depths, key=lambda path: length_at(job.spec, path) or 0)


def _shaped(piece: str, job: Job) -> Iterator[Path]:
    """Where the spec shapes the two ends of a piece; those of a body under its billets as one."""
    billet = billet_called(piece, job)
    for end in (billet, billet.outermost) if billet else job.ends:
        yield ("body", "end") if end.is_billet and not billet else end.place


def _billet(measured: Measured, job: Job) -> Path:
    """What makes a billet long: its tip's length where one is asked for, or the row of its holes; else the leather."""
    billet = billet_called(measured.kinds[0], job)
    tip = billet.outermost if billet else None
    if not isinstance(tip, TipEnd):
        return ("leather",)
    return (*tip.place, "size_holes", "spacing") if tip.tip_length is None else (*tip.place, "tip_length")


def _has_few_laps(measured: Measured, job: Job) -> bool:
    """Whether it is spliced as often as was asked for, and of too few strips."""
    return job.splices is not None and job.splices.count is not None and measured.kinds[0] in ("body", "strap")


def _never_spliced(job: Job) -> str:
    """Why it is not made of several strips where that was asked for."""
    if not job.spec.body.splices or job.splices:
        return ""
    return say(
        " It is not spliced: somebody may be led, tied or lifted by it, and a splice is made to bear no load. "
        "Straps for that are the work of those who are licensed for it."
    )


STRIP_LENGTH = Rule(
    name="strip_length",
    meaning="Whether the leather yields a strip so long, with what a lining takes over the backs that it covers.",
    sense="most",
    sentence="The {what} is {found} long; this leather yields strips of {limit}.",
    advice=_never_spliced,
    blames=(
        Blame(STRIP_TOO_LONG, ("body", "splices", "count"), Cure.MORE_SPLICES, when=_has_few_laps),
        Blame(STRIP_TOO_LONG, ("edging",), Cure.EDGING_CLEAR, when=of("edging")),
        Blame(STRIP_TOO_LONG, LINING, Cure.LONGER_LINING, when=of("lining")),
        Blame(STRIP_TOO_LONG, _size, Cure.SHORTER, when=of("body", "strap")),
        Blame(STRIP_TOO_LONG, _billet, Cure.SHORTER),
    ),
    formula=Formula(
        found="length + rise",
        limit="strip_length",
        terms={
            "length": "the length of the piece, or of the longest strip of one that is spliced",
            "rise": "what a lining takes over the backs that it covers; of another piece nothing",
            "strip_length": "the longest straight strip that its leather yields",
        },
    ),
    source="geometry",
)
STRIP_WIDTH = Rule(
    name="strip_width",
    meaning="Whether the leather yields a strip so wide.",
    sense="most",
    sentence="The {what} is {found} wide; this leather is usable over {limit}.",
    blames=(
        Blame(STRIP_TOO_WIDE, ("edging",), Cure.EDGING_CLEAR, when=of("edging")),
        Blame(STRIP_TOO_WIDE, LINING, Cure.OTHER_LINING, when=of("lining")),
        Blame(STRIP_TOO_WIDE, ("joining_strap", "width"), Cure.JOINING_WIDTH, when=of("joining_strap")),
        Blame(STRIP_TOO_WIDE, piece_width, Cure.NARROWER),
    ),
    formula=Formula(
        found="width",
        limit="usable_width",
        terms={"width": "the width of the piece", "usable_width": "the widest strip that its leather yields"},
    ),
    source="geometry",
)
END_DEPTH = Rule(
    name="end_depth",
    meaning="Whether both shaped ends have room on the piece, one behind the other.",
    sense="most",
    sentence="The shaped ends of the {what} are {found} deep together; it is only {limit} long.",
    blames=(
        Blame(ENDS_TOO_DEEP, ("joining_strap", "tip", "depth"), Cure.SHALLOWER_ENDS, when=of("joining_strap")),
        Blame(ENDS_TOO_DEEP, _end_depth, Cure.SHALLOWER_ENDS),
    ),
    formula=Formula(
        found="head_depth + foot_depth",
        limit="length",
        terms={
            "head_depth": "from the tip of the head to where full width begins",
            "foot_depth": "from the tip of the foot to where full width begins",
            "length": "the length of the piece",
        },
    ),
    source="geometry",
)


def _strip(surface: Surface) -> Iterator[Measured]:
    piece = surface.piece
    yield STRIP_LENGTH.measured(_longest_strip(piece), piece.leather.strip_length, kinds=(piece.name,))
    yield STRIP_WIDTH.measured(piece.width, piece.leather.usable_width, kinds=(piece.name,))


def _longest_strip(piece: Piece) -> Nm:
    """What has to come out of the leather in one: of a spliced piece its longest strip, as it is cut."""
    if not piece.splices:
        return piece.length + piece.rise
    return max(strip.cut_length for strip in piece.strips)


def _end_depths(pattern: Pattern, _job: Job) -> Iterator[Measured]:
    """The shaped ends of a piece may meet, but not pass each other; a lining has those of what it lines."""
    for piece in pattern.pieces:
        if piece.name != "lining":
            depths = piece.outline.head_depth + piece.outline.foot_depth
            yield END_DEPTH.measured(depths, piece.length, kinds=(piece.name,))


STRIPS = PieceFamily(rules=(STRIP_LENGTH, STRIP_WIDTH), measure=_strip, bare=True)
END_DEPTHS = StrapFamily(rules=(END_DEPTH,), measure=_end_depths)
