"""Rivets: far enough from the ends, holes that meet, and stacks that their posts hold."""

from collections.abc import Iterable, Iterator

from service.shop.goods import Fastener, Nm
from service.strap.errors import Cure
from service.strap.model.hardware import Stack, keeper_stack
from service.strap.model.holding import Holding
from service.strap.model.job import Job
from service.strap.model.pattern import (
    BETWEEN_KEEPERS,
    FIXED_KEEPERS,
    KEEPERS,
    Feature,
    Pattern,
    Piece,
    Placement,
    Purpose,
)
from service.strap.model.plies import kept_fold, stack
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Rule, of
from service.strap.rules.blame import BUCKLE, END_DISTANCE, FASTENER, KEEPER, keeper_path
from service.strap.rules.family import PieceFamily, StrapFamily
from service.strap.rules.surface import Surface

END_DISTANCE_SHORT = Code("end_distance_short", "a rivet stands so near an end that it tears out")
JOINT_MISALIGNED = Code("joint_misaligned", "holes of two plies that take one rivet do not meet")
FASTENER_LONG = Code("fastener_long", "a fastener's post is too long for the leather that it goes through")
FASTENER_SHORT = Code("fastener_short", "a fastener's post is too short for the leather that it goes through")

_RIVETED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet", "hanger", "snap_cap", "snap_stud")

RIVET_END = Rule(
    name="end_distance",
    meaning="How far a rivet's hole stands from the end of its piece; nearer than that the first hard pull "
    "tears it out.",
    sense="least",
    sentence="From {what} to the end of its piece there is {found}; it tears out with less than {limit}.",
    overlap="The hole for {what} lies {found_abs} beyond the end of its piece.",
    blames=(
        Blame(END_DISTANCE_SHORT, keeper_path, Cure.END_DISTANCE, when=of("keeper_rivet")),
        Blame(END_DISTANCE_SHORT, END_DISTANCE, Cure.END_DISTANCE),
    ),
    formula=Formula(
        found="min(x, length - x)",
        limit="end_distance",
        terms={"x": "from the head of the piece to the middle of the hole", "length": "the length of the piece"},
    ),
    source="craft pages: at least 1/4 in from end and edge",
)
JOINT_ALIGNMENT = Rule(
    name="joint_alignment",
    meaning="Whether the holes of two plies that one rivet takes lie over one another once the strap is made up.",
    sense="most",
    sentence="Mated holes of {what} stand {found} apart.",
    blames=(Blame(JOINT_MISALIGNED, BUCKLE),),
    formula=Formula(
        found="abs(x - mate_x) + abs(y - mate_y)",
        limit="0",
        terms={
            "x": "along the strap made up, from the bar to the one hole",
            "mate_x": "along the strap made up, from the bar to the other",
            "y": "across the strap, from its middle to the one hole",
            "mate_y": "across the strap, from its middle to the other",
        },
    ),
    source="geometry",
)
_GRIP_LONG = (
    Blame(FASTENER_LONG, KEEPER, Cure.FIXED_KEEPER, when=of(*FIXED_KEEPERS)),
    Blame(FASTENER_LONG, keeper_path, Cure.KEEPER_LAP, when=of("keeper")),
    Blame(FASTENER_LONG, ("leather",), Cure.OTHER_PLIES, when=of("fold")),
    Blame(FASTENER_LONG, FASTENER, Cure.OTHER_FASTENER),
)
FASTENER_GRIP_MIN = Rule(
    name="fastener_grip_min",
    meaning="Whether the plies are thick enough for the rivet or screw, even where the leather is thinnest; "
    "a post that is too long turns and works loose.",
    sense="least",
    sentence="The stack is {found} where the leather is thinnest; this fastener holds from {limit} on.",
    blames=_GRIP_LONG,
    formula=Formula(
        found="thin",
        limit="grip_min",
        terms={"thin": "the plies together, each at its thinnest", "grip_min": "the least that the fastener holds"},
    ),
    source="common practice",
)
FASTENER_GRIP_MAX = Rule(
    name="fastener_grip_max",
    meaning="Whether the rivet or screw reaches through the plies, even where the leather is thickest; a "
    "post that is too short does not close.",
    sense="most",
    sentence="The stack is {found} where the leather is thickest; this fastener holds up to {limit}.",
    blames=tuple(blame._replace(code=FASTENER_SHORT) for blame in _GRIP_LONG),
    formula=Formula(
        found="thick",
        limit="grip_max",
        terms={"thick": "the plies together, each at its thickest", "grip_max": "the most that the fastener holds"},
    ),
    source="common practice",
)


