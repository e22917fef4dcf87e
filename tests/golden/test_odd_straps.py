"""What becomes of odd straps drawn with fixed seeds, and of usual ones in shops with other rules and fewer goods."""

from collections.abc import Iterator
from dataclasses import asdict, fields, replace
from decimal import Decimal

import pytest

from openapi.example_requests import examples
from service.desk.pipeline import describe, read
from service.desk.reckoning import make_quote
from service.schemas.spec import SpecError, read_spec
from service.shop.shop import Shop
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from tests.comparing.other_shop import other_shop
from tests.golden.telling import compare, cures_told, digest, fault_told, unsealed
from tests.support.random_straps import random_strap

SHOP = demo_shop()
DRAWN, DRAWN_ELSEWHERE, CURED = 3000, 1000, 1000
FILES = {"cures-random", "random", "random-other_shop", "strict_shops", "poor_shops"}


def what_becomes_of(document, shop) -> str | list[str]:
    """Digests of pattern and quote, or every fault as it is read."""
    try:
        spec, code = read(document, shop)
        pattern = solve(spec, shop)
    except (SpecError, Refusal) as error:
        return [fault_told(fault) for fault in error.faults]
    described = describe(pattern, code, shop, spec.units or "in")
    del described["code"]
    quote = make_quote({"lines": [{"ref": "A", "spec": document, "quantity": 3}]}, shop, lambda: 0.0)
    return f"{digest(unsealed(described))} {digest(unsealed(quote))}"


@pytest.mark.parametrize("first", range(0, DRAWN, 50))
def test_what_becomes_of_random_straps_is_as_it_was(first):
    found = {f"{seed:04}": what_becomes_of(random_strap(seed), SHOP) for seed in range(first, first + 50)}
    compare("random", f"from {first:04}", found)


@pytest.mark.parametrize("first", range(DRAWN, DRAWN + DRAWN_ELSEWHERE, 50))
def test_what_becomes_of_random_straps_in_another_shop_is_as_it_was(first):
    found = {f"{seed:04}": what_becomes_of(random_strap(seed), other_shop()) for seed in range(first, first + 50)}
    compare("random-other_shop", f"from {first:04}", found)


@pytest.mark.parametrize("first", range(0, CURED, 25))
def test_the_cures_of_random_straps_are_as_they_were(first):
    found = {}
    for seed in range(first, first + 25):
        try:
            spec, _ = read(random_strap(seed), SHOP)
            solve(spec, SHOP)
        except SpecError:
            continue
        except Refusal as refusal:
            found[f"{seed:04}"] = digest(cures_told(spec, SHOP, refusal.faults))
    compare("cures-random", f"from {first:04}", found)


BENCH = [read_spec(examples()[name], "in") for name in (
    "parade_harness_strap", "dancers_bell_garter", "door_hanging", "dog_collar_lead_ring", "lined_bag_strap",
    "stitched_collar", "staggered_harness_strap", "goat_collar_centrepiece",
)]  # fmt: skip
GOODS = ("leathers", "round_punches", "slot_punches", "end_punches", "fasteners", "buckles", "rings", "ornaments")
TIMES = (Decimal("0.5"), 2, 3, 8)


def as_often(value, times):
    """So many times a rule; of the rules in millimetres each."""
    if isinstance(value, dict):
        return {name: as_often(each, times) for name, each in value.items()}
    return type(value)(value * times)


def strict_shops(rule) -> Iterator[tuple[str, Shop]]:
    """The demo shop with one rule as so many times what it is."""
    value = getattr(SHOP.rules, rule) or 2 * MM
    for times in TIMES:
        changed = as_often(value, times)
        yield f"{rule} x {times}", replace(SHOP, rules=replace(SHOP.rules, **{rule: changed}))


def poor_shops(table) -> Iterator[tuple[str, Shop]]:
    """The demo shop without each one of some goods, and with that one alone."""
    goods = getattr(SHOP, table)
    for name in goods:
        yield f"without {name}", replace(SHOP, **{table: {key: goods[key] for key in goods if key != name}})
        yield f"with {name} alone", replace(SHOP, **{table: {name: goods[name]}})


def needs(shop) -> bool:
    """Whether the shop has what its own defaults name, as every shop file must."""
    defaults = shop.defaults
    return (
        defaults.leather in shop.leathers
        and defaults.buckle in shop.buckles
        and defaults.ring in shop.rings
        and {defaults.joint_fastener, defaults.keeper_fastener} <= set(shop.fasteners)
    )


def made_or_cured(spec, shop) -> object:
    try:
        return f"made {digest(asdict(solve(spec, shop)))}"
    except Refusal as refusal:
        return cures_told(spec, shop, refusal.faults)


@pytest.mark.parametrize("rule", [field.name for field in fields(SHOP.rules)])
def test_what_a_stricter_shop_makes_and_refuses_is_as_it_was(rule):
    found = {name: [made_or_cured(spec, shop) for spec in BENCH] for name, shop in strict_shops(rule)}
    compare("strict_shops", rule, found)


@pytest.mark.parametrize("table", GOODS)
def test_what_a_poorer_shop_makes_and_refuses_is_as_it_was(table):
    shops = [(name, shop) for name, shop in poor_shops(table) if needs(shop)]
    compare("poor_shops", table, {name: [made_or_cured(spec, shop) for spec in BENCH] for name, shop in shops})
