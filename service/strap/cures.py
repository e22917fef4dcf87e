"""Cures for single faults, worked out from the solver's bounds and from the goods in the shop."""

from collections.abc import Callable, Iterable, Iterator
from difflib import get_close_matches

from service.shop.goods import Nm, Ornament
from service.shop.shop import Shop
from service.strap.decoration import ornament_span, ornament_stations, spacing_rule
from service.strap.errors import Fault, Path, Refusal
from service.strap.fill import fill
from service.strap.hardware import fitting_fasteners, holds, keeper_stack, stack_of
from service.strap.job import Job, said
from service.strap.layout import measure
from service.strap.lengths import INCH, MM
from service.strap.made import size_path, stated_size
from service.strap.resolve import resolve
from service.strap.spacing import largest_count, least_span
from service.strap.spec import Spec
from service.strap.spec_changes import Change

Cures = Iterator[Change]


def cures_for(spec: Spec, shop: Shop, fault: Fault) -> tuple[Change, ...]:
    """Changes of one field each that may cure the fault, likeliest first. They are not tried here."""
    if fault.code.startswith("unknown_"):
        return tuple(_known_goods(spec, shop, fault))
    if fault.code == "too_many_features":
        return tuple(_fewer_features(fill(spec, shop), fault))
    if fault.code == "without_meaning" and fault.path[0] != "size":
        return (Change(path=fault.path, value=None, why="leave it out"),)
    clamp = _clamp(fault)
    if clamp:
        return clamp
    try:
        job = resolve(spec, shop)
    except Refusal:
        return ()
    cure = _CURES.get(fault.code)
    return tuple(cure(job, fault)) if cure else ()


def _known_goods(spec: Spec, shop: Shop, fault: Fault) -> Cures:
    kind = fault.code.removeprefix("unknown_")
    goods = {
        "leather": shop.leathers,
        "buckle": shop.buckles,
        "fastener": shop.fasteners,
        "ring": shop.rings,
        "ornament": shop.ornaments,
    }[kind]
    asked: object = spec
    for name in fault.path:
        asked = getattr(asked, name)
    near = get_close_matches(str(asked), goods, n=3, cutoff=0.3) or list(goods)[:3]
    for name in near:
        yield Change(path=fault.path, value=name, why="take one that this shop has")


