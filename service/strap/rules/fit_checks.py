"""Whether the hardware fits the leather and the strap fits its buckle: widths, grips, prongs, reach, room."""

from dataclasses import dataclass
from math import pi

from service.shop.goods import Fastener, Nm, Ring, ScrewPost, Shank
from service.strap.model.hardware import Stack, keeper_stack
from service.strap.model.job import Job, said
from service.strap.model.measured import Measured, Placed, at_least, at_most
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.model.plies import stack
from service.strap.model.reach import reach_measures
from service.strap.plane.bend import bend_allowance
from service.strap.rules.lining_checks import lining_measures
from service.strap.rules.worn import tip_measures


def fit_measures(pattern: Pattern, job: Job) -> list[Measured]:
    """Every rule about hardware, buckle, keeper and tongue."""
    measures = [*_ends(pattern), *_punches(pattern, job), *_grips(pattern, job)]
    set_through = stack(job.plies.set_through)
    for items, subject in ((job.row, "ornament"), (job.gap, "between"), (job.borders, "border")):
        for item in {item.id: item for item in items}.values():
            measures += reach_measures(item, subject, set_through, job.rules)
    measures += lining_measures(pattern, job)
    for ring, subject in ((job.head.ring, "head"), (job.foot.ring, "foot")):
        if ring:
            measures.append(at_least("ring_width", ring.inside_width - job.strap_width, 0, subject=subject))
    if job.head.collar_ring:
        measures += _lead_ring(job.head.collar_ring, job)
    if job.buckle:
        measures += [*_buckle(job), *_buckle_end(pattern, job), *_tongue_end(pattern, job), *tip_measures(pattern, job)]
    return measures


def _lead_ring(ring: Ring, job: Job) -> list[Measured]:
    """The ring stands in the loop between the turned-back end's first two rivets."""
    room = (job.joint_spacing if job.joint_count > 1 else 0) - job.fold_fastener.cap_diameter
    return [
        at_least("ring_width", ring.inside_width - job.strap_width, 0, subject="lead"),
        at_least("ring_room", room, ring.thickness + job.rules.hardware_clear, subject="lead"),
    ]


def _ends(pattern: Pattern) -> list[Measured]:
    """The shaped ends of a piece may meet, but not pass each other."""
    return [
        at_most("end_depth", piece.outline.head_depth + piece.outline.foot_depth, piece.length, subject=piece.name)
        for piece in pattern.pieces
        if piece.name != "lining"
    ]


@dataclass(frozen=True, slots=True)
class _Passing:
    """What goes through a hole, and the least ease that it needs."""

    thickness: Nm
    ease: Nm


def _punches(pattern: Pattern, job: Job) -> list[Measured]:
    """One measure for each purpose on a piece: all its holes are alike, but for hanging holes."""
    seen: dict[str, Feature] = {}
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.action == "punch":
                alike = feature.id if feature.purpose == "hanger" else f"{feature.purpose} {feature.item}"
                seen.setdefault(f"{piece.name} {alike}", feature)
    measures: list[Measured] = []
    for feature in seen.values():
        measures += _punch(feature, job)
    return measures


def _punch(feature: Feature, job: Job) -> list[Measured]:
    """The hole's clearance; where the shop has no punch for it, that of the punch which comes nearest."""
    size = said(feature.diameter if feature.kind == "hole" else feature.width)
    if feature.purpose == "hanger" and feature.kind == "slot":
        return []
    sizes = sorted(punch.diameter for punch in job.shop.round_punches.values())
    passing = _passing(feature, job)
    if feature.purpose == "hanger":
        nearest = min((abs(punch - size) for punch in sizes), default=size)
        return [at_most("hanging_hole_punch", 0 if feature.tool else nearest, 0, feature)]
    if feature.purpose == "size_hole" and job.spec.billet.size_holes.diameter:
        return _size_hole_asked(feature, size, min(abs(punch - size) for punch in sizes), job)
    if passing is None:
        return []
    if feature.tool is None:
        larger = [punch for punch in sizes if punch >= passing.thickness + passing.ease]
        if not larger:
            largest = max(sizes, default=0)
            return [at_least("punch_size", largest - passing.thickness, passing.ease, feature)]
        size = larger[0]
    most = passing.ease + job.rules.hole_slack
    return [at_most("punch_fit", size - passing.thickness, most, feature)] if feature.kind == "hole" else []


def _size_hole_asked(feature: Feature, size: Nm, nearest: Nm, job: Job) -> list[Measured]:
    """Size holes of a diameter that was asked for: a punch of just that size, and the prong goes through."""
    return [
        at_most("size_hole_punch", 0 if feature.tool else nearest, 0, feature),
        at_least("size_hole_prong", size - said(job.buckle).prong_width, job.rules.hole_ease, feature),
    ]


