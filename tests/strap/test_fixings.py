"""Every kind of fixing says all of itself: no table elsewhere forgets one."""

from dataclasses import fields, replace

import pytest

from service.schemas.ornaments import OrnamentSchema
from service.schemas.spec import read_spec
from service.shop.fixings import FIXINGS, Fixing, SplitPin
from service.shop.pricing import Operations
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import MM
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.fixings import RULES_OF
from service.strap.solve import solve
from service.workshop.quote import QuoteLine, quote_of
from tests.walker.bench import Bench
from tests.workshop.test_walker import SHOP, answer_for


def test_every_fixing_is_listed_and_has_its_rules():
    assert set(FIXINGS) == set(RULES_OF)
    assert {each.word for each in FIXINGS} == {each.word for each in kinds(Fixing) if "word" in vars(each)}


def kinds(of: type[Fixing]) -> set[type[Fixing]]:
    return {each for one in of.__subclasses__() for each in {one, *kinds(one)}}


def test_every_fixing_can_be_said_in_a_shop_file():
    assert {each.word for each in FIXINGS} <= set(OrnamentSchema().fields)


def test_setting_is_an_operation_that_a_shop_charges():
    assert {each.operation for each in FIXINGS} <= {each.name for each in fields(Operations)}


def test_a_bell_on_a_split_pin_is_laid_out_checked_set_and_made():
    """Common practice: the pin goes through a round hole, and its legs are spread and bent behind the leather."""
    plain = SHOP.ornaments["bell_25"]
    bells = {
        f"pinned_{length}": replace(plain, id=f"pinned_{length}", fixing=SplitPin(diameter=3 * MM, length=length * MM))
        for length in (4, 9)
    }
    shop = replace(SHOP, ornaments=SHOP.ornaments | bells)
    strap = {"construction": "one_piece", "size": {"girth": "24"}, "ornaments": {"item": "pinned_9", "count": 3}}
    answer = answer_for(read_spec(strap, "in"), shop)
    Bench(answer).make()
    holes = [each for piece in answer["pieces"] for each in piece["features"] if each["purpose"] == "ornament"]
    assert [(each["kind"], each["action"]) for each in holes] == [("hole", "punch")] * 3
    (set_on,) = (step for step in answer["steps"] if step["op"] == "set")
    assert set_on["tool"] == "pliers"
    assert not any(step["op"] == "lace" for step in answer["steps"])
    strap["ornaments"]["item"] = "pinned_4"
    with pytest.raises(Refusal) as refused:
        solve(read_spec(strap, "in"), shop)
    assert [(fault.code, fault.path) for fault in refused.value.faults] == [("split_pin_short", ("ornaments", "item"))]


def strap_with(item: str, **more) -> dict:
    return {
        "construction": "open",
        "size": {"body_length": "24"},
        "body": {"width": "2"},
        "ornaments": {"item": item, "count": 4},
        **more,
    }


def set_step(answer) -> dict:
    return next(step for step in answer["steps"] if step["op"] == "set")


@pytest.mark.parametrize(
    ("item", "leather", "fastener"),
    [
        ("no_4", "harness_8_9", "double_cap_small"),
        ("no_4", "bridle_10_11", "double_cap_small_long"),
        ("no_4_screwed", "harness_8_9", "screw_post_4"),
        ("no_4_screwed", "bridle_10_11", "screw_post_5"),
        ("concho_38", "latigo_6_7", "screw_post_4"),
    ],
)
def test_the_rivet_or_barrel_that_matches_the_stack_is_taken_told_and_used(item, leather, fastener):
    """A stack of 8-9 oz (3.2-3.6 mm) and 1 mm of brass is 4.2-4.6 mm.

    A rivet of 1/8-3/16 in holds it (hardware sellers), and the barrel nearest to it, within about 1 mm, is 4 mm
    (leather suppliers); 10-11 oz take the next longer.
    """
    answer = answer_for(read_spec(strap_with(item, leather=leather), "in"), SHOP)
    Bench(answer).make()
    holes = [each for piece in answer["pieces"] for each in piece["features"] if each["purpose"] == "ornament"]
    assert {each["fastener"] for each in holes} == {fastener}
    post = SHOP.fasteners[fastener].post_diameter / MM
    assert all(0 < each["diameter_mm"] - post <= 1 for each in holes), "punched for the post that was chosen"
    assert {"item": fastener, "count": 4, "for": "ornament"} in answer["hardware"]
    assert set_step(answer)["uses"] == [{"item": item, "count": 4}, {"item": fastener, "count": 4}]
    assert SHOP.fasteners[fastener].title in set_step(answer)["do"]
    assert not any(step["op"] == "lace" for step in answer["steps"])


def test_the_fixing_decides_and_never_the_family():
    """The same bell is laced on its shank, riveted, or screwed (common practice)."""
    done = {
        item: (set_step(answer).get("tool"), "lace" in ops)
        for item in ("bell_38", "no_4", "no_4_screwed", "bell_16_pinned")
        if (answer := answer_for(read_spec(strap_with(item), "in"), SHOP))
        and (ops := {step["op"] for step in answer["steps"]})
    }
    assert done == {
        "bell_38": (None, True),
        "no_4": ("rivet setter", False),
        "no_4_screwed": ("screwdriver", False),
        "bell_16_pinned": ("pliers", False),
    }


def test_a_bare_lining_covers_rivets_and_carries_what_is_screwed():
    """A rivet's cap would lie on the wearer behind an unlined strap, a screw's flat head does not (common practice)."""
    purposes = {
        item: next(piece["purpose"] for piece in answer["pieces"] if piece["name"] == "lining")
        for item in ("no_4", "no_4_screwed")
        if (answer := answer_for(read_spec(strap_with(item, lining="lining_2_3"), "in"), SHOP))
    }
    assert purposes == {"no_4": "cover", "no_4_screwed": "carry"}


def test_what_no_rivet_holds_is_told_at_the_item_and_mended():
    """6-7 oz and 2-3 oz are 3.2 to 4 mm; with 1 mm of brass they lie across the end of one rivet's grip, 3/16 in."""
    lined = {"leather": "latigo_6_7", "lining": {"leather": "lining_2_3", "purpose": "carry"}}
    spec = read_spec(strap_with("no_4", **lined), "in")
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert [(fault.code, fault.path) for fault in refused.value.faults] == [("ornament_unheld", ("ornaments", "item"))]
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert ("lining", "purpose") in {change.path for remedy in remedies for change in remedy.changes}
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)


def test_fasteners_of_ornaments_are_priced_and_weighed():
    """Four bells more take four rivets more, at the shop's price and mass for each."""
    four, eight = (
        solve(read_spec(strap_with("no_2") | {"ornaments": {"item": "no_2", "count": n}}, "in"), SHOP) for n in (4, 8)
    )
    holes = 4 * sum(SHOP.item(item).mass_mg for item in ("no_2", "double_cap_small"))
    assert eight.finished.weight_mg - four.finished.weight_mg == pytest.approx(holes, abs=200), (
        "less what is punched out"
    )
    lines = {ref: quote_of([QuoteLine(ref=ref, pattern=pattern, quantity=1)], SHOP).lines[0] for ref, pattern in
             (("four", four), ("eight", eight))}  # fmt: skip
    rivets = {ref: next(p for p in line.parts if p.item == "double_cap_small") for ref, line in lines.items()}
    assert (rivets["four"].quantity, rivets["eight"].quantity) == (4, 8)
