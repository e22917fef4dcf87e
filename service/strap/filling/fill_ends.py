"""Saying what the ends of a strap left unsaid, where `ends` says them."""

from dataclasses import replace

from service.shop.goods import EndShape, Nm
from service.shop.shop import Defaults, Shop
from service.strap.filling.shapes import buckle_for, filled_holes, tip_form
from service.strap.model.spec import End, EndKind, Ends, Keeper, Spec, StrapEnd
from service.strap.model.two_ends import is_said_by_ends
from service.strap.plane.outline import default_depth

_USUAL: dict[EndKind, EndShape] = {"ring": "square", "hole": "round", "slot": "round"}


def name_ends(spec: Spec) -> Spec:
    """The spec with the kind of each end that `ends` says; what is said of an end tells it."""
    if not is_said_by_ends(spec):
        return spec
    head, foot = (_named(end) for end in (spec.ends.head, spec.ends.foot))
    return replace(spec, ends=Ends(head=head, foot=foot))


def _named(end: StrapEnd) -> StrapEnd:
    return replace(end, kind=_kind(end), end=end.end and _named(end.end))


def _kind(end: StrapEnd) -> EndKind:
    telling: tuple[tuple[EndKind, object], ...] = (
        ("billet", end.end), ("buckle", end.buckle), ("ring", end.ring), ("hole", end.hole), ("slot", end.slot),
        ("tip", end.size_holes.count or end.tip_length),
    )  # fmt: skip
    told: EndKind = next((kind for kind, said in telling if said), "plain")
    return end.kind or told


def fill_ends(spec: Spec, width: Nm, shop: Shop, defaults: Defaults) -> Ends:
    """Both ends, of a spec whose ends are named; untouched where `billet` says them."""
    if not is_said_by_ends(spec):
        return spec.ends
    head, foot = (_filled(end, width, shop, defaults) for end in (spec.ends.head, spec.ends.foot))
    return Ends(head=head, foot=foot)


def _filled(end: StrapEnd, width: Nm, shop: Shop, defaults: Defaults) -> StrapEnd:
    if end.kind == "billet" and end.end:
        own = end.width or min(defaults.billet_width, width)
        riveted = tip_form(End(shape=end.shape, depth=end.depth), own, shop)
        return replace(
            end, shape=riveted.shape, depth=riveted.depth, width=own, end=_filled(end.end, own, shop, defaults)
        )
    if end.kind == "buckle":
        return _buckle(end, width, shop)
    if end.kind == "tip":
        form = tip_form(End(shape=end.shape, depth=end.depth), width, shop)
        return replace(end, shape=form.shape, depth=form.depth, size_holes=filled_holes(end.size_holes, defaults))
    return _simple(end, width, defaults)


def _buckle(end: StrapEnd, width: Nm, shop: Shop) -> StrapEnd:
    buckle = end.buckle or buckle_for(width, shop)
    known = shop.buckles.get(buckle)
    usual: Keeper = "loose" if known and known.needs_keeper else "none"
    return replace(end, buckle=buckle, keeper=end.keeper or usual)


def _simple(end: StrapEnd, width: Nm, defaults: Defaults) -> StrapEnd:
    kind = end.kind or "plain"
    shape = end.shape or _USUAL.get(kind, defaults.body_end)
    return replace(
        end,
        shape=shape,
        depth=default_depth(shape, width) if end.depth is None else end.depth,
        hole=(end.hole or defaults.hang_hole) if kind == "hole" else end.hole,
        slot=(end.slot or defaults.hang_slot) if kind == "slot" else end.slot,
        ring=(end.ring or defaults.ring) if kind == "ring" else end.ring,
    )
