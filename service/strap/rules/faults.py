"""Failed rules, told to the field that the maker can change: stable code, place in the spec, one sentence."""

from collections.abc import Callable, Iterable

from service.strap.errors import Fault, Path
from service.strap.making.layout import measure
from service.strap.making.measures import size_path
from service.strap.model.job import Job, said
from service.strap.model.measured import Measured
from service.strap.model.pattern import Check
from service.strap.model.places import PARTS, border_path, item_path
from service.strap.plane.lengths import reading, readings

_NAMES = {
    "joint": "a joint rivet", "fold_rivet": "a fold rivet", "keeper_rivet": "the keeper's rivet",
    "hanger": "the hanging hole", "prong_slot": "the prong's slot", "size_hole": "a size hole",
    "ornament": "an ornament", "between": "a small ornament between", "border": "a border spot",
    "lead": "the collar ring",
    "edge_stitch": "the line of stitches along the edges", "fold_stitch": "the stitches of the fold",
}  # fmt: skip

_SENTENCES = {
    "end_distance": "From {what} to the end of its piece there is {found}; it tears out with less than {limit}.",
    "edge_web": "Between the edge and the cut for {what} {found} of leather would stay; {limit} is the least.",
    "ornament_edge": "From the rim of {what} to the edge there is {found}; {limit} is the least.",
    "cut_web": "Between the cuts for {what} {found} of leather would stay; {limit} is the least.",
    "ornament_clear": "Between the rims of {what} there is {found}; {limit} is the least.",
    "cap_clear": "Between the caps of {what} and its neighbour there is {found}; {limit} is the least.",
    "hardware_clear": "From {what} to the nearest rivet, hole or billet there is {found}; {limit} is the least.",
    "joint_alignment": "Mated holes of {what} stand {found} apart.",
    "tail_gap": "The turned-back tail ends {found} before the body's end; {limit} is the least.",
    "fold_reach": "What holds the fold lies {found} from the bar; to clear the frame it needs {limit}.",
    "keeper_room": "Beside the frame the keeper has {found} of room; it needs {limit}.",
    "first_size_hole": "Before the first size hole {found} is free; the buckle's frame needs {limit} there.",
    "tongue_reach": "Beyond the last size hole there is {found} of tip; to pass the keeper it needs {limit}.",
    "tip_clear": "Buckled at the middle hole, the tip keeps {found} off {what}.",
    "buckle_width": "The buckle is narrower inside than the strap by {found_abs}.",
    "buckle_slack": "The buckle is wider inside than the strap by {found}; at most {limit} looks right.",
    "ring_width": "The ring is narrower inside than the strap by {found_abs}.",
    "ring_room": "Between the first two rivets the collar ring has {found} of room; it needs {limit}.",
    "punch_size": "No punch of this shop is large enough for {what}.",
    "punch_fit": "The nearest punch leaves {found} round what goes through {what}; at most {limit} holds.",
    "hanging_hole_punch": "This shop has no punch of just that size for the hanging hole; the nearest is {found} off.",
    "size_hole_punch": "This shop has no punch of just that size for the size holes; the nearest is {found} off.",
    "size_hole_prong": "Round the buckle's prong the size hole leaves {found}; the prong needs {limit}.",
    "prong_slot_length": "The prong's slot is {found} long; to swing round the bar the prong needs {limit}.",
    "fastener_grip_min": "The stack is {found} where the leather is thinnest; this fastener holds from {limit} on.",
    "fastener_grip_max": "The stack is {found} where the leather is thickest; this fastener holds up to {limit}.",
    "prong_clinch_min": "The prongs stand out {found} behind the thickest leather; to clinch they need {limit}.",
    "prong_clinch_max": "The prongs stand out {found} behind the thinnest leather; a clinch folds up to {limit}.",
    "shank_reach": "The shank stands out {found} behind the thickest leather; the lace needs {limit}.",
    "lining_run": "Beside the back of {what} {found} is left to the edge; to come down to it the lining takes {limit}.",
    "post_grip_min": "The leather is {found} at its thinnest; this screw post holds from {limit} on.",
    "post_grip_max": "The leather is {found} at its thickest; this screw post spans up to {limit}.",
    "strip_length": "The {what} is {found} long; this leather yields strips of {limit}.",
    "strip_width": "The {what} is {found} wide; this leather is usable over {limit}.",
    "stitch_edge": "From {what} to the edge there is {found}; {limit} is the least.",
    "stitch_web": "Between {what} {found} of leather would stay; {limit} is the least.",
    "stitch_clear": "Between {what} there is {found}; {limit} is the least.",
    "stitch_room": "Inside the inset {found} is left for {what}; one stitch alone takes {limit}.",
    "stitched_fold": "The fold is stitched over {found} of its length; it holds from {limit} on.",
    "end_depth": "The shaped ends of the {what} are {found} deep together; it is only {limit} long.",
}

