"""What the core says of much more than the examples: every cure that is thought of, every way out, odd straps, plans.

The remedies of a refusal are the few cures that were tried and helped; here is the whole list. Offers are kept
for each design at the corners of its grid, and the cut plans of random batches place by place.
"""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict, fields, replace
from decimal import Decimal
from itertools import product

import pytest

from openapi.build import examples
from service.pipeline import Budget, Options, describe, draw, read
from service.reckoning import make_quote
from service.schemas.spec import SpecError, read_spec
from service.selling import offers_of
from service.shop.designs import Design
from service.shop.shop import Shop
from service.shop_file import demo_shop
from service.strap.cures import cures_for
from service.strap.errors import LengthError, Refusal
from service.strap.lengths import exact_text, millimetres, parse_length, reading
from service.strap.solve import solve
from tests.golden.other_shop import other_shop
from tests.golden.random_straps import random_strap
from tests.golden.telling import STRAPS, compare
from tests.strap.test_checks import WRONG
from tests.workshop.cut_plan.support import plan
from tests.workshop.cut_plan.test_validity import batch

SHOP = demo_shop()
MM = 10**6
JUST_RINGED = {
    "construction": "open",
    "size": {"finished_length": "24 in"},
    "body": {"width": exact_text(SHOP.rings["ring_38"].inside_width, "in")},
    "ends": {"head": {"kind": "ring"}},
}
"""A strap just as wide as a ring that is not the default."""
REFUSED = [*(read_spec(spec, "in") for spec in (*STRAPS["refused"], JUST_RINGED)), *(spec for spec, _, _ in WRONG)]
BATCHES = 200
STRAPS_DRAWN = 3000
FILES = {
    "cures",
    "cures-random",
    "lengths",
    "cut_plans-random",
    "random",
    "random-other_shop",
    "strict_shops",
    "poor_shops",
    "views",
    *(f"offers-{name}" for name in SHOP.designs),
}


def told(fault) -> str:
    """A fault in a line, with its bounds."""
    bounds = f" {fault.found} {fault.limit}{' nm' * fault.is_length}" if fault.limit is not None else ""
    return f"{'.'.join(fault.path)} {fault.code}: {fault.detail}{bounds}"


def cures(spec) -> dict[str, list[str]]:
    """For each fault of a spec every change that is thought of, and why."""
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    return {
        told(fault): [
            f"{'.'.join(cure.path)} = {cure.value!r}{' nm' * cure.is_length}: {cure.why}"
            for cure in cures_for(spec, SHOP, fault)
        ]
        for fault in refused.value.faults
    }


@pytest.mark.parametrize("first", range(0, len(REFUSED), 8))
def test_the_cures_of_a_refused_strap_are_as_they_were(first):
    group = enumerate(REFUSED[first : first + 8], first)
    compare("cures", f"from {first:03}", {f"{number:03}": cures(spec) for number, spec in group})


@pytest.mark.parametrize("first", range(0, 1000, 25))
def test_the_cures_of_random_straps_are_as_they_were(first):
    found = {}
    for seed in range(first, first + 25):
        try:
            spec, _ = read(random_strap(seed), SHOP)
            solve(spec, SHOP)
        except SpecError:
            continue
        except Refusal:
            found[f"{seed:04}"] = digest(cures(spec))
    compare("cures-random", f"from {first:04}", found)


@pytest.mark.parametrize("first", range(0, BATCHES, 5))
def test_the_plan_of_a_random_batch_is_as_it_was(first):
    found = {}
    for seed in range(first, first + 5):
        wanted, stock, kerf = batch(seed)
        made = plan(wanted, stock, SHOP, kerf, least=(150 * MM, 10 * MM))
        whole = digest(asdict(made))
        found[str(seed)] = [made.used.sheets, made.settings, made.proven, len(made.missing), whole]
    compare("cut_plans-random", f"from {first:03}", found)


def digest(document) -> str:
    return hashlib.sha256(json.dumps(document, sort_keys=True, default=str).encode()).hexdigest()[:12]


