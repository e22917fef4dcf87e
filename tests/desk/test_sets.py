"""Straps that belong together: pairs as mirror images, sizes by the shop's table, sets; each answered, all summed."""

import copy
import time
from dataclasses import replace
from decimal import Decimal

import pytest
from shapely import affinity
from shapely.geometry import MultiPoint

from service.desk.ordering import OrdersRefused
from service.desk.quoting import QuoteSubject, make_quote
from service.desk.reckoning import CutPlanSubject, make_cut_plan
from service.desk.selling import DesignsError, check_designs, spec_of
from service.forms.data import JSON
from service.forms.form import OutputOptions
from service.schemas.orders import OrdersError
from service.schemas.seals import seal_of
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.making.mirror import in_hand, is_symmetrical, mirrored
from service.strap.model.likeness import pattern_digest
from service.strap.solve import solve
from tests.desk.test_reckoning import applied

SHOP = demo_shop()
GARTER = {
    "construction": "one_piece", "size": {"table": "garter", "label": "M"}, "leather": "latigo_6_7",
    "billet": {"size_holes": {"count": 3, "spacing": "3/4 in"}, "tip_length": "1 3/4 in"},
    "ornaments": {"item": "bell_25", "count": 5},
}  # fmt: skip
STAGGERED = {
    "construction": "three_piece",
    "size": {"body_length": "36 in"},
    "body": {"width": "5 in"},
    "ornaments": {"item": "bell_30", "count": 7, "rows": {"count": 2, "across": "staggered", "distance": "2 in"}},
    "stitching": {},
}


def quote(*lines, **more):
    quoted = make_quote({"lines": list(lines), **more}, SHOP, time.monotonic)
    return QuoteSubject(quoted, SHOP, OutputOptions(form=JSON)).data()


def plan(*orders):
    planned = make_cut_plan({"orders": list(orders)}, SHOP, time.monotonic)
    return CutPlanSubject(planned, SHOP, OutputOptions(form=JSON)).data()


def made(spec):
    return solve(read_spec(spec, "in"), SHOP)


def places(piece):
    return MultiPoint([(each.x, each.y) for each in piece.features])


def test_the_right_strap_is_the_left_one_seen_in_a_mirror():
    """What is over the centre line lies under it; an independent library (shapely) mirrors the places."""
    left, right = made({**STAGGERED, "hand": "left"}), made({**STAGGERED, "hand": "right"})
    assert not is_symmetrical(left)
    for one, other in zip(left.pieces, right.pieces, strict=True):
        assert places(other).equals(affinity.scale(places(one), yfact=-1, origin=(0, 0)))
        assert one.outline == other.outline
        assert one.face == other.face
    assert pattern_digest(left) != pattern_digest(right)
    assert mirrored(right).pieces == left.pieces
    assert [check.value for check in left.checks] == [check.value for check in right.checks]


def test_holes_that_meet_meet_in_the_mirror_too():
    """The mates of a joint lie at one distance from one another across the strap."""
    for pattern in (made(STAGGERED), made({**STAGGERED, "hand": "right"})):
        at = {each.id: each.y for piece in pattern.pieces for each in piece.features}
        pairs = [(at[each.id], at[mate]) for piece in pattern.pieces for each in piece.features for mate in each.mates]
        assert pairs
        assert all(y == other for y, other in pairs)


@pytest.mark.parametrize("name", SHOP.designs)
def test_a_strap_with_all_in_its_middle_is_its_own_mirror_image(name):
    """Common practice: only what lies to one side makes a left and a right."""
    design = SHOP.designs[name]
    left = solve(spec_of(design, design.defaults(), SHOP), SHOP)
    assert is_symmetrical(left) is (name != "staggered_garter")
    assert (pattern_digest(in_hand(left, "right")) == pattern_digest(left)) is (name != "staggered_garter")