def _end_distances(surface: Surface) -> Iterator[Measured]:
    """The rivet hole of each purpose that lies nearest to an end."""
    length, limit = surface.piece.length, surface.job.rules.end_distance
    nearest: dict[Purpose, tuple[Nm, Feature]] = {}
    for hole in surface.piece.features:
        if hole.purpose in _RIVETED:
            found, known = min(hole.x, length - hole.x), nearest.get(hole.purpose)
            if known is None or found < known[0]:
                nearest[hole.purpose] = (found, hole)
    for found, hole in nearest.values():
        yield RIVET_END.measured(found, limit, hole)


def _alignment(pattern: Pattern, _job: Job) -> Iterator[Measured]:
    """How far mated holes stand apart once the strap is made up; a keeper's lap is closed, not laid."""
    places = {
        feature.id: (feature, x)
        for piece in pattern.pieces
        for feature in piece.features
        if feature.mates
        for x in _made_up(pattern.placements, piece, feature)
    }
    farthest: dict[Purpose, tuple[Nm, Feature, Feature]] = {}
    for feature, x in places.values():
        for mate, other in (places[name] for name in feature.mates if name in places):
            apart = abs(x - other) + abs(feature.y - mate.y)
            if feature.purpose not in farthest or apart > farthest[feature.purpose][0]:
                farthest[feature.purpose] = (apart, feature, mate)
    for apart, one, mate in farthest.values():
        yield JOINT_ALIGNMENT.measured(apart, 0, one, mate)


def _made_up(placements: tuple[Placement, ...], piece: Piece, feature: Feature) -> list[Nm]:
    return [
        ply.offset + ply.direction * feature.x
        for ply in placements
        if ply.piece == piece.name and ply.from_x <= feature.x <= ply.to_x
    ]


def _grips(pattern: Pattern, job: Job) -> Iterator[Measured]:
    """Each different stack that a fastener holds."""
    joints = _fasteners(end.join for end in job.ends)
    folds = _fasteners(end.outermost.hold for end in job.ends)
    if job.plies.fold == job.plies.joint:
        joints, folds = joints | folds, set()
    for fastener in sorted(joints, key=_by_id):
        yield from _grip(stack(job.plies.joint), fastener, "joint")
    for fastener in sorted(folds, key=_by_id):
        yield from _grip(stack(job.plies.fold), fastener, "fold")
    lap = keeper_stack(job.leather, job.keeper_share)
    if any(piece.name in (*KEEPERS, *BETWEEN_KEEPERS) for piece in pattern.pieces):
        yield from _grip(lap, job.keeper_held.fastener, "keeper")
    for end in job.ends:
        if end.loops and end.loops.fixed and not end.loops.hold.is_stitched:
            yield from _grip(kept_fold(job.plies, lap), end.loops.hold.fastener, end.loops.piece)


def _fasteners(holdings: Iterable[Holding | None]) -> set[Fastener]:
    """Those that hold something, in place of stitches."""
    return {each.fastener for each in holdings if each and not each.is_stitched}


def _by_id(fastener: Fastener) -> str:
    return fastener.id


def _grip(plies: Stack, fastener: Fastener, kind: Kind) -> Iterator[Measured]:
    yield FASTENER_GRIP_MIN.measured(plies.thin, fastener.grip_min, kinds=(kind,))
    yield FASTENER_GRIP_MAX.measured(plies.thick, fastener.grip_max, kinds=(kind,))


RIVET_ENDS = PieceFamily(rules=(RIVET_END,), measure=_end_distances, bare=True)
ALIGNMENT = StrapFamily(rules=(JOINT_ALIGNMENT,), measure=_alignment, bare=True)
GRIPS = StrapFamily(rules=(FASTENER_GRIP_MIN, FASTENER_GRIP_MAX), measure=_grips)
