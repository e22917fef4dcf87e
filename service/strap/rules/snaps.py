"""Snaps: each half holds the leather that it is set in, its flange lies whole on it, studs leave room for the cap."""

from collections.abc import Iterator
from itertools import pairwise

from service.shop.goods import Nm
from service.strap.errors import Cure
from service.strap.model.job import End, Job
from service.strap.model.pattern import Feature, Pattern
from service.strap.model.plies import stack
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.rules.blame import snap_of, stud_spacing
from service.strap.rules.family import PieceFamily, StrapFamily
from service.strap.rules.surface import Surface
from service.strap.rules.sweep import edges

SNAP_LONG = Code("snap_long", "a snap holds thicker leather than that which it is set in")
SNAP_SHORT = Code("snap_short", "a snap's post is too short for the leather that it is set in")
SNAP_OFF_EDGE = Code("snap_off_edge", "a snap's flange stands out over the edge, or lies too near it")
STUDS_CROWDED = Code("studs_crowded", "two studs stand so near that the cap on the one touches the other")

SNAP_GRIP_MIN = Rule(
    name="snap_grip_min",
    meaning="Whether the leather is thick enough for a snap, even where it is thinnest; else the snap turns in it.",
    sense="least",
    sentence="At {what} the leather is {found} where it is thinnest; this snap holds from {limit} on.",
    blames=(Blame(SNAP_LONG, snap_of, Cure.OTHER_SNAP),),
    formula=Formula(
        found="thin",
        limit="grip_min",
        terms={"thin": "the plies at this end, each at its thinnest", "grip_min": "the least that the snap holds"},
    ),
    source="common practice",
)
SNAP_GRIP_MAX = Rule(
    name="snap_grip_max",
    meaning="Whether a snap's post reaches through the leather, even where it is thickest.",
    sense="most",
    sentence="At {what} the leather is {found} where it is thickest; this snap holds up to {limit}.",
    blames=(Blame(SNAP_SHORT, snap_of, Cure.OTHER_SNAP),),
    formula=Formula(
        found="thick",
        limit="grip_max",
        terms={"thick": "the plies at this end, each at its thickest", "grip_max": "the most that the snap holds"},
    ),
    source="common practice",
)
SNAP_EDGE = Rule(
    name="snap_edge",
    meaning="How far the flange of a snap stays inside the edge; it grips only the leather that it lies on.",
    sense="least",
    sentence="From the rim of {what} to the edge there is {found}; {limit} is the least.",
    overlap="{What} stands out over the edge by {found_abs}; it must keep {limit} inside.",
    blames=(Blame(SNAP_OFF_EDGE, snap_of, Cure.OTHER_SNAP),),
    formula=Formula(
        found="depth - radius",
        limit="ornament_edge",
        terms={"depth": "from the outline to the middle of the snap", "radius": "half the diameter of its flange"},
    ),
    source="common practice",
)
SNAP_SPACING = Rule(
    name="snap_spacing",
    meaning="How far the studs of a snap stand apart: the cap on the one must not touch the next.",
    sense="least",
    sentence="The studs stand {found} apart; for the cap on the one not to touch the other they need {limit}.",
    blames=(Blame(STUDS_CROWDED, stud_spacing, Cure.STUDS_APART),),
    formula=Formula(
        found="spacing",
        limit="(cap + stud) / 2",
        terms={
            "spacing": "from the middle of one stud to that of the next",
            "cap": "the diameter of the cap",
            "stud": "the diameter of the stud's flange",
        },
    ),
    source="geometry",
)


def _flanges(surface: Surface) -> Iterator[Measured]:
    snaps = [shape for shape in surface.caps if shape.purpose in ("snap_cap", "snap_stud")]
    return edges(SNAP_EDGE, surface.piece, snaps, surface.job.rules.ornament_edge)


def _snaps(pattern: Pattern, job: Job) -> Iterator[Measured]:
    for end in job.ends:
        if end.outermost.snap:
            yield from _of_end(end, _set_in(pattern, end), job)


def _set_in(pattern: Pattern, end: End) -> list[Feature]:
    """What is set at this end, from the head of its piece on."""
    piece = pattern.piece(end.billet_name or pattern.pieces[0].name)
    found = [each for each in piece.features if each.purpose == f"snap_{end.outermost.snap_half}"] if piece else []
    return sorted(found, key=_place)


def _place(feature: Feature) -> Nm:
    return feature.x


def _of_end(end: End, found: list[Feature], job: Job) -> Iterator[Measured]:
    """A billet is not lined; a strip is, all along."""
    snap = job.shop.snaps[str(found[0].item)]
    plies = stack((job.leather,) if end.is_billet else job.plies.decorated)
    yield SNAP_GRIP_MIN.measured(plies.thin, snap.grip_min, found[0])
    yield SNAP_GRIP_MAX.measured(plies.thick, snap.grip_max, found[0])
    if len(found) > 1:
        apart = min(after.x - before.x for before, after in pairwise(found))
        yield SNAP_SPACING.measured(apart, (snap.cap_diameter + snap.stud_diameter) // 2, found[0])


SNAP_FLANGES = PieceFamily(rules=(SNAP_EDGE,), measure=_flanges, bare=True)
SNAPS = StrapFamily(rules=(SNAP_GRIP_MIN, SNAP_GRIP_MAX, SNAP_SPACING), measure=_snaps)
