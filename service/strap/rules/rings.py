"""Rings: as wide inside as the strap, and with room in the loop that holds them."""

from collections.abc import Iterator

from service.shop.goods import Ring
from service.strap.errors import Cure, Path
from service.strap.model.job import End, Job
from service.strap.model.lead_ring import beside_lead_ring
from service.strap.model.pattern import Pattern
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Rule, of
from service.strap.model.two_ends import FOOT, HEAD
from service.strap.rules.blame import JOINT_SPACING
from service.strap.rules.family import StrapFamily

RING_NARROW = Code("ring_narrow", "a ring is narrower inside than the strap")
RING_ROOM_SHORT = Code("ring_room_short", "the collar ring has no room between the rivets that hold it")


def _end_ring(measured: Measured, job: Job) -> Path:
    two = job.spec.two
    place, end = (HEAD, two.head) if measured.kinds[0] == "head" else (FOOT, two.foot)
    return (*place, "end", "ring") if end.end else (*place, "ring")


RING_WIDTH = Rule(
    name="ring_width",
    meaning="Whether the strap goes through the ring without bunching.",
    sense="least",
    sentence="The ring is narrower inside than the strap by {found_abs}.",
    blames=(
        Blame(RING_NARROW, ("billet", "ring"), Cure.OTHER_RING, when=of("lead")),
        Blame(RING_NARROW, _end_ring, Cure.OTHER_RING),
    ),
    formula=Formula(
        found="inside_width - strap_width",
        limit="0",
        terms={"inside_width": "how wide the ring is inside", "strap_width": "the width of the strap in it"},
    ),
    source="geometry",
)
RING_ROOM = Rule(
    name="ring_room",
    meaning="How much room a collar ring has in the fold, between what holds it to both sides, so that it "
    "turns freely.",
    sense="least",
    sentence="Between the first two rivets the collar ring has {found} of room; it needs {limit}.",
    overlap="The first two rivets are {found_abs} too near for any collar ring; this one needs {limit}.",
    blames=(Blame(RING_ROOM_SHORT, JOINT_SPACING, Cure.RING_ROOM),),
    formula=Formula(
        found="apart - first - second",
        limit="ring_thickness + hardware_clear",
        terms={
            "apart": "from the first rivet to the second, nothing where there is one; or the gap in the seam",
            "first": "half a cap, half of a keeper that lies over it, or what a stitch keeps clear",
            "second": "the same of the second",
            "ring_thickness": "how thick the ring's metal is",
        },
    ),
    source="geometry",
)


def _rings(pattern: Pattern, job: Job) -> Iterator[Measured]:
    """The rings at the ends, and the collar ring in the loop between what holds the turned-back end first and next."""
    yield from _width(job.head.ring, "head", job.head)
    yield from _width(job.foot.ring, "foot", job.foot)
    ring = job.head.collar_ring
    yield from _width(ring, "lead", job.head)
    if ring:
        first, second = beside_lead_ring(pattern)
        hold = job.head.outermost.hold or job.fold_held
        stitch = hold.half(job.rules) if hold.is_stitched else 0
        room = second.at - first.at - (first.half or stitch) - (second.half or stitch)
        yield RING_ROOM.measured(room, ring.thickness + job.rules.hardware_clear, kinds=("lead",))


def _width(ring: Ring | None, kind: Kind, end: End) -> Iterator[Measured]:
    if ring:
        yield RING_WIDTH.measured(ring.inside_width - end.outer_width, 0, kinds=(kind,))


RINGS = StrapFamily(rules=(RING_WIDTH, RING_ROOM), measure=_rings)
