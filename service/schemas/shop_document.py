"""A shop as JSON data: what callers may choose from, with every length as a pair."""

from collections.abc import Mapping
from dataclasses import fields
from decimal import Decimal
from typing import Any

from service.schemas.answers.members import TermsDocument
from service.schemas.answers.shop import ShopDocument
from service.schemas.readings import pair
from service.shop.shop import Shop, Units

_COUNTS = frozenset(
    {
        "count", "size_holes", "joint_count", "ornaments_max", "size_holes_max", "joint_count_max", "features_max",
        "stitches_per_inch", "stitch_strands", "splice_stitch_lines",
    }
)  # fmt: skip

_PRICES = frozenset({"price", "price_per_m2"})


def terms_document(shop: Shop) -> TermsDocument:
    """By whose terms something was made or priced: the shop's name, and the digest of what shapes both."""
    return {"name": shop.name, "digest": shop.terms}


def shop_document(shop: Shop, units: Units, *, with_prices: bool = True) -> ShopDocument:
    """The whole shop file as data. Money and decimals are texts; `units` are those of the readings.

    Without prices it says nothing of what the shop pays for its goods.
    """
    hidden = frozenset() if with_prices else _PRICES

    def table(goods: Mapping[str, Any]) -> list[dict[str, Any]]:
        return [_members(each, units, hidden) for each in goods.values()]

    return {
        "name": shop.name,
        "currency": shop.currency,
        "limits": _members(shop.limits, units),
        "defaults": _members(shop.defaults.in_units(units), units),
        "rules": _members(shop.rules.in_units(units), units),
        "leathers": table(shop.leathers),
        "round_punches": table(shop.round_punches),
        "slot_punches": table(shop.slot_punches),
        "end_punches": table(shop.end_punches),
        "edge_irons": table(shop.edge_irons),
        "fasteners": table(shop.fasteners),
        "buckles": table(shop.buckles),
        "rings": table(shop.rings),
        "snaps": table(shop.snaps),
        "ornaments": table(shop.ornaments),
        "digest": shop.digest,
        "shop": terms_document(shop),
    }


def _members(part: Any, units: Units, hidden: frozenset[str] = frozenset()) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for field in fields(part):
        said = getattr(part, field.name)
        if field.name in hidden:
            continue
        for name, value in said.items() if field.name == "own" else ((field.name, said),):
            found.update(_member(name, value, units))
    return found


def _member(name: str, value: Any, units: Units) -> Mapping[str, Any]:
    if value is None or name == "mm":
        return {}
    if name == "fixing":
        return {value.word: _members(value, units)}
    if name == "mass_mg":
        return {"mass_g": value / 1000}
    if isinstance(value, Decimal):
        return {name: str(value)}
    if isinstance(value, int) and not isinstance(value, bool) and name not in _COUNTS:
        return pair(name, value, units)
    return {name: value}