def what_becomes_of(document, shop) -> str | list[str]:
    """Digests of pattern and quote, or every fault as it is read."""
    try:
        spec, code = read(document, shop)
        pattern = solve(spec, shop)
    except (SpecError, Refusal) as error:
        return [told(fault) for fault in error.faults]
    described = describe(pattern, code, shop, spec.units or "in")
    del described["code"]
    quote = make_quote({"lines": [{"ref": "A", "spec": document, "quantity": 3}]}, shop, lambda: 0.0)
    return f"{digest(described)} {digest(quote)}"


@pytest.mark.parametrize("first", range(0, STRAPS_DRAWN, 50))
def test_what_becomes_of_random_straps_is_as_it_was(first):
    found = {f"{seed:04}": what_becomes_of(random_strap(seed), SHOP) for seed in range(first, first + 50)}
    compare("random", f"from {first:04}", found)


@pytest.mark.parametrize("first", range(STRAPS_DRAWN, STRAPS_DRAWN + 1000, 50))
def test_what_becomes_of_random_straps_in_another_shop_is_as_it_was(first):
    found = {f"{seed:04}": what_becomes_of(random_strap(seed), other_shop()) for seed in range(first, first + 50)}
    compare("random-other_shop", f"from {first:04}", found)


DRAWN = [*(spec for _, spec in sorted(examples().items())), *STRAPS["made"]]
VIEWS = ("pattern", "finished", "cutter")


