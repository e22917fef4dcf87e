"""Holes that the shop has a punch for, and that let through what goes through them without play."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.errors import Cure, Path
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Pattern
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule, of
from service.strap.rules.blame import (
    BUCKLE,
    FASTENER,
    KEEPER,
    hanging_end,
    is_decoration,
    item,
    place_of,
    row_of,
    size_holes,
    snap_of,
)
from service.strap.rules.family import StrapFamily
from service.values import dataclass

NO_PUNCH = Code("no_punch", "the shop has no punch for a hole that this strap needs")
SIZE_HOLE_NARROW = Code("size_hole_narrow", "the size holes are too narrow for the buckle's prong")

_DIAMETER = size_holes("diameter")


def _has_no_buckle(_measured: Measured, job: Job) -> bool:
    return job.buckle is None


_FOR_WHAT_PASSES = (
    Blame(NO_PUNCH, item, Cure.OTHER_ITEM, when=is_decoration),
    Blame(NO_PUNCH, FASTENER, Cure.FASTENER_FOR_PUNCH, when=of("joint", "fold_rivet")),
    Blame(NO_PUNCH, snap_of, Cure.OTHER_SNAP, when=of("snap_cap", "snap_stud")),
    Blame(NO_PUNCH, KEEPER, Cure.OTHER_BUCKLE, when=of("keeper_rivet")),
    Blame(NO_PUNCH, _DIAMETER, Cure.SIZE_HOLE_DIAMETER, when=_has_no_buckle),
    Blame(NO_PUNCH, BUCKLE, Cure.OTHER_BUCKLE),
)
_PASSING = {
    "passing": "how thick what goes through the hole is",
    "clearance": "the least that it needs: hole_ease, of a size hole size_hole_over_prong",
}

PUNCH_SIZE = Rule(
    name="punch_size",
    meaning="Whether the shop's largest punch lets through what has to go through a hole, with its ease.",
    sense="least",
    sentence="No punch of this shop is large enough for {what}.",
    blames=_FOR_WHAT_PASSES,
    formula=Formula(
        found="largest_punch - passing",
        limit="clearance",
        terms={"largest_punch": "the diameter of the shop's largest round punch", **_PASSING},
    ),
    source="common practice",
)
PUNCH_FIT = Rule(
    name="punch_fit",
    meaning="How much play the nearest punch leaves round what goes through a hole; in too wide a hole a "
    "rivet sits crooked.",
    sense="most",
    sentence="The nearest punch leaves {found} round what goes through {what}; at most {limit} holds.",
    blames=_FOR_WHAT_PASSES,
    formula=Formula(
        found="hole - passing",
        limit="clearance + hole_slack",
        terms={"hole": "the diameter of the hole, or of the nearest punch that is larger", **_PASSING},
    ),
    source="common practice",
)
HANGING_HOLE_PUNCH = Rule(
    name="hanging_hole_punch",
    meaning="Whether the shop has a punch of just the size that a hanging hole is asked for.",
    sense="most",
    sentence="This shop has no punch of just that size for the hanging hole; the nearest is {found} off.",
    blames=(Blame(NO_PUNCH, hanging_end, Cure.HANGING_HOLE_SIZE),),
    formula=Formula(
        found="abs(hole - punch)",
        limit="0",
        terms={"hole": "the diameter of the hole", "punch": "the diameter of the punch that comes nearest"},
    ),
    source="geometry",
)
SIZE_HOLE_PUNCH = Rule(
    name="size_hole_punch",
    meaning="Whether the shop has a punch of just the size that size holes are asked for.",
    sense="most",
    sentence="This shop has no punch of just that size for the size holes; the nearest is {found} off.",
    blames=(Blame(NO_PUNCH, _DIAMETER, Cure.SIZE_HOLE_DIAMETER),),
    formula=HANGING_HOLE_PUNCH.formula,
    source="geometry",
)
SIZE_HOLE_PRONG = Rule(
    name="size_hole_prong",
    meaning="How much room a size hole leaves round the buckle's prong, so that it goes in without force.",
    sense="least",
    sentence="Round the buckle's prong the size hole leaves {found}; the prong needs {limit}.",
    overlap="The size hole is narrower than the buckle's prong by {found_abs}.",
    blames=(Blame(SIZE_HOLE_NARROW, _DIAMETER, Cure.SIZE_HOLE_DIAMETER),),
    formula=Formula(
        found="hole - prong_width",
        limit="hole_ease",
        terms={"hole": "the diameter of the size hole", "prong_width": "how wide the buckle's prong is"},
    ),
    source="common practice",
)


@dataclass(frozen=True, slots=True)
class _Passing:
    """What goes through a hole, and the least ease that it needs."""

    thickness: Nm
    ease: Nm


def _punches(pattern: Pattern, job: Job) -> Iterator[Measured]:
    """One measure for each purpose on a piece, whose holes are alike but for hanging holes and those of two tips."""
    seen: dict[tuple[object, ...], Feature] = {}
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.action == "punch":
                seen.setdefault((piece.name, feature.purpose, _alike(feature, job)), feature)
    sizes = sorted([punch.diameter for punch in job.shop.round_punches.values()])
    for feature in seen.values():
        yield from _punch(feature, sizes, job)


def _alike(feature: Feature, job: Job) -> str | Path | None:
    """What is the same of holes of one purpose that are punched alike."""
    if feature.purpose == "hanger":
        return feature.id
    if feature.purpose == "size_hole" and job.head.is_tongue and job.foot.is_tongue:
        return place_of(row_of(feature.id, job))
    return feature.item


def _punch(feature: Feature, sizes: list[Nm], job: Job) -> list[Measured]:
    """The hole's clearance; where the shop has no punch for it, that of the punch which comes nearest."""
    size = feature.across
    if feature.purpose == "hanger" and feature.kind == "slot":
        return []
    passing = _passing(feature, job)
    if feature.purpose == "hanger":
        nearest = min((abs(punch - size) for punch in sizes), default=size)
        return [HANGING_HOLE_PUNCH.measured(0 if feature.tool else nearest, 0, feature)]
    if feature.purpose == "size_hole" and row_of(feature.id, job).hole_diameter:
        return _size_hole_asked(feature, size, min(abs(punch - size) for punch in sizes), job)
    if passing is None:
        return []
    if feature.tool is None:
        larger = [punch for punch in sizes if punch >= passing.thickness + passing.ease]
        if not larger:
            largest = max(sizes, default=0)
            return [PUNCH_SIZE.measured(largest - passing.thickness, passing.ease, feature)]
        size = larger[0]
    most = passing.ease + job.rules.hole_slack
    return [PUNCH_FIT.measured(size - passing.thickness, most, feature)] if feature.kind == "hole" else []


