"""Goods and sizes that a spec names and the shop does not have."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from service.near_names import near_names
from service.shop.shop import Shop
from service.strap.errors import Cure, Fault, Path
from service.strap.model.places import lining_path, ornament_ids
from service.strap.model.spec import Size, Spec
from service.strap.model.two_ends import said_ends
from service.words import say


@dataclass(frozen=True, slots=True)
class _Kind:
    """What a shop has by id: what one is called, and what mends an id that it does not have."""

    name: str
    cure: Cure


_LEATHER = _Kind("leather", Cure.KNOWN_LEATHER)
_BUCKLE = _Kind("buckle", Cure.KNOWN_BUCKLE)
_FASTENER = _Kind("fastener", Cure.KNOWN_FASTENER)
_RING = _Kind("ring", Cure.KNOWN_RING)
_SNAP = _Kind("snap", Cure.KNOWN_SNAP)
_IRON = _Kind("edge iron", Cure.KNOWN_IRON)
_ORNAMENT = _Kind("ornament", Cure.KNOWN_ORNAMENT)
_SIZE_TABLE = _Kind("size table", Cure.KNOWN_SIZE_TABLE)
_SIZE_LABEL = _Kind("size label", Cure.KNOWN_SIZE_LABEL)


def unknown_ids(spec: Spec, shop: Shop) -> list[Fault]:
    """Everything that a spec names and this shop does not have."""
    asked: list[tuple[Path, str | None, Mapping[str, object], _Kind]] = [
        (("leather",), spec.leather, shop.leathers, _LEATHER),
        (lining_path(spec), spec.lining_leather, shop.leathers, _LEATHER),
        (("billet", "buckle"), spec.billet.buckle, shop.buckles, _BUCKLE),
        (("joint", "fastener"), spec.joint.fastener, shop.fasteners, _FASTENER),
        (("body", "edge", "iron"), spec.body.edge.iron if spec.body.edge else None, shop.edge_irons, _IRON),
        (("edging", "leather"), spec.edging.leather if spec.edging else None, shop.leathers, _LEATHER),
        (("edging", "iron"), spec.edging.iron if spec.edging else None, shop.edge_irons, _IRON),
        (("billet", "ring"), spec.billet.ring, shop.rings, _RING),
    ]
    for place, end, _ in said_ends(spec):
        asked += [
            ((*place, "ring"), end.ring, shop.rings, _RING),
            ((*place, "buckle"), end.buckle, shop.buckles, _BUCKLE),
            ((*place, "snap"), end.snap, shop.snaps, _SNAP),
        ]
    asked += [(path, name, shop.ornaments, _ORNAMENT) for path, name in ornament_ids(spec)]
    unknown = [_unknown(path, name, known, kind) for path, name, known, kind in asked if name and name not in known]
    return [*unknown, *_unscrewed(spec, shop), *_unknown_label(spec.size, shop)]


def _unscrewed(spec: Spec, shop: Shop) -> Iterator[Fault]:
    """Screws that are asked for in a shop that has none."""
    if not any(fastener.is_screw for fastener in shop.fasteners.values()):
        yield from map(_no_screws, _screwed(spec))


def _screwed(spec: Spec) -> Iterator[Path]:
    """Where screws are asked for."""
    for place, end, _ in said_ends(spec):
        yield from ((*place, name) for name, asked in (("hold", end.hold), ("join", end.join)) if asked == "screws")


def _no_screws(path: Path) -> Fault:
    detail = say("This shop has no screw posts among its fasteners.")
    return Fault(path=path, code="unknown_fastener", detail=detail, cure=Cure.LEAVE_OUT)


def _unknown_label(size: Size, shop: Shop) -> list[Fault]:
    if size.table is None:
        return []
    if size.table not in shop.size_tables:
        return [_unknown(("size", "table"), size.table, shop.size_tables, _SIZE_TABLE)]
    sizes = shop.size_tables[size.table].sizes
    if size.label not in sizes:
        return [_unknown(("size", "label"), str(size.label), sizes, _SIZE_LABEL)]
    return []


def _unknown(path: Path, name: str, known: Mapping[str, object], kind: _Kind) -> Fault:
    near = near_names(name, known)
    hint = say(" Did you mean {near}?", near=near[0]) if near else ""
    listed = ", ".join(known)
    detail = say(
        "This shop has no {kind} {name!r}.{hint} It has {listed}.", kind=kind.name, name=name, hint=hint, listed=listed
    )
    return Fault(path=path, code=f"unknown_{kind.name.replace(' ', '_')}", detail=detail, cure=kind.cure)
