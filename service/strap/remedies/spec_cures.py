"""Cures for a spec that is no job yet: goods that the shop has, its limits kept, what has no meaning left out."""

from collections.abc import Callable, Iterable, Mapping

from service.near_names import near_names
from service.shop.shop import Shop
from service.strap.errors import Cure, Fault, FigureFault
from service.strap.filling.fill import fill
from service.strap.model.places import ADDS, value_at
from service.strap.model.short_form import body_widths
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.spacing import round_up
from service.strap.remedies.cure_tools import Candidates

_Way = Callable[[Spec, Shop, Fault], Candidates]


def _known(goods: Callable[[Shop], Mapping[str, object]], most: int = 3) -> _Way:
    """Those of the shop's goods whose ids come nearest to the one that was asked for; the first where none does."""
    return lambda spec, shop, fault: _nearest(spec, goods(shop), fault, most)


def _known_label(spec: Spec, shop: Shop, fault: Fault) -> Candidates:
    table = shop.size_tables.get(spec.size.table or "")
    return _nearest(spec, table.sizes if table else (), fault, most=1)


def _nearest(spec: Spec, ids: Iterable[str], fault: Fault, most: int) -> Candidates:
    asked = str(value_at(spec, fault.path))
    for name in near_names(asked, ids, most) or list(ids)[:3]:
        yield Change(path=fault.path, value=name, why="take one that this shop has")


def _fewer_features(spec: Spec, shop: Shop, fault: Fault) -> Candidates:
    """Steps so much wider, or so many fewer between, that the count comes under the limit."""
    asked = value_at(fill(spec, shop), fault.path)
    if not isinstance(fault, FigureFault) or not isinstance(asked, int):
        return
    most, found = fault.limit, fault.found
    if fault.path[-1] in ("step", "pitch"):
        step = round_up(asked * (2 * found // most), MM)
        yield Change(path=fault.path, value=step, is_length=True, why="set them wider apart")
    else:
        why = "set fewer" if fault.path[-1] == "count" else "set fewer between"
        yield Change(path=fault.path, value=max(asked * most // (2 * found), 1), why=why)


def _leave_out(_spec: Spec, _shop: Shop, fault: Fault) -> Candidates:
    """A lining without its leather is none."""
    path = fault.path[:-1] if fault.path[-1] == "leather" else fault.path
    yield Change(path=path or fault.path, value=None, why="leave it out")


def _other_ends(_spec: Spec, _shop: Shop, fault: Fault) -> Candidates:
    """The construction that has such an end; or the end left out whole, for its other fields are those of its kind."""
    yield Change(path=("construction",), value="two_ends", why="say it by its two ends")
    yield Change(path=fault.path[:-1], value=None, why="leave it out")


def _same_snap(spec: Spec, shop: Shop, fault: Fault) -> Candidates:
    """The snap of the other end."""
    yield Change(path=fault.path, value=fill(spec, shop).ends.head.outermost.snap, why="take the snap of the other end")


def _keep_limit(_spec: Spec, _shop: Shop, fault: Fault) -> Candidates:
    """The nearest value inside a limit of the shop."""
    yield Change(path=fault.path, value=fault.limit, is_length=fault.is_length, why="keep the limit")


def _other_parity(_spec: Spec, _shop: Shop, fault: Fault) -> Candidates:
    """The next count, and the one before."""
    if fault.found is not None:
        yield Change(path=fault.path, value=fault.found + 1, why="take one more")
        yield Change(path=fault.path, value=fault.found - 1, why="take one fewer")


def _body_as_wide(spec: Spec, shop: Shop, fault: Fault) -> Candidates:
    yield tuple(
        Change(path=path, value=fault.found, is_length=True, why="make the body as wide")
        for path in body_widths(spec.body)
    )
    yield from _keep_limit(spec, shop, fault)


def _narrower_taper(_spec: Spec, _shop: Shop, fault: Fault) -> Candidates:
    """No taper, or a body that is wider than its end by an eighth of that."""
    yield Change(path=fault.path[:-1], value=None, why="leave out the taper")
    if fault.path[0] == "body" and fault.found is not None:
        wide = round_up(fault.found * 9 // 8, MM)
        yield Change(path=("body", "width"), value=wide, is_length=True, why="make it wider")


def _other_iron(spec: Spec, shop: Shop, fault: Fault) -> Candidates:
    """The other irons of the shop, those of the same shape first; or straight edges."""
    asked = shop.edge_irons.get(str(value_at(spec, fault.path)))
    for iron in sorted(shop.edge_irons.values(), key=lambda iron: asked is not None and iron.shape != asked.shape):
        if iron is not asked:
            yield Change(path=fault.path, value=iron.id, why="take another iron")
    yield Change(path=fault.path[:-1], value=None, why="leave the edges straight")


def _join_buckles(spec: Spec, shop: Shop, _fault: Fault) -> Candidates:
    """A strap between the two buckles, as short as their frames let it be, with the shop's usual row of size holes."""
    filled = fill(spec, shop)
    defaults, clear = shop.defaults.in_units(filled.units), shop.rules.in_units(filled.units).hardware_clear
    buckles = [shop.buckles.get(end.buckle or "") for end in filled.two.outermost]
    frames = sum(buckle.bar_to_frame for buckle in buckles if buckle)
    least = round_up(frames + clear, INCH if filled.units == "in" else 10 * MM)
    most = least + 2 * (defaults.size_holes - 1) * defaults.size_hole_spacing
    yield tuple(
        Change(path=(*ADDS, name), value=length, is_length=True, why="join the two buckles by a strap")
        for name, length in (("from", least), ("to", most))
    )


WAYS_OF_A_SPEC: dict[Cure, _Way] = {
    Cure.KNOWN_LEATHER: _known(lambda shop: shop.leathers),
    Cure.KNOWN_BUCKLE: _known(lambda shop: shop.buckles),
    Cure.KNOWN_FASTENER: _known(lambda shop: shop.fasteners),
    Cure.KNOWN_RING: _known(lambda shop: shop.rings),
    Cure.KNOWN_SNAP: _known(lambda shop: shop.snaps),
    Cure.KNOWN_IRON: _known(lambda shop: shop.edge_irons),
    Cure.KNOWN_ORNAMENT: _known(lambda shop: shop.ornaments),
    Cure.KNOWN_SIZE_TABLE: _known(lambda shop: shop.size_tables),
    Cure.KNOWN_SIZE_LABEL: _known_label,
    Cure.LEAVE_OUT: _leave_out,
    Cure.OTHER_ENDS: _other_ends,
    Cure.SAME_SNAP: _same_snap,
    Cure.KEEP_LIMIT: _keep_limit,
    Cure.OTHER_PARITY: _other_parity,
    Cure.BODY_AS_WIDE: _body_as_wide,
    Cure.FEWER_FEATURES: _fewer_features,
    Cure.NARROWER_TAPER: _narrower_taper,
    Cure.OTHER_IRON: _other_iron,
    Cure.JOIN_BUCKLES: _join_buckles,
}
"""How each kind of change to such a spec is worked out."""