@pytest.mark.parametrize("first", range(0, len(DRAWN), 10))
def test_every_view_of_a_strap_is_drawn_as_it_was(first):
    found = {}
    for number, document in enumerate(DRAWN[first : first + 10], first):
        spec, _ = read(document, SHOP)
        try:
            pattern = solve(spec, SHOP)
        except Refusal:
            continue
        views = [Options(form="svg", view=view, kerf=MM // 5 if view == "cutter" else 0) for view in VIEWS]
        drawn = [draw(pattern, SHOP, view, spec.units or "in", Budget(pixels=1, pages=1)) for view in views]
        found[f"{number:03}"] = [hashlib.sha256(each).hexdigest()[:12] for each in drawn]
    compare("views", f"from {first:03}", found)


BENCH = [read_spec(examples()[name], "in") for name in (
    "parade_harness_strap", "dancers_bell_garter", "door_hanging", "dog_collar_lead_ring", "lined_bag_strap",
    "stitched_collar", "staggered_harness_strap", "goat_collar_centrepiece",
)]  # fmt: skip
GOODS = ("leathers", "round_punches", "slot_punches", "end_punches", "fasteners", "buckles", "rings", "ornaments")
TIMES = (Decimal("0.5"), 2, 3, 8)


def strict_shops(rule) -> Iterator[tuple[str, Shop]]:
    """The demo shop with one rule as so many times what it is."""
    value = getattr(SHOP.rules, rule) or 2 * MM
    for times in TIMES:
        changed = type(value)(value * times)
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
        return {
            told(fault): [
                f"{'.'.join(cure.path)} = {cure.value!r}: {cure.why}" for cure in cures_for(spec, shop, fault)
            ]
            for fault in refusal.faults
        }


@pytest.mark.parametrize("rule", [field.name for field in fields(SHOP.rules)])
def test_what_a_stricter_shop_makes_and_refuses_is_as_it_was(rule):
    found = {name: [made_or_cured(spec, shop) for spec in BENCH] for name, shop in strict_shops(rule)}
    compare("strict_shops", rule, found)


@pytest.mark.parametrize("table", GOODS)
def test_what_a_poorer_shop_makes_and_refuses_is_as_it_was(table):
    shops = [(name, shop) for name, shop in poor_shops(table) if needs(shop)]
    compare("poor_shops", table, {name: [made_or_cured(spec, shop) for spec in BENCH] for name, shop in shops})


LENGTHS = (
    "", " ", "1", "1 in", "1in", "1 IN.", "-1 in", "\u22121 mm", "+1 mm", "1/0 in", "0/5 in", "1 1/2", "1-1/2 in",
    "1 - 1/2 in", "11/2 in", "1 1 1/2 in", ".5 in", "5. in", "1e3 mm", "1,5 mm", "0.0000001 mm", "1/3 in", "2/3 mm",
    "24½ in", "½ in", "½½ in", "1 \u2044 2 in", "1/2\u2033", "1/2\u201d", "3 feet", "3 ft", "3 m", "3 cm", "3 inches",
    "3 inch", "3 millimetres", "3 qq", "in", "mm 3", "9" * 39, "9" * 40, "9" * 41, "100 m", "100.0000001 m", "nan",
    "inf", "0x10 mm", "٣ mm", "1\n in", "1\tin", 0, 1, -1, 10**9, 10**10, 10**11, Decimal("0.5"), Decimal("-0.5"),
    Decimal("NaN"), Decimal("Infinity"), Decimal("1e-31"), Decimal("1e-30"), Decimal("1e9"), Decimal("1e10"),
    Decimal("1e400"),
)  # fmt: skip


def read_as(value, units) -> str:
    try:
        length = parse_length(value, units)
    except LengthError as error:
        return error.reason
    return f"{length} nm: {exact_text(length, units)}, {reading(length, units)}, {millimetres(length)}"


def test_lengths_are_read_and_written_as_they_were():
    for units in ("in", "mm"):
        compare("lengths", units, {f"{value!r}": read_as(value, units) for value in LENGTHS})


def said(chosen) -> str:
    return " ".join(f"{name}={value}" for name, value in chosen.items())


def sizes_of(design) -> list:
    """The choices of length and count."""
    return [choice for choice in (design.length, design.count) if choice]


def corners(design) -> Iterator[dict]:
    """The least, the usual and the greatest of length and count in every pair, with each value of each other choice."""
    sizes = sizes_of(design)
    ends = product(*((each.offer.least, each.offer.default, each.offer.most) for each in sizes))
    others = [{choice.name: value} for choice in design.others for value in choice.offer]
    for other, pair in product([{}, *others], list(ends)):
        yield other | {choice.name: value for choice, value in zip(sizes, pair, strict=True)}


def narrowed(design, thirds) -> Design:
    """The design with three lengths and three counts only, so many thirds up from the least."""
    changed = {}
    for choice, part in zip(sizes_of(design), thirds, strict=True):
        offer = choice.offer
        least = offer.least + (len(offer) - 3) * part // 3 * offer.step
        new = replace(offer, least=least, most=least + 2 * offer.step, default=least + offer.step)
        changed[choice.name] = replace(choice, offer=new)
    return replace(design, choices=tuple(changed.get(choice.name, choice) for choice in design.choices))


@pytest.mark.parametrize("name", SHOP.designs)
def test_the_ways_out_of_a_design_are_as_they_were(name):
    design = SHOP.designs[name]
    offers, defaults = offers_of(design, SHOP), design.defaults()
    found = {
        said(chosen): [said(way.changes) for way in offers.ways_out({**defaults, **chosen})]
        for chosen in corners(design)
    }
    compare(f"offers-{name}", "ways out", found)


NARROWED = [
    (name, thirds)
    for name, design in SHOP.designs.items()
    for thirds in product(range(4), repeat=len(sizes_of(design)))
]


@pytest.mark.parametrize(("name", "thirds"), NARROWED)
def test_what_is_offered_of_a_narrowed_design_is_as_it_was(name, thirds):
    design = narrowed(SHOP.designs[name], thirds)
    offers, chosen = offers_of(design, SHOP), design.defaults()
    counts = tuple(design.count.offer) if design.count else (0,)
    found = {
        "lines": [f"{line.length}: {line.counts}" for line in offers.lines(chosen, design.length.offer, counts)],
        "lengths": list(offers.lengths(chosen)),
        "values": {each.name: offers.values(chosen, each, design.length.offer, counts) for each in design.others},
        "ways out": {
            said(corner): [said(way.changes) for way in offers.ways_out({**chosen, **corner})]
            for corner in corners(design)
        },
    }
    compare(f"offers-{name}", f"narrowed to {said(chosen)}", found)
