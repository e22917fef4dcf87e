"""Leather that must stay between cuts and to the outline, and room between the things that sit on the strap."""

from collections.abc import Iterator
from math import hypot

from service.strap.errors import Cure, Path
from service.strap.making.layout import measure
from service.strap.model.job import Job
from service.strap.model.places import border_path
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule, among, of
from service.strap.plane.geometry import Capsule
from service.strap.rules.blame import (
    JOINT_SPACING,
    ROW,
    cut_width,
    hanging_end,
    is_decoration,
    item,
    keeper_width,
    row_item,
    size_holes,
    stud_spacing,
)
from service.strap.rules.family import PieceFamily
from service.strap.rules.surface import Surface
from service.strap.rules.sweep import against, edges, nearest, pairs

CUT_NEAR_EDGE = Code("cut_near_edge", "a hole or slot leaves too little leather to the edge")
CUTS_TOO_CLOSE = Code("cuts_too_close", "two holes or slots leave too little leather between them")
CAPS_TOO_CLOSE = Code("caps_too_close", "the caps of two rivets have no room beside each other")
ORNAMENT_OFF_EDGE = Code("ornament_off_edge", "an ornament stands out over the edge, or lies too near it")
BORDER_OFF_EDGE = Code("border_off_edge", "a border stands out over the edge, or lies too near it")
ORNAMENTS_CROWDED = Code("ornaments_crowded", "the row has no room for its ornaments")
BETWEEN_CROWDED = Code("between_crowded", "what stands between the ornaments has no room there")
BORDER_CROWDED = Code("border_crowded", "a border has no room in itself or beside what it borders")


def _row_overflows(measured: Measured, job: Job) -> bool:
    """Whether the row at its given pitch is longer than what it stands on."""
    if measured.kinds[0] not in ("ornament", "between"):
        return False
    measures = measure(job)
    places = measures.stations.places
    return bool(places) and places[0] < measures.run.start


def _border_inset(measured: Measured, job: Job) -> Path:
    return border_path(job.spec, measured.item, "inset")


def _border_field(measured: Measured, job: Job) -> Path:
    """A border that is crowded in itself is so by its step, and beside other things by its inset."""
    return border_path(job.spec, measured.item, "step" if measured.kinds == ("border",) else "inset")


_OVERFLOW = Blame(ORNAMENTS_CROWDED, ROW, Cure.ROW, when=_row_overflows)
_CROWDED = (
    Blame(BORDER_CROWDED, _border_field, Cure.BORDER, when=among("border")),
    Blame(BETWEEN_CROWDED, item, Cure.BETWEEN, when=among("between")),
    Blame(ORNAMENTS_CROWDED, row_item, Cure.ROW),
)
_BETWEEN_RIMS = {
    "apart": "the distance between the middles of the two",
    "radius": "half the diameter of the one",
    "other_radius": "half the diameter of the other",
}