def _passing(feature: Feature, job: Job) -> _Passing | None:
    rules = job.rules
    if feature.purpose == "size_hole":
        return _Passing(said(job.buckle).prong_width, rules.size_hole_over_prong)
    if feature.purpose == "prong_slot":
        return _Passing(said(job.buckle).prong_width, rules.hole_ease)
    if feature.item in job.shop.fasteners:
        return _Passing(job.shop.fasteners[said(feature.item)].post_diameter, rules.hole_ease)
    fixing = job.shop.ornaments[said(feature.item)].fixing if feature.item else None
    if isinstance(fixing, Shank):
        return _Passing(fixing.thickness, rules.hole_ease)
    if isinstance(fixing, ScrewPost):
        return _Passing(fixing.diameter, rules.hole_ease)
    return None


def _grips(pattern: Pattern, job: Job) -> list[Measured]:
    measures = []
    purposes = {feature.purpose for piece in pattern.pieces for feature in piece.features}
    folded = "fold_rivet" in purposes
    alike = job.plies.fold == job.plies.joint
    if "joint" in purposes or (folded and alike):
        measures += _grip(stack(job.plies.joint), job.fastener, "joint")
    if folded and not alike:
        measures += _grip(stack(job.plies.fold), job.fold_fastener, "fold")
    if "keeper_rivet" in purposes:
        measures += _grip(keeper_stack(job.leather, job.keeper_share), job.keeper_fastener, "keeper")
    return measures


def _grip(plies: Stack, fastener: Fastener, subject: str) -> list[Measured]:
    return [
        at_least("fastener_grip_min", plies.thin, fastener.grip_min, subject=subject),
        at_most("fastener_grip_max", plies.thick, fastener.grip_max, subject=subject),
    ]


def _buckle(job: Job) -> list[Measured]:
    room = said(job.buckle).inside_width - job.strap_width
    return [
        at_least("buckle_width", room, 0, subject="buckle"),
        at_most("buckle_slack", room, job.rules.buckle_slack, subject="buckle"),
    ]


def _bar_to_hold(pattern: Pattern) -> tuple[Nm, Placed]:
    """What holds the fold on the front ply nearest the bar, a rivet or stitches, and how far from the bar's axis."""
    piece, fold = _with(pattern, "fold_line")
    ply = max((p for p in pattern.placements if p.piece == piece.name), key=lambda p: p.layer)
    stitched = next((line for line in piece.stitch_lines if line.purpose == "fold_stitch"), None)
    if stitched:
        return ply.offset + min(x for x, _ in stitched.points), stitched
    rivets = [f for f in piece.features if f.purpose == "fold_rivet" and f.x >= ply.from_x]
    nearest = min(rivets, key=lambda feature: feature.x, default=fold)
    return ply.offset + nearest.x, nearest


def _with(pattern: Pattern, purpose: str) -> tuple[Piece, Feature]:
    """The first piece that has a feature of this purpose, and that feature."""
    return next((p, f) for p in pattern.pieces for f in p.features if f.purpose == purpose)


def _buckle_end(pattern: Pattern, job: Job) -> list[Measured]:
    buckle, rules = said(job.buckle), job.rules
    reach, rivet = _bar_to_hold(pattern)
    measures = [at_least("fold_reach", reach, buckle.bar_to_heel + job.fold_half, rivet)]
    if job.keeper:
        room = reach - job.fold_half - buckle.bar_to_heel
        measures.append(at_least("keeper_room", room, job.keeper_width + rules.hardware_clear, rivet))
    if job.spec.billet.prong_slot:
        _, slot = _with(pattern, "prong_slot")
        turn = bend_allowance(pi, buckle.bar_thickness // 2, job.fold_thickness, rules.neutral_fraction)
        measures.append(at_least("prong_slot_length", said(slot.length), turn, slot))
    body = next((ply for ply in pattern.placements if ply.piece == "body"), None)
    tail = next((ply for ply in pattern.placements if ply.direction == -1), None)
    if body and tail:
        measures.append(at_least("tail_gap", body.offset - tail.offset, rules.tail_gap, rivet))
    return measures


def _tongue_end(pattern: Pattern, job: Job) -> list[Measured]:
    buckle, rules = said(job.buckle), job.rules
    piece, first = _with(pattern, "size_hole")
    last = max((f for f in piece.features if f.purpose == "size_hole"), key=lambda f: f.x)
    before = max(
        (f for f in piece.features if f.x < first.x and f.purpose != "fold_line"),
        key=lambda f: f.x + f.footprint // 2,
    )
    clear = first.x - before.x - before.footprint // 2
    holder = buckle.bar_to_heel
    if job.keeper:
        holder = _bar_to_hold(pattern)[0] - job.fold_half
    return [
        at_least("first_size_hole", clear, buckle.bar_to_frame + rules.hardware_clear, before, first),
        at_least("tongue_reach", piece.length - last.x, holder + rules.tip_past_keeper, last),
    ]
