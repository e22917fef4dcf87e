"""Cures for single faults, worked out from the solver's bounds and from the goods in the shop."""

from collections.abc import Callable, Iterable
from difflib import get_close_matches

from service.shop.shop import Shop
from service.strap.errors import Fault, Refusal
from service.strap.filling.fill import fill
from service.strap.filling.resolve import resolve
from service.strap.making.measures import size_path, stated_size
from service.strap.model.job import Job, said
from service.strap.model.places import lining_path, shaped_ends, value_at
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change, Changes
from service.strap.plane.lengths import MM
from service.strap.plane.outline import default_depth
from service.strap.plane.spacing import round_up
from service.strap.remedies.buckle_cures import (
    KEEPER_WIDTH,
    as_usual,
    hole_near,
    other_buckle,
    prong_slot_short,
    size_hole,
    tail_meets_body,
    wider_keeper,
)
from service.strap.remedies.cure_tools import Cures, by_thickness, longer, ruler_step, wider
from service.strap.remedies.decoration_cures import (
    between_crowded,
    border_crowded,
    border_cuts_crowded,
    border_off_edge,
    crowded,
    off_edge,
)
from service.strap.remedies.goods_cures import lining_steep, other_fastener, other_item, other_punch
from service.strap.remedies.stitch_cures import (
    other_linings,
    stitched_fold_short,
    stitches_crowded,
    stitches_near_edge,
    stitches_without_room,
)
from service.strap.remedies.worn_cures import tip_on_ornament, tip_short, usual_tip


def cures_for(spec: Spec, shop: Shop, fault: Fault) -> tuple[Changes, ...]:
    """Changes that may cure the fault, one or a few together, likeliest first. They are not tried here."""
    return tuple(cure if isinstance(cure, tuple) else (cure,) for cure in _cures(spec, shop, fault))


def _cures(spec: Spec, shop: Shop, fault: Fault) -> Iterable[Change | Changes]:
    if fault.code.startswith("unknown_"):
        return _known_goods(spec, shop, fault)
    if fault.code == "too_many_features":
        return _fewer_features(fill(spec, shop), fault)
    if fault.code == "without_meaning" and fault.path not in (("size", "girth"), ("size", "table")):
        return (Change(path=fault.path, value=None, why="leave it out"),)
    clamp = _clamp(fault)
    if clamp:
        return clamp
    try:
        job = resolve(spec, shop)
    except Refusal:
        return ()
    cure = _CURES.get(fault.code)
    return cure(job, fault) if cure else ()


def _known_goods(spec: Spec, shop: Shop, fault: Fault) -> Cures:
    goods: Iterable[str] = {
        "leather": shop.leathers,
        "buckle": shop.buckles,
        "fastener": shop.fasteners,
        "ring": shop.rings,
        "ornament": shop.ornaments,
        "size_table": shop.size_tables,
        "size_label": table.sizes if (table := shop.size_tables.get(spec.size.table or "")) else (),
    }[fault.code.removeprefix("unknown_")]
    asked = str(value_at(spec, fault.path))
    most = 1 if fault.code == "unknown_size_label" else 3
    for name in get_close_matches(asked, goods, n=most, cutoff=0.3) or list(goods)[:3]:
        yield Change(path=fault.path, value=name, why="take one that this shop has")