_OVERLAPS = {
    "edge_web": "The cut for {what} runs out over the edge by {found_abs}; {limit} of leather must stay.",
    "ornament_edge": "{What} stands out over the edge by {found_abs}; it must keep {limit} inside.",
    "cut_web": "The cuts for {what} run into each other by {found_abs}; {limit} of leather must stay.",
    "ornament_clear": "{What} overlap by {found_abs}; a clear gap of {limit} is the least.",
    "cap_clear": "The caps of {what} and its neighbour overlap by {found_abs}; {limit} between them is the least.",
    "hardware_clear": "{What} overlaps a rivet, a hole or a billet by {found_abs}; it must keep {limit} away.",
    "tail_gap": "The turned-back tail runs {found_abs} past the body's end.",
    "stitch_web": "{What} run into each other by {found_abs}; {limit} of leather must stay.",
    "stitch_clear": "{What} overlap by {found_abs}; {limit} between them is the least.",
    "end_distance": "The hole for {what} lies {found_abs} beyond the end of its piece.",
    "prong_clinch_min": "The prongs end {found_abs} inside the thickest leather; a clinch needs {limit} behind it.",
    "shank_reach": "The shank ends {found_abs} inside the thickest leather; the lace needs {limit} behind it.",
    "keeper_room": "The frame reaches {found_abs} beyond the keeper's place; the keeper needs {limit}.",
    "ring_room": "The first two rivets are {found_abs} too near for any collar ring; this one needs {limit}.",
    "size_hole_prong": "The size hole is narrower than the buckle's prong by {found_abs}.",
    "tip_clear": "Buckled at the middle hole, the tip comes to lie {found_abs} over {what}, and cannot lie down there.",
    "stitch_room": "The inset leaves {found_abs} less than nothing for {what}; one stitch alone takes {limit}.",
}
"""What is said instead where there is less than nothing."""

_CODES = {
    "end_distance": "end_distance_short", "cut_web": "cuts_too_close", "cap_clear": "caps_too_close",
    "joint_alignment": "joint_misaligned",
    "tail_gap": "tail_meets_body", "fold_reach": "fold_too_short", "keeper_room": "keeper_room_short",
    "first_size_hole": "first_size_hole_near", "tongue_reach": "tip_short", "tip_clear": "tip_on_ornament",
    "buckle_width": "buckle_narrow",
    "buckle_slack": "buckle_wide", "ring_width": "ring_narrow", "ring_room": "ring_room_short",
    "punch_size": "no_punch", "punch_fit": "no_punch",
    "hanging_hole_punch": "no_punch", "size_hole_punch": "no_punch", "size_hole_prong": "size_hole_narrow",
    "prong_slot_length": "prong_slot_short",
    "fastener_grip_min": "fastener_long", "fastener_grip_max": "fastener_short",
    "prong_clinch_min": "prongs_short", "prong_clinch_max": "prongs_long", "shank_reach": "shank_short",
    "lining_run": "lining_steep",
    "post_grip_min": "post_long", "post_grip_max": "post_short", "strip_length": "strip_too_long",
    "strip_width": "strip_too_wide", "end_depth": "ends_too_deep", "stitch_edge": "stitches_near_edge",
    "stitch_web": "stitches_near_cut", "stitch_clear": "stitches_crowded", "stitch_room": "stitches_without_room",
    "stitched_fold": "stitched_fold_short",
}  # fmt: skip