@pytest.mark.parametrize("sealed", [None, "left", "right"])
def test_a_pair_of_a_sealed_strap_has_one_of_each_hand_whichever_was_sealed(sealed):
    """Facts of the trade: the other one of a pair is its mirror image, never the same one again under another name."""
    straps = {hand: made({**STAGGERED, "hand": hand}) for hand in ("left", "right")}
    asked = {"ref": "a", "code": seal_of(made({**STAGGERED, "hand": sealed} if sealed else STAGGERED)), "pair": True}
    lines = quote(asked)["lines"]
    assert {line["strap"]: line["sealed"] for line in lines} == {hand: seal_of(made) for hand, made in straps.items()}


def test_a_pair_costs_what_two_of_a_batch_cost():
    """The set-up is paid once for both hands; every total is the exact sum of its parts."""
    pair = quote({"ref": "a", "spec": GARTER, "quantity": 3, "pair": True})
    batch = quote({"ref": "a", "spec": GARTER, "quantity": 6})
    assert [line["strap"] for line in pair["lines"]] == ["left", "right"]
    assert [line["quantity"] for line in pair["lines"]] == [3, 3]
    for name in ("net", "tax", "total"):
        assert pair[name] == batch[name]
    for line in pair["lines"]:
        assert sum(Decimal(part["amount"]) for part in line["parts"]) == Decimal(line["total"])
        assert line["unit_price"] == batch["lines"][0]["unit_price"]
    minutes = sum(Decimal(line["minutes"]) for line in pair["lines"])
    assert minutes == Decimal(batch["lines"][0]["minutes"])
    right = made({**GARTER, "hand": "right"})
    assert pair["lines"][1]["sealed"] == seal_of(right)


def test_quantities_of_a_quote_count_pairs():
    asked = quote({"ref": "a", "spec": GARTER, "pair": True}, what_if=[5])
    (scenario,) = asked["what_if"]
    assert scenario["net"] == quote({"ref": "a", "spec": GARTER, "quantity": 10})["net"]
    assert [line["strap"] for line in scenario["lines"]] == ["left", "right"]


def test_sizes_are_those_of_the_table():
    """Each label is the strap that its own spec asks for."""
    several = quote({"ref": "a", "spec": GARTER, "sizes": ["S", "XL"]})
    for line, label in zip(several["lines"], ("S", "XL"), strict=True):
        alone = quote({"ref": "b", "spec": {**GARTER, "size": {"table": "garter", "label": label}}})["lines"][0]
        assert line["strap"] == label
        assert (line["total"], line["sealed"]) == (alone["total"], alone["sealed"])


def test_a_design_has_the_sizes_of_its_table():
    """The collar's S is a neck of 350 mm, with the table's own ease."""
    line = {"ref": "a", "design": "herding_dog_collar", "choices": {"spots": 3}, "sizes": ["S"]}
    straps = [piece for sheet in plan(line)["sheets"] for strip in sheet["strips"] for piece in strip["pieces"]]
    table = SHOP.size_tables["dog_collar"]
    (long,) = [piece["length_mm"] for piece in straps if piece["piece"] == "strap"]
    assert long * 10**6 > table.sizes["S"] + table.ease
    assert straps[0]["strap"] == "S"


def test_what_is_cut_for_a_set_is_cut_for_each_of_it():
    """Pairs and sets count: every strap of each is in the plan once, and called by its own name."""
    halves = [{"name": name, "design": f"watch_strap_{name}_half"} for name in ("buckle", "tip")]
    answer = plan({"ref": "w", "straps": halves, "pair": True, "quantity": 2}, {"ref": "g", "spec": GARTER})
    cut = [piece for sheet in answer["sheets"] for strip in sheet["strips"] for piece in strip["pieces"]]
    straps = [(piece["ref"], piece.get("strap"), piece["copy"]) for piece in cut if piece["piece"] == "strap"]
    hands = [f"{name} {hand}" for name in ("buckle", "tip") for hand in ("left", "right")]
    assert sorted(straps, key=str) == sorted(
        [("w", each, copy) for each in hands for copy in (1, 2)] + [("g", None, 1)], key=str
    )


