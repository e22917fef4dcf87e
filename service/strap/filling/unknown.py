"""Goods and sizes that a spec names and the shop does not have."""

from collections.abc import Mapping
from difflib import get_close_matches

from service.shop.shop import Shop
from service.strap.errors import Fault, Path
from service.strap.model.places import lining_path, ornament_ids
from service.strap.model.spec import Size, Spec
from service.strap.model.two_ends import said_ends


def unknown_ids(spec: Spec, shop: Shop) -> list[Fault]:
    """Everything that a spec names and this shop does not have."""
    asked: list[tuple[Path, str | None, Mapping[str, object], str]] = [
        (("leather",), spec.leather, shop.leathers, "leather"),
        (lining_path(spec), spec.lining_leather, shop.leathers, "leather"),
        (("billet", "buckle"), spec.billet.buckle, shop.buckles, "buckle"),
        (("joint", "fastener"), spec.joint.fastener, shop.fasteners, "fastener"),
        (("billet", "ring"), spec.billet.ring, shop.rings, "ring"),
    ]
    for place, end, _ in said_ends(spec):
        asked += [
            ((*place, "ring"), end.ring, shop.rings, "ring"),
            ((*place, "buckle"), end.buckle, shop.buckles, "buckle"),
        ]
    asked += [(path, name, shop.ornaments, "ornament") for path, name in ornament_ids(spec)]
    unknown = [_unknown(path, name, known, kind) for path, name, known, kind in asked if name and name not in known]
    return [*unknown, *_unknown_label(spec.size, shop)]


def _unknown_label(size: Size, shop: Shop) -> list[Fault]:
    if size.table is None:
        return []
    if size.table not in shop.size_tables:
        return [_unknown(("size", "table"), size.table, shop.size_tables, "size table")]
    sizes = shop.size_tables[size.table].sizes
    if size.label not in sizes:
        return [_unknown(("size", "label"), str(size.label), sizes, "size label")]
    return []


def _unknown(path: Path, name: str, known: Mapping[str, object], kind: str) -> Fault:
    near = get_close_matches(name, known, n=1, cutoff=0.5)
    hint = f" Did you mean {near[0]}?" if near else ""
    listed = ", ".join(known)
    detail = f"This shop has no {kind} {name!r}.{hint} It has {listed}."
    return Fault(path=path, code=f"unknown_{kind.replace(' ', '_')}", detail=detail)