EDGE_WEB = Rule(
    name="edge_web",
    meaning="How much leather stays between a hole or a slot and the edge; a thinner web stretches, and then tears.",
    sense="least",
    sentence="Between the edge and the cut for {what} {found} of leather would stay; {limit} is the least.",
    overlap="The cut for {what} runs out over the edge by {found_abs}; {limit} of leather must stay.",
    blames=(
        _OVERFLOW,
        Blame(CUT_NEAR_EDGE, hanging_end, Cure.HANGING_HOLE_FROM_EDGE, when=of("hanger")),
        Blame(CUT_NEAR_EDGE, item, Cure.FROM_EDGE, when=is_decoration),
        Blame(CUT_NEAR_EDGE, keeper_width, Cure.WIDER_KEEPER, when=of("keeper_rivet")),
        Blame(CUT_NEAR_EDGE, cut_width, Cure.CUT_FROM_EDGE),
    ),
    formula=Formula(
        found="depth - radius",
        limit="edge_web",
        terms={
            "depth": "from the outline to the middle line of the cut, where that comes nearest",
            "radius": "half the width of the cut",
        },
    ),
    source="common practice",
)
ORNAMENT_EDGE = Rule(
    name="ornament_edge",
    meaning="How far the rim of what is set on the strap stays inside the edge, so that it neither overhangs "
    "nor catches.",
    sense="least",
    sentence="From the rim of {what} to the edge there is {found}; {limit} is the least.",
    overlap="{What} stands out over the edge by {found_abs}; it must keep {limit} inside.",
    blames=(
        _OVERFLOW,
        Blame(BORDER_OFF_EDGE, _border_inset, Cure.BORDER_INSET, when=among("border")),
        Blame(ORNAMENT_OFF_EDGE, item, Cure.FROM_EDGE),
    ),
    formula=Formula(
        found="depth - radius",
        limit="ornament_edge",
        terms={"depth": "from the outline to the middle of the ornament", "radius": "half its diameter"},
    ),
    source="common practice",
)
CUT_WEB = Rule(
    name="cut_web",
    meaning="How much leather stays between two holes or slots; a thinner web tears from the one into the other.",
    sense="least",
    sentence="Between the cuts for {what} {found} of leather would stay; {limit} is the least.",
    overlap="The cuts for {what} run into each other by {found_abs}; {limit} of leather must stay.",
    of_pairs=True,
    blames=(
        Blame(CUTS_TOO_CLOSE, item, Cure.BORDER_CUTS, when=among("border")),
        Blame(CUTS_TOO_CLOSE, item, Cure.ROW, when=among("between")),
        Blame(CUTS_TOO_CLOSE, row_item, Cure.ROW, when=among("ornament")),
        Blame(CUTS_TOO_CLOSE, size_holes("spacing"), Cure.SIZE_HOLES_APART, when=of("size_hole")),
        Blame(CUTS_TOO_CLOSE, stud_spacing, Cure.STUDS_APART, when=of("snap_stud")),
        Blame(CUTS_TOO_CLOSE, JOINT_SPACING, Cure.RIVETS_APART),
    ),
    formula=Formula(
        found="apart - radius - other_radius",
        limit="cut_web",
        terms={
            "apart": "the distance between the middle lines of the two cuts, where they come nearest",
            "radius": "half the width of the one",
            "other_radius": "half the width of the other",
        },
    ),
    source="common practice",
)
CAP_CLEAR = Rule(
    name="cap_clear",
    meaning="How far the caps of two rivets stay apart; caps that touch cannot both be set flat.",
    sense="least",
    sentence="Between the caps of {what} and its neighbour there is {found}; {limit} is the least.",
    overlap="The caps of {what} and its neighbour overlap by {found_abs}; {limit} between them is the least.",
    blames=(
        Blame(CAPS_TOO_CLOSE, stud_spacing, Cure.STUDS_APART, when=of("snap_stud")),
        Blame(CAPS_TOO_CLOSE, JOINT_SPACING, Cure.RIVETS_APART),
    ),
    formula=Formula(found="apart - radius - other_radius", limit="cap_clear", terms=_BETWEEN_RIMS),
    source="common practice; the figure from memory",
)
ORNAMENT_CLEAR = Rule(
    name="ornament_clear",
    meaning="How far the rims of two ornaments stay apart, so that each can be set and none rubs on its neighbour.",
    sense="least",
    sentence="Between the rims of {what} there is {found}; {limit} is the least.",
    overlap="{What} overlap by {found_abs}; a clear gap of {limit} is the least.",
    of_pairs=True,
    blames=_CROWDED,
    formula=Formula(found="apart - radius - other_radius", limit="ornament_clear", terms=_BETWEEN_RIMS),
    source="common practice",
)
HARDWARE_CLEAR = Rule(
    name="hardware_clear",
    meaning="How far an ornament stays off the nearest rivet, hole or billet, so that both have room to be "
    "set and to lie flat.",
    sense="least",
    sentence="From {what} to the nearest rivet, hole or billet there is {found}; {limit} is the least.",
    overlap="{What} overlaps a rivet, a hole or a billet by {found_abs}; it must keep {limit} away.",
    blames=_CROWDED,
    formula=Formula(
        found="apart - radius - other_radius",
        limit="hardware_clear",
        terms={
            "apart": "from the middle of the ornament to that of the cap or the cut, or to the edge of the billet",
            "radius": "half the diameter of the ornament",
            "other_radius": "half the diameter of the cap or the width of the cut; of a billet nothing",
        },
    ),
    source="common practice",
)


def _webs(surface: Surface) -> Iterator[Measured]:
    """By kinds of feature. Of two rules about ornaments, the second looks at what the first did not leave out."""
    piece, rules = surface.piece, surface.job.rules
    bare_cuts = [shape for shape in surface.cuts if not shape.feature.footprint]
    cut_webs, _ = pairs(CUT_WEB, surface.cuts, rules.cut_web)
    between_caps, _ = pairs(CAP_CLEAR, surface.caps, rules.cap_clear)
    clear, apart = pairs(ORNAMENT_CLEAR, surface.ornaments, rules.ornament_clear)
    yield from edges(EDGE_WEB, piece, surface.cuts, rules.edge_web)
    yield from edges(ORNAMENT_EDGE, piece, surface.kept_inside, rules.ornament_edge)
    yield from cut_webs
    yield from between_caps
    yield from clear
    yield from against(HARDWARE_CLEAR, surface.caps + bare_cuts, apart, rules.hardware_clear)
    if piece.name == "body":
        yield from _under_billets(surface)


def _under_billets(surface: Surface) -> Iterator[Measured]:
    """Ornaments keep clear of the billets that lie over the body's ends."""
    job, length, overlap = surface.job, surface.piece.length, surface.job.overlap
    head, foot = (end.inner_width / 2 if end.is_billet else None for end in job.ends)
    limit = job.rules.hardware_clear

    def from_billets(ornament: Capsule) -> float:
        x, radius = ornament.x1, ornament.radius
        if head == foot and head is not None:
            return _billet_gap(min(x, length - x) - overlap, ornament.y1, head) - radius
        gaps = [_billet_gap(x - overlap, ornament.y1, head)] if head is not None else []
        gaps += [_billet_gap(length - x - overlap, ornament.y1, foot)] if foot is not None else []
        return min(gaps) - radius

    return nearest(HARDWARE_CLEAR, surface.ornaments, from_billets, limit)


def _billet_gap(from_end: float, y: float, half: float) -> float:
    """Clear distance from a point to a billet, a rectangle that reaches `half` to both sides."""
    aside = abs(y) - half
    return hypot(from_end, aside) if from_end > 0 and aside > 0 else max(from_end, aside)


WEBS = PieceFamily(rules=(EDGE_WEB, ORNAMENT_EDGE, CUT_WEB, CAP_CLEAR, ORNAMENT_CLEAR, HARDWARE_CLEAR), measure=_webs)