def _fewer_features(spec: Spec, fault: Fault) -> Cures:
    """Steps so much wider, or so many fewer between, that the count comes under the limit."""
    most, found = said(fault.limit), said(fault.found)
    asked = value_at(spec, fault.path)
    if not isinstance(asked, int):
        return
    if fault.path[-1] in ("step", "pitch"):
        step = round_up(asked * (2 * found // most), MM)
        yield Change(path=fault.path, value=step, is_length=True, why="set them wider apart")
    else:
        why = "set fewer" if fault.path[-1] == "count" else "set fewer between"
        yield Change(path=fault.path, value=max(asked * most // (2 * found), 1), why=why)


def _clamp(fault: Fault) -> tuple[Change, ...]:
    """The nearest value inside a limit of the shop."""
    by_limit = ("beyond_limits", "size_holes_even", "depth_fixed", "billet_wider_than_body", "centrepiece_uneven")
    if fault.limit is None or not fault.code.endswith(by_limit):
        return ()
    clamp = Change(path=fault.path, value=fault.limit, is_length=fault.is_length, why="keep the limit")
    if fault.code == "billet_wider_than_body":
        body = Change(path=("body", "width"), value=fault.found, is_length=True, why="make the body as wide")
        return body, clamp
    return (clamp,)


# ---------------------------------------------------------------- size


def _size_too_short(job: Job, fault: Fault) -> Cures:
    """A longer strap, or ends no deeper than is usual for their shape."""
    yield from longer(job, said(fault.limit) - said(fault.found))
    for path, end, width in shaped_ends(job.spec):
        if end.shape and (end.depth or 0) > default_depth(end.shape, width):
            yield Change(path=(*path, "depth"), value=None, why="shape the end as usual")
    yield from as_usual(job)


def _strip_too_long(job: Job, fault: Fault) -> Cures:
    """The longest size that the leather yields, or a leather that yields more."""
    over = said(fault.found) - said(fault.limit)
    if job.spec.billet.tip_length is not None:
        yield usual_tip()
    if fault.path[0] == "size" and job.spec.size.table is None:
        step = ruler_step(job)
        yield Change(
            path=size_path(job),
            value=(stated_size(job) - over) // step * step,
            is_length=True,
            why="make it shorter" if job.spec.size.girth is None else "make it for a smaller girth",
        )
    of_lining = fault.path == ("lining",)
    path = lining_path(job.spec) if of_lining else ("leather",)
    for leather in by_thickness(job):
        if leather.strip_length >= said(fault.found):
            yield Change(path=path, value=leather.id, why="take a leather with longer strips")
    if of_lining:
        yield Change(path=("lining",), value=None, why="leave out the lining")


def _strip_too_wide(job: Job, fault: Fault) -> Cures:
    if fault.path == ("lining",):
        yield from other_linings(job)
        return
    yield Change(path=("body", "width"), value=said(fault.limit), is_length=True, why="make it narrower")


# ---------------------------------------------------------------- edges, joints, holes and hardware


def _cut_near_edge(job: Job, fault: Fault) -> Cures:
    """A wider strap, or whatever makes a smaller cut; a hole near a pointed end wants more end distance."""
    short = said(fault.limit) - said(fault.found)
    if fault.path[0] in ("ornaments", "between", "border"):
        yield from off_edge(job, fault)
        return
    if fault.path == KEEPER_WIDTH:
        yield from wider_keeper(job, short)
        return
    defaults = job.shop.defaults.in_units(job.units)
    usual = {"hole": defaults.hang_hole, "slot": defaults.hang_slot}.get(fault.path[-1])
    if usual and usual != value_at(job.spec, fault.path):
        yield Change(path=fault.path, value=usual, is_length=True, why="make it smaller")
    if usual:
        depth = value_at(job.spec, (*fault.path[:-1], "depth"))
        clear = round_up((depth if isinstance(depth, int) else 0) + job.rules.edge_web + usual // 2, ruler_step(job))
        yield Change(path=("joint", "end_distance"), value=clear, is_length=True, why="move it from the shaped end")
    if job.spec.billet.tip_length is not None:
        yield usual_tip()
    if job.spec.billet.tip.shape:
        yield Change(path=("billet", "tip", "shape"), value="round", why="shape the tip less")
        yield Change(
            path=("billet", "tip", "depth"),
            value=job.strap_width // 4,
            is_length=True,
            why="shape the tip less",
        )
    end = round_up(job.end_distance + short, ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the end")
    if job.spec.construction == "three_piece":
        width = round_up(job.strap_width + 2 * short, ruler_step(job))
        yield Change(path=("billet", "width"), value=width, is_length=True, why="make the billets wider")
    yield from wider(job, 2 * short)


def _end_distance(job: Job, fault: Fault) -> Cures:
    end = round_up(job.end_distance + said(fault.limit) - said(fault.found), ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the end")


def _cuts_too_close(job: Job, fault: Fault) -> Cures:
    short = said(fault.limit) - said(fault.found)
    if fault.path[0] == "joint":
        spacing = round_up(job.joint_spacing + short, ruler_step(job) // 2)
        yield Change(path=("joint", "spacing"), value=spacing, is_length=True, why="set the rivets wider apart")
        yield Change(path=("joint", "count"), value=1, why="set one rivet")
    elif fault.path[0] == "billet":
        spacing = round_up(said(job.spec.billet.size_holes.spacing) + short, ruler_step(job) // 2)
        yield Change(
            path=("billet", "size_holes", "spacing"),
            value=spacing,
            is_length=True,
            why="punch them wider apart",
        )
    elif fault.path[0] == "border":
        yield from border_cuts_crowded(job, fault)
    else:
        yield from crowded(job, fault)


def _ring_narrow(job: Job, fault: Fault) -> Cures:
    """Rings that this strap goes through; then the rings in the shop, each with its width, the widest first."""
    for ring in sorted(job.shop.rings.values(), key=lambda ring: ring.inside_width):
        if ring.inside_width >= job.strap_width:
            yield Change(path=fault.path, value=ring.id, why="take a wider ring")
    asked, step = value_at(job.spec, fault.path), ruler_step(job)
    for ring in sorted(job.shop.rings.values(), key=lambda ring: -ring.inside_width):
        if ring.inside_width < job.strap_width:
            width = ring.inside_width // step * step
            narrower = Change(path=("body", "width"), value=width, is_length=True, why="make it narrower")
            own = Change(path=fault.path, value=ring.id, why="take its ring")
            yield (narrower,) if ring.id == asked else (narrower, own)


def _ring_room(job: Job, fault: Fault) -> Cures:
    """A second rivet to hold the ring, and room between the two for it."""
    if job.joint_count == 1:
        yield Change(path=("joint", "count"), value=2, why="set two rivets")
    spacing = round_up(job.joint_spacing + said(fault.limit) - said(fault.found), ruler_step(job) // 2)
    yield Change(path=("joint", "spacing"), value=spacing, is_length=True, why="make room for the ring")


def _level_rows(_job: Job, fault: Fault) -> Cures:
    yield Change(path=fault.path, value="level", why="set the rows level")


def _ends_too_deep(job: Job, fault: Fault) -> Cures:
    depth = said(fault.limit) // 4
    yield Change(path=fault.path, value=depth, is_length=True, why="shape the ends less deep")
    yield from longer(job, said(fault.found) - said(fault.limit))


_CURES: dict[str, Callable[[Job, Fault], Cures]] = {
    "size_too_short": _size_too_short,
    "strip_too_long": _strip_too_long,
    "strip_too_wide": _strip_too_wide,
    "ornaments_crowded": crowded,
    "between_crowded": between_crowded,
    "border_crowded": border_crowded,
    "border_off_edge": border_off_edge,
    "ornament_off_edge": off_edge,
    "cut_near_edge": _cut_near_edge,
    "end_distance_short": _end_distance,
    "cuts_too_close": _cuts_too_close,
    "caps_too_close": _cuts_too_close,
    "tail_meets_body": tail_meets_body,
    "fold_too_short": other_buckle,
    "keeper_room_short": other_buckle,
    "first_size_hole_near": hole_near,
    "tip_short": tip_short,
    "size_hole_narrow": size_hole,
    "prong_slot_short": prong_slot_short,
    "tip_on_ornament": tip_on_ornament,
    "buckle_narrow": other_buckle,
    "buckle_wide": other_buckle,
    "ring_narrow": _ring_narrow,
    "ring_room_short": _ring_room,
    "staggered_mixed": _level_rows,
    "no_punch": other_punch,
    "fastener_long": other_fastener,
    "fastener_short": other_fastener,
    "prongs_short": other_item,
    "prongs_long": other_item,
    "shank_short": other_item,
    "lining_steep": lining_steep,
    "post_long": other_item,
    "post_short": other_item,
    "ends_too_deep": _ends_too_deep,
    "stitches_near_edge": stitches_near_edge,
    "stitches_near_cut": stitches_crowded,
    "stitches_crowded": stitches_crowded,
    "stitches_without_room": stitches_without_room,
    "stitched_fold_short": stitched_fold_short,
}