def faults_of(measures: Iterable[Measured], job: Job) -> tuple[Fault, ...]:
    """One fault for each failed rule and field: the worst place of each.

    A row that finds no room is told so, and a ring that is too narrow, and not that they lie under the tip as well.
    """
    worst: dict[tuple[Path, str], tuple[int, Fault]] = {}
    for measured in measures:
        if not measured.check.passed:
            fault = _fault(measured, job)
            key = (fault.path, fault.code)
            excess = abs(measured.check.value - measured.check.limit)
            if key not in worst or excess > worst[key][0]:
                worst[key] = (excess, fault)
    found = tuple(fault for _, fault in worst.values())
    unfit = {fault.path for fault in found if fault.code in ("ornaments_crowded", "ring_narrow")}
    return tuple(fault for fault in found if fault.code != "tip_on_ornament" or fault.path not in unfit)


def _fault(measured: Measured, job: Job) -> Fault:
    check, kinds = measured.check, measured.subject.split("+")
    path, code = _path(measured, kinds, job), _code(check.rule, kinds)
    if check.rule in ("edge_web", "ornament_edge") and _row_overflows(kinds, job):
        path, code = ("ornaments", "count"), "ornaments_crowded"
    return Fault(
        path=path,
        code=code,
        detail=_sentence(check, measured.subject, job),
        limit=check.limit,
        found=check.value,
    )


def _row_overflows(kinds: list[str], job: Job) -> bool:
    """Whether the row at its given pitch is longer than what it stands on."""
    if kinds[0] not in ("ornament", "between"):
        return False
    measures = measure(job)
    places = said(measures.stations).places
    return bool(places) and places[0] < measures.run.start


def _sentence(check: Check, subject: str, job: Job) -> str:
    what = " and ".join(_NAMES.get(name, name.replace("_", " ")) for name in subject.split("+"))
    if "+" not in subject and check.rule in ("ornament_clear", "cut_web") and subject in _NAMES:
        what = f"{what} and its neighbour"
    sentence = _SENTENCES[check.rule]
    if check.value < 0:
        sentence = _OVERLAPS.get(check.rule, sentence)
    found, limit = readings(check.value, check.limit, job.units)
    told = sentence.format(
        what=what,
        What=what[0].upper() + what[1:],
        found=found,
        found_abs=readings(abs(check.value), 0, job.units)[0],
        limit=limit,
    )
    return told + _buckle_wanted(job) if check.rule in ("buckle_width", "buckle_slack") else told


def _buckle_wanted(job: Job) -> str:
    """What buckle a strap of this width takes."""
    width = job.strap_width
    least, most = reading(width, job.units), reading(width + job.rules.buckle_slack, job.units)
    return f" A strap of {least} takes one of {least} to {most} inside."


def _code(rule: str, kinds: list[str]) -> str:
    if rule in ("ornament_clear", "hardware_clear"):
        whose = next((PARTS[kind] for kind in ("border", "between") if kind in kinds), "ornaments")
        return f"{whose}_crowded"
    if rule == "ornament_edge":
        return "border_off_edge" if "border" in kinds else "ornament_off_edge"
    if rule == "edge_web":
        return "cut_near_edge"
    return _CODES[rule]


def _path(measured: Measured, kinds: list[str], job: Job) -> Path:
    check = measured.check
    if kinds[0] == "hanger" and check.rule in ("edge_web", "hanging_hole_punch"):
        end = "head" if check.at[0].endswith(".1") else "foot"
        return ("ends", end, said(getattr(job.spec.ends, end).kind))
    place = _PLACES.get(check.rule)
    return place(measured, kinds, job) if place else ("billet", "buckle")


def _crowded_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    if "border" in kinds:
        return border_path(job.spec, measured.item, "step" if kinds == ["border"] else "inset")
    return item_path(job.spec, "between", measured.item) if "between" in kinds else ("ornaments", "count")


