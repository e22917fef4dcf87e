"""What the bench is told, against answers reckoned by hand from common practice."""

from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType

import pytest

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop.pricing import Pack
from service.shop_file import demo_shop
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.labour import Labour
from service.workshop.materials import Order, materials_of
from service.workshop.quote import QuoteLine, quote_of
from service.workshop.steps import steps

SHOP = demo_shop()
BELL, SPOT, CONCHO = (SHOP.ornaments[name] for name in ("bell_25", "spot_10", "concho_25"))
STRIP = {"construction": "open", "size": {"body_length": "30 in"}, "body": {"width": "2 in"}}
THREE_ROWS = {
    "construction": "three_piece",
    "size": {"body_length": "36 in"},
    "body": {"width": "5 in"},
    "ornaments": {"item": "bell_30", "count": 7, "rows": {"count": 3, "across": "staggered", "distance": "1 1/2 in"}},
}


def made(document, shop=SHOP):
    return solve(read_spec(document, "in"), shop)


def told(document, shop=SHOP):
    return [step.do for step in steps(made(document, shop), shop)]


def only(work, word):
    """The place of the one step that has this word."""
    (place,) = (n for n, do in enumerate(work) if word in do)
    return place


def uses_of(document, shop=SHOP, quantity=1):
    order = Order(pattern=made(document, shop), quantity=quantity)
    return {use.operation: use for use in Labour(shop).of(order, shop.pricing.operations)}


def labour_parts(document, shop=SHOP):
    (line,) = quote_of([QuoteLine(ref="1", pattern=made(document, shop), quantity=1)], shop).lines
    return {part.item: part.amount for part in line.parts if part.kind == "labour"}


# ---------------------------------------------------------------- before a fold is closed


def test_the_lead_ring_and_the_keeper_go_on_before_the_fold_is_closed():
    """A welded ring is a closed loop: it cannot go on once the fold is riveted (common practice)."""
    work = told(examples()["dog_collar_lead_ring"])
    assert only(work, "welded ring, 1 1/2 in inside") < only(work, "back over the bar")
    assert only(work, "Close the keeper") < only(work, "back over the bar")


@pytest.mark.parametrize("name", ["dog_collar_lead_ring", "dancers_bell_garter", "parade_harness_strap"])
def test_everything_is_set_before_anything_is_folded(name):
    """A setter needs the strap flat on its anvil (common practice)."""
    work = told(examples()[name])
    setting = [n for n, do in enumerate(work) if do.startswith(("Push", "Press", "Screw", "Run one lace"))]
    assert setting
    assert max(setting) < only(work, "back over the bar")


# ---------------------------------------------------------------- laces


def test_three_rows_of_bells_get_three_laces_row_by_row():
    """Worked by hand.

    7 bells in the 32 1/2 in between the innermost joint holes stand 4 in apart, 24 in from first to last; the middle
    row of 6 stands in the gaps, 20 in. With two knots of 6 in and a tenth: (24 + 12) × 1.1 = 39.6 in, twice, and
    (20 + 12) × 1.1 = 35.2 in; measured off in whole inches 40, which is 3 ft 4, and 36.
    """
    laces = [do for do in told(THREE_ROWS) if "lace" in do]
    wanted = [("3 ft 4", 7, 1), ("36", 6, 2), ("3 ft 4", 7, 3)]
    assert laces == [
        f"Run one lace of {length} in behind the strap through the {shanks} shanks of row {row} of 3, counted from the "
        "upper edge, knot it at both ends and cut off its tails."
        for length, shanks, row in wanted
    ]


def test_rows_are_counted_from_the_upper_edge():
    """Of two staggered rows the upper one has the 7 bells, the lower one 6 in their gaps (by hand)."""
    rows = {"item": "bell_30", "count": 7, "rows": {"count": 2, "across": "staggered", "distance": "1 1/2 in"}}
    laces = [do for do in told(THREE_ROWS | {"ornaments": rows}) if "lace" in do]
    assert ["the 7 shanks of row 1 of 2" in laces[0], "the 6 shanks of row 2 of 2" in laces[1]] == [True, True]


def test_materials_labour_and_price_have_as_many_laces_as_the_steps():
    """Worked by hand: 2 × 39.6 + 35.2 = 114.4 in = 2.90576 m, at 0.85 a metre 2.47; 1 + 3 × 3 = 10 minutes."""
    pattern = made(THREE_ROWS)
    (lace,) = (use for use in materials_of([Order(pattern=pattern)], SHOP).lengths if use.item == "lace")
    assert (lace.count, lace.length) == (3, 2_905_760_000)
    (line,) = quote_of([QuoteLine(ref="1", pattern=pattern, quantity=1)], SHOP).lines
    assert next(part.amount for part in line.parts if part.item == "lace" and part.kind == "lace") == Decimal("2.47")
    assert (uses_of(THREE_ROWS)["lace"].count, uses_of(THREE_ROWS)["lace"].minutes) == (3, 10)


