"""For each rule of the bench the strap that its figure is drawn of, and how."""

from dataclasses import dataclass

from openapi.example_requests import examples
from openapi.figures import fold, made_up, places, section
from openapi.figures.plan import Drawn, across, along, between, cover, hardware, to_edge
from openapi.figures.seen import Example, Seen, example
from openapi.kinds import KINDS
from service.strap.model.rule import Rule
from service.strap.rules import (
    billets,
    blanks,
    buckle,
    edging,
    fixed_keepers,
    fixings,
    joining,
    joints,
    keepers,
    punches,
    rings,
    snaps,
    splices,
    stitches,
    tapers,
    tongue,
    webs,
)


@dataclass(frozen=True, slots=True)
class Figure:
    """What a rule's figure is drawn of, and how."""

    example: Example
    draw: Drawn


_MADE = examples()
_PARADE = {
    "construction": "three_piece",
    "size": {"body_length": "10 in"},
    "body": {"width": "2 1/2 in"},
    "ornaments": {"item": "bell_30", "count": 3},
    "between": {"item": "spot_10"},
    "border": {"item": "spot_6"},
}
_GARTER = {"construction": "one_piece", "size": {"girth": "14 in"}, "ornaments": {"item": "bell_25", "count": 3}}
_STITCHED = {**_GARTER, "stitching": {}}
_CUFF = KINDS["Ends"]["snap with sizes"]
_TAPERED = {
    "construction": "open",
    "size": {"body_length": "24 in"},
    "body": {"width": "1 1/2 in", "taper": {"to": "1 in"}},
    "ends": {"head": {"kind": "ring"}, "foot": {"kind": "ring"}},
}
_EDGED = {
    "construction": "one_piece",
    "size": {"girth": "16 in"},
    "body": {"width": "2 in", "edge": {"iron": "scallop_25"}},
    "ornaments": {"item": "bell_25", "count": 3},
    "billet": {"buckle": "heel_bar_50"},
}
_LINED = {**_PARADE, "lining": "lining_2_3", "between": None, "border": None}
_HOLED = {**_GARTER, "billet": {"size_holes": {"diameter": "1/4 in"}}}
_FIXED = KINDS["Keepers and collar rings"]["fixed keeper"]
_WIDE_TONGUE = {
    "construction": "two_ends",
    "size": {"body_length": "30 in"},
    "body": {"width": "26 mm", "taper": {"head": {"to": "1 in"}}},
    "ends": {"head": {"kind": "buckle"}, "foot": {"kind": "tip"}},
}


def _fixing(seen: Seen, name: str) -> float:
    return float(getattr(seen.job.shop.ornaments[seen.measured.item].fixing, name))


def _spread(seen: Seen) -> float:
    return _fixing(seen, "spread")


def _shank(seen: Seen) -> float:
    return _fixing(seen, "width")


def _legs(seen: Seen) -> float:
    return _fixing(seen, "diameter") / 2


def _hole(seen: Seen) -> float:
    """The hole of the item that is set."""
    features = (f for piece in seen.pattern.pieces for f in piece.features if f.item == seen.measured.item)
    return float(next(features).across)


def _own_hole(seen: Seen) -> float:
    return float(seen.feature().across)


def _through(seen: Seen) -> float:
    """What goes through a hole whose room is measured."""
    return _own_hole(seen) - seen.measured.value


def _nearest_punch(seen: Seen) -> float:
    sizes = [each.diameter for each in seen.job.shop.round_punches.values()]
    return float(min(sizes, key=lambda size: abs(size - _own_hole(seen))))


def _largest_punch(seen: Seen) -> float:
    return float(max(each.diameter for each in seen.job.shop.round_punches.values()))


def _under_largest(seen: Seen) -> float:
    return _largest_punch(seen) - seen.measured.value


def _snap_post(seen: Seen) -> float:
    return float(seen.job.shop.snaps[str(seen.feature().item)].post_diameter)


def _joint_post(seen: Seen) -> float:
    return float(seen.job.fastener.post_diameter)