def _size_hole_asked(feature: Feature, size: Nm, nearest: Nm, job: Job) -> list[Measured]:
    """Size holes of a diameter that was asked for: a punch of just that size, and the prong goes through."""
    return [
        SIZE_HOLE_PUNCH.measured(0 if feature.tool else nearest, 0, feature),
        SIZE_HOLE_PRONG.measured(size - _prong(feature, job), job.rules.hole_ease, feature),
    ]


def _prong(hole: Feature, job: Job) -> Nm:
    """The prong that a size hole is made for."""
    return row_of(hole.id, job).prong_of.prong_width


def _passing(feature: Feature, job: Job) -> _Passing | None:
    rules = job.rules
    if feature.purpose == "size_hole":
        return _Passing(_prong(feature, job), rules.size_hole_over_prong)
    if feature.purpose == "prong_slot":
        buckle = (job.head if int(feature.id.rpartition(".")[2]) % 2 else job.foot).buckle
        return _Passing(buckle.prong_width, rules.hole_ease) if buckle else None
    fastener = job.shop.fasteners.get(feature.fastener or feature.item or "")
    if fastener:
        return _Passing(fastener.post_diameter, rules.hole_ease)
    snap = job.shop.snaps.get(feature.item or "")
    if snap:
        return _Passing(snap.post_diameter, rules.hole_ease)
    ornament = job.shop.ornaments.get(feature.item or "")
    opening = ornament.fixing.opening if ornament else None
    return _Passing(opening.thick, rules.hole_ease) if opening else None


PUNCHES = StrapFamily(
    rules=(PUNCH_SIZE, PUNCH_FIT, HANGING_HOLE_PUNCH, SIZE_HOLE_PUNCH, SIZE_HOLE_PRONG), measure=_punches
)
