"""Cures for single faults, worked out from the solver's bounds and from the goods in the shop."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from service.shop.shop import Shop
from service.strap.errors import Cure, Fault, FigureFault, Refusal
from service.strap.filling.fill import fill
from service.strap.filling.resolve import resolve
from service.strap.making.measures import size_path
from service.strap.model.filled import Filled
from service.strap.model.job import Job
from service.strap.model.places import shape_path, shaped_ends, value_at
from service.strap.model.short_form import said_at
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change, Changes
from service.strap.model.two_ends import FOOT
from service.strap.plane.outline import default_depth
from service.strap.plane.spacing import round_up
from service.strap.remedies.buckle_cures import (
    as_usual,
    hole_near,
    keeper_unheld,
    other_buckle,
    prong_slot_short,
    size_hole,
    tail_meets_body,
    tongue_width,
    wider_keeper,
)
from service.strap.remedies.cure_tools import Candidates, longer, outer_width_paths, ruler_step, wider
from service.strap.remedies.decoration_cures import (
    between_crowded,
    border_crowded,
    border_cuts_crowded,
    border_off_edge,
    crowded,
    off_edge,
)
from service.strap.remedies.edging_cures import edging_clear, edging_reach, edging_room, edging_seen
from service.strap.remedies.goods_cures import (
    fastener_for_punch,
    hanging_hole,
    lining_steep,
    other_fastener,
    other_item,
    other_snap,
)
from service.strap.remedies.keeper_cures import fixed_crowded, fixed_unheld, fixed_unriveted, keepers_crowded
from service.strap.remedies.spec_cures import WAYS_OF_A_SPEC
from service.strap.remedies.splice_cures import (
    fewer_lines,
    fewer_splices,
    longer_lining,
    longer_strips,
    more_splices,
    splice_place,
    spliced,
)
from service.strap.remedies.stitch_cures import (
    other_linings,
    other_plies,
    stitched_fold_short,
    stitches_crowded,
    stitches_near_edge,
    stitches_without_room,
)
from service.strap.remedies.taper_cures import by_hand, shorter_taper, straight_edge
from service.strap.remedies.worn_cures import tip_on_ornament, tip_short, usual_tips, wider_ring
from service.strap.rules.blame import row_at


def cures_for(spec: Spec, shop: Shop, fault: Fault) -> tuple[Changes, ...]:
    """Changes that may cure the fault, one or a few together, likeliest first. They are not tried here."""
    cures = tuple(cure if isinstance(cure, tuple) else (cure,) for cure in _cures(spec, shop, fault))
    if spec.construction != "two_ends" or not cures:
        return cures
    named, of_foot = fill(spec, shop), _is_of_foot(fault)
    return tuple(_as_said(cure, named, of_foot=of_foot) for cure in cures)


def _as_said(cure: Changes, named: Filled, *, of_foot: bool) -> Changes:
    """The changes at the places where this spec says what they change."""
    return tuple(replace(change, path=path) for change in cure for path in said_at(named, change.path, of_foot=of_foot))


def _is_of_foot(fault: Fault) -> bool:
    """Whether it is told of what stands at the foot."""
    return fault.path[:2] == FOOT


def _cures(spec: Spec, shop: Shop, fault: Fault) -> Iterable[Change | Changes]:
    if fault.cure is None:
        return ()
    if fault.cure in WAYS_OF_A_SPEC:
        return WAYS_OF_A_SPEC[fault.cure](spec, shop, fault)
    try:
        job = resolve(spec, shop)
    except Refusal:
        return ()
    if spec.construction == "two_ends" and _is_of_foot(fault):
        job = replace(job, head=job.foot, foot=job.head)
    return WAYS[fault.cure](job, fault) if isinstance(fault, FigureFault) else WAYS_WITHOUT_FIGURE[fault.cure](fault)


# ---------------------------------------------------------------- size


def _lengthen(job: Job, fault: FigureFault) -> Candidates:
    """A longer strap, or ends no deeper and no longer than is usual."""
    yield from longer(job, fault.short)
    for path, end, width in shaped_ends(job.spec):
        if end.shape and (end.depth or 0) > default_depth(end.shape, width):
            yield Change(path=(*path, "depth"), value=None, why="shape the end as usual")
    yield from as_usual(job)
    yield from usual_tips(job)


def _shorter(job: Job, fault: FigureFault) -> Candidates:
    """The longest size that the leather yields, or a leather that yields more."""
    over = -fault.short
    yield from usual_tips(job)
    yield from spliced(job)
    if fault.path[-1] == "spacing":
        yield Change(path=fault.path, value=None, why="punch them as far apart as usual")
    if fault.path[0] == "size" and job.spec.size.table is None:
        step = ruler_step(job)
        yield Change(
            path=size_path(job),
            value=(job.spec.size.stated - over) // step * step,
            is_length=True,
            why="make it shorter" if job.spec.size.girth is None else "make it for a smaller girth",
        )
    yield from longer_strips(job, fault.found)


def _narrower(_job: Job, fault: FigureFault) -> Candidates:
    yield Change(path=fault.path, value=fault.limit, is_length=True, why="make it narrower")


# ---------------------------------------------------------------- edges, joints, holes and hardware


def _hanging_hole_from_edge(job: Job, fault: FigureFault) -> Candidates:
    """A hanging hole or slot that leaves enough at both sides, or as small as usual, or farther from a shaped end."""
    defaults = job.shop.defaults.in_units(job.units)
    usual = defaults.hang_hole if fault.path[-1] == "hole" else defaults.hang_slot
    asked = value_at(job.spec, fault.path)
    if isinstance(asked, int):
        for smaller in ((asked - 2 * fault.short) // ruler_step(job) * ruler_step(job), usual):
            if 0 < smaller < asked:
                yield Change(path=fault.path, value=smaller, is_length=True, why="make it smaller")
    depth = value_at(job.spec, (*fault.path[:-1], "depth"))
    clear = round_up((depth if isinstance(depth, int) else 0) + job.rules.edge_web + usual // 2, ruler_step(job))
    yield Change(path=("joint", "end_distance"), value=clear, is_length=True, why="move it from the shaped end")
    yield from _cut_from_edge(job, fault)


def _cut_from_edge(job: Job, fault: FigureFault) -> Candidates:
    """A tip that is shaped less, more end distance, for a hole near a pointed end; or a wider strap."""
    short = fault.short
    yield from usual_tips(job)
    yield from _less_shaped(job)
    yield from _end_distance(job, fault)
    if job.head.is_billet:
        width = round_up(job.strap_width + 2 * short, ruler_step(job))
        yield Change(path=("billet", "width"), value=width, is_length=True, why="make the billets wider")
    yield from wider(job, 2 * short)


def _less_shaped(job: Job) -> Candidates:
    """Each tip rounder, and less deep."""
    for end in job.ends:
        shape, depth = (shape_path(end.outermost.place, member) for member in ("shape", "depth"))
        if end.is_tongue:
            yield Change(path=shape, value="round", why="shape the tip less")
            yield Change(path=depth, value=job.strap_width // 4, is_length=True, why="shape the tip less")


def _end_distance(job: Job, fault: FigureFault) -> Candidates:
    end = round_up(job.end_distance + fault.short, ruler_step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the end")


def _rivets_apart(job: Job, fault: FigureFault) -> Candidates:
    spacing = round_up(job.joint_spacing + fault.short, ruler_step(job) // 2)
    yield Change(path=("joint", "spacing"), value=spacing, is_length=True, why="set the rivets wider apart")
    yield Change(path=("joint", "count"), value=1, why="set one rivet")


def _size_holes_apart(job: Job, fault: FigureFault) -> Candidates:
    spacing = round_up(row_at(fault.path, job).spacing + fault.short, ruler_step(job) // 2)
    yield Change(path=fault.path, value=spacing, is_length=True, why="punch them wider apart")


def _other_ring(job: Job, fault: FigureFault) -> Candidates:
    """Rings that this strap goes through; then the rings in the shop, each with its width, the widest first.

    A hook is asked for to be hooked in: hooks stand for hooks, rings for rings.
    """
    asked, step = value_at(job.spec, fault.path), ruler_step(job)
    present = job.shop.rings[str(asked)]
    alike = [ring for ring in job.shop.rings.values() if (ring.shape == "hook") is (present.shape == "hook")]
    paths = outer_width_paths(job)
    for ring in sorted(alike, key=lambda ring: ring.inside_width):
        if ring.inside_width >= job.strap_width and ring.id != asked:
            why = "take a wider ring" if ring.inside_width > present.inside_width else "take a ring that fits"
            yield Change(path=fault.path, value=ring.id, why=why)
    for ring in sorted(alike, key=lambda ring: -ring.inside_width):
        if ring.inside_width < job.strap_width:
            width = ring.inside_width // step * step
            narrower = tuple(Change(path=path, value=width, is_length=True, why="make it narrower") for path in paths)
            own = Change(path=fault.path, value=ring.id, why="take its ring")
            yield narrower if ring.id == asked else (*narrower, own)


def _billet_adds(job: Job, fault: FigureFault) -> Candidates:
    length = round_up(fault.limit, ruler_step(job))
    yield Change(path=fault.path, value=length, is_length=True, why="make the billet longer")
    yield Change(path=fault.path, value=None, why="leave it as long as it has to be")


def _joining_width(_job: Job, fault: FigureFault) -> Candidates:
    yield Change(path=fault.path, value=None, why="make it as wide as the straps in the buckles")


def _joining_room(job: Job, fault: FigureFault) -> Candidates:
    """Longer by what is short, at its outermost holes as at its innermost."""
    joining, step = job.spec.joining_strap, ruler_step(job)
    if joining and joining.length is not None:
        length = round_up(joining.length + fault.short, step)
        yield Change(path=fault.path, value=length, is_length=True, why="make it longer")
    if joining is None or joining.adds is None:
        return
    adds = {"from": joining.adds.least, "to": joining.adds.most}
    longer_by = {name: round_up(length + fault.short, step) for name, length in adds.items()}
    yield tuple(
        Change(path=(*fault.path, name), value=length, is_length=True, why="make it longer")
        for name, length in longer_by.items()
    )


def _studs_apart(job: Job, fault: FigureFault) -> Candidates:
    """Farther apart by what is short, or a single one."""
    asked, step = value_at(job.spec, fault.path), ruler_step(job) // 2
    spacing = round_up(int(str(asked)) + fault.short, step)
    yield Change(path=fault.path, value=spacing, is_length=True, why="set the studs wider apart")
    yield Change(path=(*fault.path[:-1], "count"), value=1, why="set one stud")


def _ring_room(job: Job, fault: FigureFault) -> Candidates:
    """A second rivet to hold the ring, and room between the two for it."""
    if job.joint_count == 1:
        yield Change(path=("joint", "count"), value=2, why="set two rivets")
    spacing = round_up(job.joint_spacing + fault.short, ruler_step(job) // 2)
    yield Change(path=("joint", "spacing"), value=spacing, is_length=True, why="make room for the ring")


def _level_rows(fault: Fault) -> Candidates:
    yield Change(path=fault.path, value="level", why="set the rows level")


def _shallower_ends(job: Job, fault: FigureFault) -> Candidates:
    depth = fault.limit // 4
    yield Change(path=fault.path, value=depth, is_length=True, why="shape the ends less deep")
    yield from longer(job, -fault.short)


WAYS: dict[Cure, Callable[[Job, FigureFault], Candidates]] = {
    Cure.LENGTHEN: _lengthen,
    Cure.ROW: crowded,
    Cure.BETWEEN: between_crowded,
    Cure.BORDER: border_crowded,
    Cure.BORDER_INSET: border_off_edge,
    Cure.BORDER_CUTS: border_cuts_crowded,
    Cure.FROM_EDGE: off_edge,
    Cure.OTHER_ITEM: other_item,
    Cure.LOWER_BACKS: lining_steep,
    Cure.CUT_FROM_EDGE: _cut_from_edge,
    Cure.HANGING_HOLE_FROM_EDGE: _hanging_hole_from_edge,
    Cure.HANGING_HOLE_SIZE: hanging_hole,
    Cure.END_DISTANCE: _end_distance,
    Cure.RIVETS_APART: _rivets_apart,
    Cure.SIZE_HOLES_APART: _size_holes_apart,
    Cure.SIZE_HOLE_DIAMETER: size_hole,
    Cure.OTHER_FASTENER: other_fastener,
    Cure.FASTENER_FOR_PUNCH: fastener_for_punch,
    Cure.OTHER_PLIES: other_plies,
    Cure.OTHER_BUCKLE: other_buckle,
    Cure.WIDER_KEEPER: wider_keeper,
    Cure.KEEPERS_CLEAR: keepers_crowded,
    Cure.KEEPER_LAP: keeper_unheld,
    Cure.FIXED_KEEPER: fixed_unriveted,
    Cure.FIXED_KEEPERS_APART: fixed_crowded,
    Cure.FIXED_KEEPER_HELD: fixed_unheld,
    Cure.PRONG_SLOT: prong_slot_short,
    Cure.TAIL: tail_meets_body,
    Cure.FIRST_SIZE_HOLE: hole_near,
    Cure.TIP_LENGTH: tip_short,
    Cure.TIP_OFF_ORNAMENT: tip_on_ornament,
    Cure.TIP_THROUGH_RING: wider_ring,
    Cure.OTHER_RING: _other_ring,
    Cure.OTHER_SNAP: other_snap,
    Cure.STUDS_APART: _studs_apart,
    Cure.JOINING_WIDTH: _joining_width,
    Cure.JOINING_ROOM: _joining_room,
    Cure.BILLET_ADDS: _billet_adds,
    Cure.RING_ROOM: _ring_room,
    Cure.SHORTER: _shorter,
    Cure.MORE_SPLICES: more_splices,
    Cure.FEWER_SPLICES: fewer_splices,
    Cure.SPLICE_PLACE: splice_place,
    Cure.FEWER_SPLICE_LINES: fewer_lines,
    Cure.NARROWER: _narrower,
    Cure.LONGER_LINING: longer_lining,
    Cure.OTHER_LINING: other_linings,
    Cure.SHALLOWER_ENDS: _shallower_ends,
    Cure.SHORTER_TAPER: shorter_taper,
    Cure.EDGE_ROOM: straight_edge,
    Cure.EDGE_STRETCH: by_hand,
    Cure.EDGING_ROOM: edging_room,
    Cure.EDGING_REACH: edging_reach,
    Cure.EDGING_SEEN: edging_seen,
    Cure.EDGING_CLEAR: edging_clear,
    Cure.TONGUE_WIDTH: tongue_width,
    Cure.STITCH_INSET: stitches_near_edge,
    Cure.STITCHES_CLEAR: stitches_crowded,
    Cure.STITCH_ROOM: stitches_without_room,
    Cure.STITCHED_FOLD: stitched_fold_short,
}
"""How each kind of change to a spec that is a job is worked out; the others are `WAYS_OF_A_SPEC`."""
WAYS_WITHOUT_FIGURE: dict[Cure, Callable[[Fault], Candidates]] = {Cure.LEVEL_ROWS: _level_rows}
"""The same where no figure is wrong."""