def _fewer_features(spec: Spec, fault: Fault) -> Cures:
    """Steps so much wider, or so many fewer between, that the count comes under the limit."""
    most, found = said(fault.limit), said(fault.found)
    if fault.path[0] == "border" and spec.border:
        step = _up(said(spec.border.step) * (2 * found // most), MM)
        yield Change(path=fault.path, value=step, is_length=True, why="set them wider apart")
    elif spec.between:
        fewer = max(said(spec.between.per_gap) * most // (2 * found), 1)
        yield Change(path=fault.path, value=fewer, why="set fewer between")


def _clamp(fault: Fault) -> tuple[Change, ...]:
    """The nearest value inside a limit of the shop."""
    by_limit = ("beyond_limits", "size_holes_even", "depth_fixed", "billet_wider_than_body")
    if fault.limit is None or not fault.code.endswith(by_limit):
        return ()
    clamp = Change(path=fault.path, value=fault.limit, is_length=fault.is_length, why="keep the limit")
    if fault.code == "billet_wider_than_body":
        wider = Change(path=("body", "width"), value=fault.found, is_length=True, why="make the body as wide")
        return wider, clamp
    return (clamp,)


def _step(job: Job) -> Nm:
    """The step to which lengths are rounded, so that a remedy can be read off a ruler."""
    return INCH // 8 if job.units == "in" else MM


def _up(length: Nm, step: Nm) -> Nm:
    return -(-length // step) * step


# ---------------------------------------------------------------- size


def _longer(job: Job, by: Nm) -> Cures:
    if by > 0:
        length = _up(stated_size(job) + by, _step(job))
        yield Change(path=size_path(job), value=length, is_length=True, why="make it longer")


def _size_too_short(job: Job, fault: Fault) -> Cures:
    yield from _longer(job, said(fault.limit) - said(fault.found))


def _strip_too_long(job: Job, fault: Fault) -> Cures:
    """The longest size that the leather yields, or a leather that yields more."""
    over = said(fault.found) - said(fault.limit)
    if fault.path[0] == "size":
        step = _step(job)
        yield Change(
            path=size_path(job),
            value=(stated_size(job) - over) // step * step,
            is_length=True,
            why="make it shorter",
        )
    for leather in job.shop.leathers.values():
        if leather.strip_length >= said(fault.found):
            yield Change(path=("leather",), value=leather.id, why="take a leather with longer strips")


def _strip_too_wide(_job: Job, fault: Fault) -> Cures:
    yield Change(path=("body", "width"), value=said(fault.limit), is_length=True, why="make it narrower")


# ---------------------------------------------------------------- the row of ornaments


def _crowded(job: Job, _fault: Fault) -> Cures:
    """The largest count that fits, the shortest length that holds this count, the next smaller ornament."""
    row = job.spec.ornaments
    if row is None:
        return
    span = ornament_span(job, measure(job).run)
    rule = spacing_rule(job)
    for count in range(min(largest_count(span, rule) + 1, row.count - 1), 0, -1):
        yield Change(path=("ornaments", "count"), value=count, why="set fewer")
        if count <= largest_count(span, rule) - 1:
            break
    yield from _longer(job, least_span(span, row.count, rule) - span.length)
    yield from _pitches(job, rule)
    yield from _smaller(job, job.ornament, ("ornaments", "item"))


def _pitches(job: Job, rule: object) -> Cures:
    """Where a pitch was given: the widest that the span holds, and none at all."""
    row = job.spec.ornaments
    if not isinstance(rule, int) or row is None or row.count < 2:
        return
    span = ornament_span(job, measure(job).run)
    step = _step(job) // 2
    widest = (span.length - 2 * span.end_min) // (row.count - 1) // step * step
    for pitch in (_up(span.pitch_min, step), widest):
        if pitch != rule and pitch >= span.pitch_min:
            yield Change(path=("ornaments", "spacing", "pitch"), value=pitch, is_length=True, why="change the pitch")


def _smaller(job: Job, item: Ornament | None, path: Path) -> Cures:
    """Smaller ornaments of the same family, the largest first."""
    if item is None:
        return
    family = [other for other in job.shop.ornaments.values() if other.family == item.family]
    smaller = [other for other in family if other.diameter < item.diameter]
    for other in sorted(smaller, key=lambda other: -other.diameter):
        yield Change(path=path, value=other.id, why="take a smaller one")


def _between_crowded(job: Job, fault: Fault) -> Cures:
    row = job.spec.between
    yield from _smaller(job, job.between, ("between", "item"))
    if row and (row.per_gap or 0) > 1:
        yield Change(path=("between", "per_gap"), value=said(row.per_gap) - 1, why="set fewer between")
    yield from _crowded(job, fault)
    yield Change(path=("between",), value=None, why="leave out what stands between")


# ---------------------------------------------------------------- borders and edges


def _border_crowded(job: Job, fault: Fault) -> Cures:
    """More step, less inset, more width, smaller spots or smaller ornaments."""
    border, item = job.spec.border, job.border
    if border is None or item is None:
        return
    step = _step(job) // 2
    if fault.path[-1] == "step":
        clear = _up(item.diameter + job.rules.ornament_clear, step)
        yield Change(path=("border", "step"), value=clear, is_length=True, why="set them wider apart")
        yield from _fewer_steps(job, clear)
    least = _up(item.diameter // 2 + job.rules.ornament_edge, step)
    if said(border.inset) > least:
        yield Change(path=("border", "inset"), value=least, is_length=True, why="move them towards the edge")
    yield from _wider(job, 2 * (said(fault.limit) - said(fault.found)))
    yield from _smaller(job, item, ("border", "item"))
    yield from _smaller(job, job.ornament, ("ornaments", "item"))
    yield Change(path=("border",), value=None, why="leave out the border")


def _fewer_steps(job: Job, clear: Nm) -> Cures:
    """Steps in register are whole parts of the pitch: the least such part that keeps the spots clear."""
    pitch = ornament_stations(job, measure(job).run).pitch
    if pitch:
        parts = max(pitch // clear, 1)
        yield Change(path=("border", "step"), value=pitch // parts, is_length=True, why="set them wider apart")


def _border_off_edge(job: Job, _fault: Fault) -> Cures:
    item = said(job.border)
    inset = _up(item.diameter // 2 + job.rules.ornament_edge, _step(job) // 2)
    yield Change(path=("border", "inset"), value=inset, is_length=True, why="move them away from the edge")
    yield from _smaller(job, item, ("border", "item"))
    yield Change(path=("border",), value=None, why="leave out the border")


def _wider(job: Job, by: Nm) -> Cures:
    """A wider body; where the strap is one strip, the widths that a buckle of the shop takes."""
    needed = job.body_width + max(by, 0)
    if job.spec.construction == "one_piece":
        for buckle in sorted(job.shop.buckles.values(), key=lambda buckle: buckle.inside_width):
            width = buckle.inside_width // (INCH // 4) * (INCH // 4)
            if width >= needed:
                yield Change(path=("body", "width"), value=width, is_length=True, why="make it wider")
        return
    if by > 0:
        yield Change(path=("body", "width"), value=_up(needed, _step(job)), is_length=True, why="make it wider")


def _off_edge(job: Job, fault: Fault) -> Cures:
    part = fault.path[0]
    item = job.between if part == "between" else job.ornament
    yield from _wider(job, 2 * (said(fault.limit) - said(fault.found)))
    yield from _smaller(job, item, (part, "item"))


def _cut_near_edge(job: Job, fault: Fault) -> Cures:
    """A wider strap, or whatever makes a smaller cut; a hole near a pointed end wants more end distance."""
    short = said(fault.limit) - said(fault.found)
    if fault.path[0] in ("ornaments", "between", "border"):
        yield from _off_edge(job, fault)
        return
    if fault.path[-1] == "hole":
        smaller = Change(path=fault.path, value=job.shop.defaults.hang_hole, is_length=True, why="make a smaller hole")
        yield smaller
    if job.spec.billet.tip.shape:
        yield Change(path=("billet", "tip", "shape"), value="round", why="shape the tip less")
        yield Change(
            path=("billet", "tip", "depth"),
            value=job.strap_width // 4,
            is_length=True,
            why="shape the tip less",
        )
    end = _up(job.end_distance + short, _step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the end")
    if job.spec.construction == "three_piece":
        wider = _up(job.strap_width + 2 * short, _step(job))
        yield Change(path=("billet", "width"), value=wider, is_length=True, why="make the billets wider")
    yield from _wider(job, 2 * short)


# ---------------------------------------------------------------- joints, holes and hardware


def _end_distance(job: Job, fault: Fault) -> Cures:
    end = _up(job.end_distance + said(fault.limit) - said(fault.found), _step(job) // 2)
    yield Change(path=("joint", "end_distance"), value=end, is_length=True, why="move it from the end")


def _cuts_too_close(job: Job, fault: Fault) -> Cures:
    short = said(fault.limit) - said(fault.found)
    if fault.path[0] == "joint":
        spacing = _up(job.joint_spacing + short, _step(job) // 2)
        yield Change(path=("joint", "spacing"), value=spacing, is_length=True, why="set the rivets wider apart")
        yield Change(path=("joint", "count"), value=1, why="set one rivet")
    elif fault.path[0] == "billet":
        spacing = _up(job.hole_spacing + short, _step(job) // 2)
        yield Change(
            path=("billet", "size_holes", "spacing"),
            value=spacing,
            is_length=True,
            why="punch them wider apart",
        )
    else:
        yield from _crowded(job, fault)


def _tail_meets_body(job: Job, fault: Fault) -> Cures:
    """The tail holds its end distance and ends before the body: less end distance at the joint gives it room."""
    room = job.end_distance - (said(fault.limit) - said(fault.found))
    step = _step(job) // 2
    if room >= job.rules.end_distance:
        yield Change(
            path=("joint", "end_distance"),
            value=room // step * step,
            is_length=True,
            why="make room for the tail",
        )


def _hole_near(job: Job, fault: Fault) -> Cures:
    """On one strip the row of ornaments may come too near the size holes; else the buckle's frame is too long."""
    if job.spec.construction == "one_piece":
        yield from _crowded(job, fault)
    yield from _other_buckle(job, fault)


def _other_buckle(job: Job, _fault: Fault) -> Cures:
    """Buckles that take this width, then widths that this buckle takes, then a smaller keeper or none."""
    buckle = said(job.buckle)
    for other in job.shop.buckles.values():
        if other.id != buckle.id and 0 <= other.inside_width - job.strap_width <= job.rules.buckle_slack:
            yield Change(path=("billet", "buckle"), value=other.id, why="take a buckle that fits")
    width_path: Path = ("billet", "width") if job.spec.construction == "three_piece" else ("body", "width")
    width = buckle.inside_width // (INCH // 16) * (INCH // 16) if job.units == "in" else buckle.inside_width // MM * MM
    if width != job.strap_width:
        yield Change(path=width_path, value=width, is_length=True, why="take the width that this buckle takes")
    if job.keeper:
        yield Change(path=("billet", "keeper"), value=False, why="leave the keeper out")


def _ring_narrow(job: Job, fault: Fault) -> Cures:
    for ring in sorted(job.shop.rings.values(), key=lambda ring: ring.inside_width):
        if ring.inside_width >= job.strap_width:
            yield Change(path=fault.path, value=ring.id, why="take a wider ring")
    widest = said(job.shop.rings[str(_at(job.spec, fault.path))]).inside_width
    step = _step(job)
    yield Change(path=("body", "width"), value=widest // step * step, is_length=True, why="make it narrower")


def _at(spec: Spec, path: Path) -> object:
    value: object = spec
    for name in path:
        value = getattr(value, name)
    return value


def _other_fastener(job: Job, fault: Fault) -> Cures:
    """Fasteners that hold the stack, then leathers that this one holds."""
    if fault.path == ("billet", "keeper"):
        yield Change(path=fault.path, value=False, why="leave the keeper out")
        for leather in job.shop.leathers.values():
            if fitting_fasteners(keeper_stack(leather, job.shop), job.shop, job.keeper_fastener):
                yield Change(path=("leather",), value=leather.id, why="take another leather")
        return
    for fastener in fitting_fasteners(stack_of(job.leather, 2), job.shop, job.fastener):
        if fastener.id != job.fastener.id:
            yield Change(path=("joint", "fastener"), value=fastener.id, why="take a fastener that holds this stack")
    for leather in job.shop.leathers.values():
        if holds(job.fastener, stack_of(leather, 2)):
            yield Change(path=("leather",), value=leather.id, why="take a leather that this fastener holds")


def _other_item(job: Job, fault: Fault) -> Cures:
    """Other ornaments of the family, nearest in size first; then other leathers."""
    items: dict[str, Ornament | None] = {
        "ornaments": job.ornament,
        "between": job.between,
        "border": job.border,
    }
    item = said(items[fault.path[0]])
    others = (other for other in job.shop.ornaments.values() if other.id != item.id)
    for other in sorted(others, key=lambda o: (o.family != item.family, abs(o.diameter - item.diameter))):
        yield Change(path=(fault.path[0], "item"), value=other.id, why="take one that fits this leather")
    yield from _other_leather(job)


def _other_leather(job: Job) -> Cures:
    for leather in job.shop.leathers.values():
        if leather.id != job.leather.id:
            yield Change(path=("leather",), value=leather.id, why="take another leather")


def _other_punch(job: Job, fault: Fault) -> Cures:
    if fault.path[-1] == "hole":
        asked = said(fault.found)
        diameter = said(_at(job.spec, fault.path))
        punches: Iterable[Nm] = (punch.diameter for punch in job.shop.round_punches.values())
        nearest = sorted(punches, key=lambda punch: abs(abs(punch - int(str(diameter))) - asked))
        for size in nearest[:2]:
            yield Change(path=fault.path, value=size, is_length=True, why="take a punch that this shop has")
    elif fault.path == ("joint", "fastener"):
        for fastener in job.shop.fasteners.values():
            yield Change(path=fault.path, value=fastener.id, why="take a fastener that a punch fits")
    elif fault.path[0] == "billet":
        yield from _other_buckle(job, fault)
    else:
        yield from _other_item(job, fault)


def _ends_too_deep(job: Job, fault: Fault) -> Cures:
    depth = said(fault.limit) // 4
    yield Change(path=fault.path, value=depth, is_length=True, why="shape the ends less deep")
    yield from _longer(job, said(fault.found) - said(fault.limit))


_CURES: dict[str, Callable[[Job, Fault], Cures]] = {
    "size_too_short": _size_too_short,
    "strip_too_long": _strip_too_long,
    "strip_too_wide": _strip_too_wide,
    "ornaments_crowded": _crowded,
    "between_crowded": _between_crowded,
    "border_crowded": _border_crowded,
    "border_off_edge": _border_off_edge,
    "ornament_off_edge": _off_edge,
    "cut_near_edge": _cut_near_edge,
    "end_distance_short": _end_distance,
    "cuts_too_close": _cuts_too_close,
    "tail_meets_body": _tail_meets_body,
    "fold_too_short": _other_buckle,
    "keeper_room_short": _other_buckle,
    "first_size_hole_near": _hole_near,
    "tip_short": _other_buckle,
    "buckle_narrow": _other_buckle,
    "buckle_wide": _other_buckle,
    "ring_narrow": _ring_narrow,
    "no_punch": _other_punch,
    "fastener_long": _other_fastener,
    "fastener_short": _other_fastener,
    "prongs_short": _other_item,
    "prongs_long": _other_item,
    "shank_short": _other_item,
    "post_long": _other_item,
    "post_short": _other_item,
    "ends_too_deep": _ends_too_deep,
}