def _web_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    decoration = next((kind for kind in ("border", "between", "ornament") if kind in kinds), None)
    if measured.check.rule == "cut_web":
        spacings: dict[str, Path] = {"size_hole": ("billet", "size_holes", "spacing")}
        if decoration == "ornament":
            return ("ornaments", "count")
        return (
            item_path(job.spec, decoration, measured.item)
            if decoration
            else spacings.get(kinds[0], ("joint", "spacing"))
        )
    if measured.check.rule == "ornament_edge" and decoration == "border":
        return border_path(job.spec, measured.item, "inset")
    if decoration:
        return item_path(job.spec, decoration, measured.item)
    if kinds[0] == "keeper_rivet":
        return ("billet", "keeper_width")
    return ("billet", "width") if job.spec.construction == "three_piece" else ("body", "width")


def _joint_path(measured: Measured, kinds: list[str], _job: Job) -> Path:
    if kinds[0] in ("keeper", "keeper_rivet"):
        return ("billet", "keeper")
    if kinds[0] == "fold":
        return ("leather",)
    return ("joint", "fastener") if measured.check.rule.startswith("fastener") else ("joint", "end_distance")


def _punch_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    if kinds[0] in PARTS:
        return item_path(job.spec, kinds[0], measured.item)
    if kinds[0] in ("joint", "fold_rivet"):
        return ("joint", "fastener")
    if measured.check.rule in ("size_hole_punch", "size_hole_prong"):
        return ("billet", "size_holes", "diameter")
    return ("billet", "keeper") if kinds[0] == "keeper_rivet" else ("billet", "buckle")


def _slot_path(_measured: Measured, _kinds: list[str], _job: Job) -> Path:
    return ("billet", "prong_slot")


def _piece_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    rule, piece = measured.check.rule, kinds[0]
    if piece == "lining":
        return ("lining",)
    if rule == "strip_length":
        return size_path(job) if piece in ("body", "strap") else ("leather",)
    if rule == "strip_width":
        return ("body", "width")
    if piece == "body":
        return ("body", "end", "depth")
    return ("ends", "head", "depth") if job.spec.construction == "open" else ("billet", "tip", "depth")


def _item_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    return item_path(job.spec, kinds[0], measured.item)


def _stitch_path(measured: Measured, kinds: list[str], _job: Job) -> Path:
    if measured.check.rule == "stitched_fold":
        return ("joint", "end_distance")
    return ("stitching", "inset" if "edge_stitch" in kinds else "turn_back")


def _ring_path(measured: Measured, kinds: list[str], _job: Job) -> Path:
    if measured.check.rule == "ring_room":
        return ("joint", "spacing")
    return ("billet", "ring") if kinds[0] == "lead" else ("ends", kinds[0], "ring")


def _tip_path(measured: Measured, kinds: list[str], job: Job) -> Path:
    if measured.check.rule == "tongue_reach":
        return ("billet", "buckle" if job.spec.billet.tip_length is None else "tip_length")
    if kinds[0] == "lead":
        return ("billet", "ring")
    return ("ornaments", "count") if kinds[0] == "ornament" else item_path(job.spec, kinds[0], measured.item)


_PLACES: dict[str, Callable[[Measured, list[str], Job], Path]] = {
    **dict.fromkeys(("ornament_clear", "hardware_clear"), _crowded_path),
    "cap_clear": lambda *_: ("joint", "spacing"),
    **dict.fromkeys(("edge_web", "ornament_edge", "cut_web"), _web_path),
    **dict.fromkeys(("end_distance", "tail_gap", "fastener_grip_min", "fastener_grip_max"), _joint_path),
    **dict.fromkeys(
        ("punch_size", "punch_fit", "hanging_hole_punch", "size_hole_punch", "size_hole_prong"), _punch_path
    ),
    "prong_slot_length": _slot_path,
    **dict.fromkeys(
        ("prong_clinch_min", "prong_clinch_max", "shank_reach", "post_grip_min", "post_grip_max", "lining_run"),
        _item_path,
    ),
    **dict.fromkeys(("tongue_reach", "tip_clear"), _tip_path),
    **dict.fromkeys(("strip_length", "strip_width", "end_depth"), _piece_path),
    **dict.fromkeys(("ring_width", "ring_room"), _ring_path),
    **dict.fromkeys(("stitch_edge", "stitch_web", "stitch_clear", "stitch_room", "stitched_fold"), _stitch_path),
}
"""Where each rule's fault is told; a rule that is not here is the buckle's."""