def _inside(seen: Seen) -> float:
    """The frame's inside width: what is drawn in it is as wide as the strap, and the rest is what was found."""
    return _strap(seen) + seen.measured.value


def _strap(seen: Seen) -> float:
    if seen.measured.rule is buckle.TONGUE_WIDTH:
        return float(seen.job.foot.outer_width)
    if seen.measured.rule is joining.JOINING_WIDTH:
        return float(seen.piece.width)
    return float(seen.job.head.outer_width)


_IN_FRAME = ("the frame's width inside", "the width of the strap in it")


def _opening(strap: str = "strap_width", words: tuple[str, str] = _IN_FRAME) -> Drawn:
    return section.opening(*words, _inside, _strap, ("inside_width", strap))


_BESIDE_HOLE = "from one cut to the next, where they come nearest"
_STACK = "the plies together, where each is at its {}"
_SNAP = "the leather that the snap grips, at its {}"
_POST = "the leather that the post spans, at its {}"
_BASE = "the leather at its {}, with the ornament's own metal"
_TIP = "from the last size hole to the end of the tip"

FIGURES: dict[Rule, Figure] = {
    joints.RIVET_END: Figure(example(_PARADE), along("from the hole to the end of its piece", places.hole_to_end)),
    webs.EDGE_WEB: Figure(example(_GARTER, "size_hole"), to_edge("from the hole's rim to the edge")),
    webs.ORNAMENT_EDGE: Figure(example(_PARADE, "border"), to_edge("from the ornament's rim to the edge", cover)),
    webs.CUT_WEB: Figure(example(_GARTER, "size_hole"), between(_BESIDE_HOLE)),
    webs.CAP_CLEAR: Figure(example(_GARTER, "fold_rivet"), between("from cap to cap", cover, cover)),
    webs.ORNAMENT_CLEAR: Figure(example(_PARADE), between("from rim to rim, where they come nearest", cover, cover)),
    webs.HARDWARE_CLEAR: Figure(example(_PARADE, "joint"), hardware("from the ornament's rim to the cap")),
    snaps.SNAP_EDGE: Figure(example(_CUFF), to_edge("from the snap's flange to the edge", cover)),
    stitches.STITCH_EDGE: Figure(example(_STITCHED), to_edge("from the line of stitches to the edge")),
    stitches.STITCH_WEB: Figure(example(_STITCHED, "ornament"), between("from the line of stitches to the cut")),
    stitches.STITCH_CLEAR: Figure(
        example({**_STITCHED, "ornaments": {"item": "spot_10", "count": 3}}),
        between("from the line of stitches to the ornament's rim", second=cover),
    ),
    stitches.STITCH_ROOM: Figure(
        example(_STITCHED, "edge_stitch"),
        across("from the row along one edge to the row along the other", places.seams_apart),
    ),
    stitches.STITCHED_FOLD: Figure(
        example(_MADE["sewn_harness_strap"]),
        along("how far the fold is stitched along the strap", places.seam("fold_stitch")),
    ),
    stitches.STITCHED_JOINT: Figure(
        example(_MADE["sewn_harness_strap"]),
        along("how far the billet is sewn to the body", places.seam("joint_stitch")),
    ),
    blanks.STRIP_LENGTH: Figure(example(_GARTER, "strap"), along("the whole length of the piece", places.whole)),
    blanks.STRIP_WIDTH: Figure(example(_GARTER, "strap"), across("the whole width of the piece", places.full_width)),
    splices.SPLICE_CLEAR: Figure(
        example(_MADE["spliced_bell_strap"]), along("from the lap's end to what is cut beside it", places.beside_lap)
    ),
    splices.SPLICE_STRIP: Figure(
        example(_MADE["spliced_bell_strap"]),
        along("the shortest strip, with its lap", places.shortest_strip, lambda _seen: ()),
    ),
    splices.SPLICE_LINES: Figure(
        example(_MADE["spliced_bell_strap"]), across("from one line of stitches to the next", places.lap_lines)
    ),
    tapers.TAPER_ROOM: Figure(example(_TAPERED), places.parts(places.tapers)),
    tapers.EDGE_ROOM: Figure(example(_EDGED), along("one edge, between what both ends take", places.edge_length)),
    tapers.EDGE_IRON: Figure(example(_EDGED), places.parts(places.one_repeat)),
    keepers.KEEPER_CLEAR: Figure(
        example(KINDS["Keepers between ornaments"]["keepers between"]),
        places.keeper_to_rim("from the keeper to the ornament's rim"),
    ),
    edging.EDGING_ROOM: Figure(
        example(KINDS["Edgings"]["scalloped edging"]), along("between what both ends take", places.edging_length)
    ),
    edging.EDGING_REACH: Figure(
        example(KINDS["Edgings"]["scalloped edging"]),
        across("from the edge to the edging's points", places.edging_crest),
    ),
    edging.EDGING_ROOTS: Figure(
        example(KINDS["Edgings"]["scalloped edging"]), across("from the edge to the edging's roots", places.edging_root)
    ),
    edging.EDGING_CLEAR: Figure(
        example(KINDS["Edgings"]["edging"], "ornament"),
        across("from the edging's inner edge to the cut", places.inside_edging, edges=True),
    ),
    joints.JOINT_ALIGNMENT: Figure(
        example(_PARADE, "joint", ("body.joint.2", 3_000_000)),
        made_up.holes("between two holes that ought to be one; here one was punched 3 mm off"),
    ),
    blanks.END_DEPTH: Figure(example(_PARADE, "body"), places.parts(places.shaped_ends)),
    punches.PUNCH_SIZE: Figure(
        example(_GARTER, "size_hole", size_hole_over_prong=9_000_000),
        section.hole(
            "the shop's largest punch", "what goes through", _largest_punch, _under_largest,
            ("largest_punch", "passing"),
        ),
    ),
    punches.PUNCH_FIT: Figure(
        example(_PARADE, "joint"),
        section.hole("the hole", "what goes through it", _own_hole, _through, ("hole", "passing")),
    ),
    punches.HANGING_HOLE_PUNCH: Figure(
        example({
            "construction": "open", "size": {"finished_length": "10 in"},
            "ends": {"head": {"kind": "plain"}, "foot": {"kind": "hole", "hole": "8 mm"}},
        }),
        section.hole("the hole", "the punch that comes nearest", _own_hole, _nearest_punch, ("hole", "punch")),
    ),
    punches.SIZE_HOLE_PUNCH: Figure(
        example({**_GARTER, "billet": {"size_holes": {"diameter": "5 mm"}}}),
        section.hole("the hole", "the punch that comes nearest", _own_hole, _nearest_punch, ("hole", "punch")),
    ),
    punches.SIZE_HOLE_PRONG: Figure(
        example(_HOLED),
        section.hole("the size hole", "the buckle's prong", _own_hole, _through, ("hole", "prong_width")),
    ),
    joints.FASTENER_GRIP_MIN: Figure(
        example(_PARADE, "joint"), section.stack(_STACK.format("thinnest"), _joint_post, plies=2)
    ),
    joints.FASTENER_GRIP_MAX: Figure(
        example(_PARADE, "joint"), section.stack(_STACK.format("thickest"), _joint_post, plies=2)
    ),
    fixings.PRONG_CLINCH_MIN: Figure(
        example(_PARADE, "border"),
        section.behind("what the prongs stand out", lambda seen: _fixing(seen, "length"), _spread),
    ),
    fixings.PRONG_CLINCH_MAX: Figure(
        example(_PARADE, "between"),
        section.behind("what the prongs stand out", lambda seen: _fixing(seen, "length"), _spread),
    ),
    fixings.SHANK_REACH: Figure(
        example(_PARADE, "ornament"),
        section.behind("what the shank stands out", lambda seen: _fixing(seen, "height"), _shank, bell=True),
    ),
    fixings.POST_GRIP_MIN: Figure(
        example(KINDS["Fixings"]["screw_post"]),
        section.stack(_POST.format("thinnest"), lambda seen: _fixing(seen, "diameter")),
    ),
    fixings.POST_GRIP_MAX: Figure(
        example(KINDS["Fixings"]["screw_post"]),
        section.stack(_POST.format("thickest"), lambda seen: _fixing(seen, "diameter")),
    ),
    fixings.SPLIT_PIN_REACH: Figure(
        example(KINDS["Fixings"]["split_pin"]),
        section.behind("what the legs stand out", lambda seen: _fixing(seen, "length"), _legs),
    ),
    fixings.HELD_GRIP_MIN: Figure(
        example(KINDS["Fixings"]["rivet"]),
        section.stack(_BASE.format("thinnest"), _hole, base=lambda seen: _fixing(seen, "base")),
    ),
    fixings.HELD_GRIP_MAX: Figure(
        example(KINDS["Fixings"]["rivet"]),
        section.stack(_BASE.format("thickest"), _hole, base=lambda seen: _fixing(seen, "base")),
    ),
    fixings.LINING_RUN: Figure(example(_LINED), across("from the back of the bell to the edge", places.beside_back)),
    rings.RING_WIDTH: Figure(
        example(_TAPERED, "head"), _opening(words=("the ring's width inside", "the width of the strap in it"))
    ),
    rings.RING_ROOM: Figure(
        example(_MADE["dog_collar_lead_ring"]), along("from cap to cap, where the ring lies", places.ring_room)
    ),
    snaps.SNAP_GRIP_MIN: Figure(example(_CUFF), section.stack(_SNAP.format("thinnest"), _snap_post)),
    snaps.SNAP_GRIP_MAX: Figure(example(_CUFF), section.stack(_SNAP.format("thickest"), _snap_post)),
    snaps.SNAP_SPACING: Figure(example(_CUFF), along("from stud to stud", places.studs)),
    joining.JOINING_WIDTH: Figure(
        example(_MADE["harness_strap_joined"]),
        _opening("joining_width", ("the narrower frame's width inside", "the width of the joining strap")),
    ),
    joining.JOINING_ROOM: Figure(
        example(_MADE["harness_strap_joined"]),
        along("from the innermost hole of one row to that of the other", places.inner_holes),
    ),
    billets.BILLET_ADDS: Figure(
        example(_MADE["sewn_harness_strap"]), along("what the billet adds to the body", places.added)
    ),
    buckle.BUCKLE_WIDTH: Figure(example(_GARTER), _opening()),
    buckle.TONGUE_WIDTH: Figure(
        example(_WIDE_TONGUE), _opening("tongue_width", ("the frame's width inside", "the width of the tongue"))
    ),
    buckle.BUCKLE_SLACK: Figure(example(_GARTER), _opening()),
    buckle.FOLD_REACH: Figure(example(_GARTER), fold.reach("from the bar to what holds the fold, made up")),
    buckle.KEEPER_ROOM: Figure(
        example(_GARTER), fold.keeper_room("from the frame's heel to the cap: there the keeper lies")
    ),
    buckle.PRONG_SLOT_LENGTH: Figure(
        example({**_GARTER, "billet": {"prong_slot": "1 1/4 in"}}), along("the slot, over all", places.slot)
    ),
    buckle.TAIL_GAP: Figure(
        example(_PARADE), fold.tail("from the bar to the body's end", "from the bar to the end of the turned-back tail")
    ),
    fixed_keepers.KEEPERS_APART: Figure(
        example(_FIXED),
        along("from the keeper's edge to what holds the fold next", places.past_keeper, places.keeper_band),
    ),
    fixed_keepers.KEEPER_HELD: Figure(
        example(_FIXED),
        along("from the keeper's edge to the end of the tail behind", places.held_keeper, places.keeper_band),
    ),
    tongue.FIRST_SIZE_HOLE: Figure(
        example(_PARADE), along("from the cap before it to the first size hole", places.before_hole)
    ),
    tongue.TONGUE_REACH: Figure(example(_GARTER), along(_TIP, places.behind_last)),
    tongue.TIP_DEPTH: Figure(example(_PARADE), places.parts(places.tip_and_shape)),
    tongue.TIP_CLEAR: Figure(
        example(_MADE["lined_bell_strap"], "ornament"), made_up.tip("from the tip to the rim of the bell")
    ),
}  # fmt: skip