def test_a_row_that_is_laced_in_part_has_its_lace():
    """Conchos screwed on, and a small bell in each gap: the bells want a lace, from the first of them to the last.

    Worked by hand: 4 conchos even in 30 in stand 6 in apart, so 3 bells with 12 in from first to last; with two knots
    of 6 in and a tenth (12 + 12) × 1.1 = 26.4 in.
    """
    small = replace(BELL, id="bell_12", diameter=12 * MM)
    shop = replace(SHOP, ornaments=MappingProxyType({**SHOP.ornaments, "bell_12": small}))
    row = {"item": "concho_25", "count": 4, "spacing": "even"}
    spec = STRIP | {"ornaments": row, "between": {"item": "bell_12"}}
    (lace,) = (line for line in made(spec, shop).hardware if line.item == "lace")
    assert (lace.count, lace.length) == (1, round(26.4 * 25_400_000))
    assert only(told(spec, shop), "lace") > only(told(spec, shop), "Push the shanks")


# ---------------------------------------------------------------- the fixing decides

_WAYS = {
    "shank": (BELL.fixing, "Push the shanks", "set_bell", "slot"),
    "prongs": (SPOT.fixing, "Press the prongs", "set_spot", "mark"),
    "screw_post": (CONCHO.fixing, "Screw on", "set_concho", "hole"),
}


@pytest.mark.parametrize("fixing", _WAYS)
@pytest.mark.parametrize("looks", [BELL, SPOT, CONCHO], ids=lambda item: item.family)
def test_a_thing_is_set_by_its_fixing_whatever_it_looks_like(looks, fixing):
    """Worked by hand from the shop's minutes (set up, and 5 times each), at 32.00 an hour.

    Shank 0.5 + 5 × 0.3 = 2 min: 1.07, and a lace; prongs 0.5 + 5 × 0.35 = 2.25 min: 1.20; screw post
    0.5 + 5 × 0.6 = 3.5 min: 1.87.
    """
    how, says, operation, kind = _WAYS[fixing]
    thing = replace(looks, id="thing", fixing=how)
    shop = replace(SHOP, ornaments=MappingProxyType({**SHOP.ornaments, "thing": thing}))
    spec = STRIP | {"ornaments": {"item": "thing", "count": 5}}
    work = told(spec, shop)
    assert [do for do in work if do.startswith(("Push", "Press", "Screw"))] == [work[only(work, says)]]
    assert {each.kind for each in made(spec, shop).pieces[0].features if each.item} == {kind}
    minutes, amount = {"shank": (2, "1.07"), "prongs": ("2.25", "1.20"), "screw_post": ("3.5", "1.87")}[fixing]
    uses = {name: use for name, use in uses_of(spec, shop).items() if name.startswith("set_")}
    assert [(name, use.count, use.minutes) for name, use in uses.items()] == [(operation, 5, Decimal(minutes))]
    assert labour_parts(spec, shop)[operation] == Decimal(amount)
    laced = fixing == "shank"
    assert ("lace" in uses_of(spec, shop)) == laced
    assert [line.count for line in made(spec, shop).hardware if line.item == "lace"] == ([1] if laced else [])


# ---------------------------------------------------------------- holes and laps


@pytest.mark.parametrize(("holes", "nominal"), [(1, 1), (3, 2), (5, 3), (7, 4)])
def test_the_nominal_hole_is_the_middle_one(holes, nominal):
    """As many holes before it as behind it (common practice); it lies 18 in from the fold, as was ordered."""
    spec = {"construction": "one_piece", "size": {"finished_length": "18 in", "measured_from": "fold"}}
    work = told(spec | {"billet": {"size_holes": {"count": holes, "spacing": "3/4 in"}}})
    measured = f"Measure: 18 in from the fold to the middle hole, hole {nominal} of {holes}."
    assert work[-1] == f"{measured} Add to it: swing tag."


def test_the_keeper_is_lapped_by_its_whole_lap():
    """The shop's lap is 1/2 in: its holes stand 1/4 in from both ends, and meet once the ends lie 1/2 in over."""
    work = told({"construction": "one_piece", "size": {"body_length": "24 in"}})
    assert "lap its ends by 1/2 in," in work[only(work, "Close the keeper")]


# ---------------------------------------------------------------- packs


@pytest.mark.parametrize(
    ("count", "quantity", "packs"), [(1, 1, 1), (9, 1, 1), (10, 1, 1), (11, 1, 2), (5, 2, 1), (10, 2, 2), (7, 3, 3)]
)
def test_whole_packs_of_ten_are_charged_as_many_as_are_opened(count, quantity, packs):
    """10 conchos out of packs of ten are one pack, 11 are two, 2 × 10 are two, 3 × 7 are three."""
    pack = Pack(id="concho_25", size=10, price=Decimal("10.80"), charged="whole")
    shop = replace(SHOP, pricing=replace(SHOP.pricing, packs={"concho_25": pack}))
    pattern = made(STRIP | {"size": {"body_length": "60 in"}, "ornaments": {"item": "concho_25", "count": count}})
    (line,) = quote_of([QuoteLine(ref="1", pattern=pattern, quantity=quantity)], shop).lines
    part = next(part for part in line.parts if part.item == "concho_25")
    assert (part.quantity, part.unit, part.amount) == (packs, "pack", packs * Decimal("10.80"))


# ---------------------------------------------------------------- cautions


@pytest.mark.parametrize("construction", ["one_piece", "three_piece"])
def test_a_strap_that_buckles_is_cautioned_as_a_collar(construction):
    """Collars on animals are worn under supervision and should break away (common practice)."""
    pattern = made({"construction": construction, "size": {"body_length": "24 in"}})
    assert len([text for text in cautions(pattern, SHOP) if "break away" in text]) == 1


def test_an_open_strap_is_no_collar():
    assert not [text for text in cautions(made(STRIP), SHOP) if "break away" in text]