WRONG = {
    "pair and hand": ({"ref": "a", "spec": {**GARTER, "hand": "left"}, "pair": True}, "/lines/0/pair"),
    "sizes of no table": ({"ref": "a", "spec": STAGGERED, "sizes": ["S"]}, "/lines/0/sizes"),
    "sizes of a design without": ({"ref": "a", "design": "door_strap", "sizes": ["S"]}, "/lines/0/sizes"),
    "a length beside sizes": (
        {"ref": "a", "design": "bell_garter", "choices": {"length": "14 in"}, "sizes": ["S"]},
        "/lines/0/choices/length",
    ),
    "a size twice": ({"ref": "a", "spec": GARTER, "sizes": ["S", "S"]}, "/lines/0/sizes"),
    "a set of one": ({"ref": "a", "straps": [{"name": "x", "spec": GARTER}]}, "/lines/0/straps"),
    "a name twice": ({"ref": "a", "straps": [{"name": "x", "spec": GARTER}] * 2}, "/lines/0/straps"),
    "a set and a spec": (
        {"ref": "a", "spec": GARTER, "straps": [{"name": n, "spec": GARTER} for n in "xy"]},
        "/lines/0",
    ),
    "too many": ({"ref": "a", "straps": [{"name": str(n), "spec": GARTER} for n in range(10)], "pair": True,
                  "sizes": [str(n) for n in range(30)]}, "/lines"),
    "a bad strap of a set": (
        {"ref": "a", "straps": [{"name": "x", "spec": GARTER}, {"name": "y", "design": "nothing"}]},
        "/lines/0/straps/1/design",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_be_read_is_told_at_its_place(name):
    line, pointer = WRONG[name]
    with pytest.raises(OrdersError) as caught:
        quote(line)
    assert pointer in {"".join(f"/{each}" for each in fault.path) for fault in caught.value.faults}


def test_two_straps_are_not_called_alike():
    with pytest.raises(OrdersError) as caught:
        quote({"ref": "a", "spec": GARTER, "pair": True}, {"ref": "a left", "spec": GARTER})
    assert caught.value.faults[0].code == "given_twice"


CROWDED = {**GARTER, "ornaments": {"item": "bell_25", "count": 9}}
MENDED = {
    "one spec in sizes": {"ref": "a", "spec": CROWDED, "sizes": ["S", "L", "XL"]},
    "a pair": {"ref": "a", "spec": CROWDED, "pair": True},
    "a design in sizes": {"ref": "a", "design": "bell_garter", "choices": {"bells": 10}, "sizes": ["S", "M"]},
    "a wrong label": {"ref": "a", "spec": GARTER, "sizes": ["S", "XLL"]},
    "a half of a set": {"ref": "a", "straps": [{"name": "x", "spec": GARTER}, {"name": "y", "spec": CROWDED}]},
}


@pytest.mark.parametrize("name", MENDED)
def test_every_remedy_of_a_set_mends_all_of_it(name):
    document = {"lines": [MENDED[name]]}
    with pytest.raises(OrdersRefused) as caught:
        make_quote(document, SHOP, time.monotonic)
    assert caught.value.documents
    for remedy in caught.value.documents:
        make_quote(applied(document, remedy), SHOP, time.monotonic)


def test_sizes_that_cannot_be_made_are_told_at_the_size():
    line = {"ref": "a", "spec": {**GARTER, "ornaments": None}, "sizes": ["S", "no size"]}
    with pytest.raises(OrdersRefused) as caught:
        quote(copy.deepcopy(line))
    assert [fault.path for fault in caught.value.faults] == [("lines", "0", "sizes", "1")]


def test_a_shop_tells_designs_that_cannot_be_made_in_their_sizes():
    for table, told in (("no_table", "unknown size table"), ("belt", "cannot be made in size")):
        design = replace(SHOP.designs["staggered_garter"], size_table=table)
        limits = replace(SHOP.limits, length_max=900_000_000)
        shop = replace(SHOP, designs={design.name: design}, limits=limits)
        with pytest.raises(DesignsError, match=told):
            check_designs(shop)
