"""Remedies that a maker would take: the nearest goods in stock, the least of what was asked for changed.

What counts as near, and that no remedy leaves a tip loose, is common practice at the bench.
"""

from dataclasses import replace

import pytest

from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.fill import fill
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import MM
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.support.random_straps import random_strap

SHOP = demo_shop()
BELT = {"construction": "one_piece", "size": {"girth": "36 in"}, "units": "mm", "body": {"width": "40 mm"}}
FEW = replace(
    SHOP,
    buckles={name: SHOP.buckles[name] for name in ("heel_bar_20", "heel_bar_25", "centre_bar_25", "heel_bar_38")},
    rings={name: SHOP.rings[name] for name in ("ring_25", "ring_38", "dee_25", "dee_38")},
)
"""A shop with few buckles and rings, so that not every width is one of theirs."""
PUPPY = {"construction": "one_piece", "size": {"girth": "9 in"}, "body": {"width": "1/2 in"}}
LATIGO = {"construction": "one_piece", "size": {"girth": "30 in"}, "leather": "latigo_6_7"}
CONCHOS = {
    "construction": "one_piece",
    "size": {"girth": "20 in"},
    "body": {"width": "1 1/2 in"},
    "ornaments": {"item": "concho_25", "count": 5},
    "border": {"item": "spot_6"},
}


def offered(document, shop=SHOP):
    """The sentences of the faults, and the remedies' changes in order; each remedy is tried."""
    spec = read_spec(document, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, shop)
    remedies = find_remedies(spec, shop, refusal.value.faults)
    for remedy in remedies:
        solve(apply(spec, remedy.changes), shop)
    changes = [{".".join(change.path): change.value for change in remedy.changes} for remedy in remedies]
    return [fault.detail for fault in refusal.value.faults], changes


def sentences(document):
    spec = read_spec(document, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    return [remedy.detail for remedy in find_remedies(spec, SHOP, refusal.value.faults)]


def test_what_is_left_out_is_told_as_left_out():
    """Two rows of bells 30 mm wide have no room across a strap of 1 1/2 in, one row has; none is needed either."""
    row = {"item": "bell_30", "count": 4, "rows": {"count": 2, "distance": "1/4 in"}}
    strap = {"construction": "open", "size": {"body_length": "30 in"}, "body": {"width": "1 1/2 in"}}
    found = sentences(strap | {"ornaments": row})
    assert "Set one row: leave out ornaments.rows." in found
    crowded = sentences(CONCHOS)
    assert not [
        text for each in (found, crowded) for text in each if ": " in text and "=" not in text and "out" not in text
    ]


def test_a_belt_of_40_mm_is_offered_the_buckle_of_38_mm():
    """38 mm is 1 1/2 in: the nearest width that a buckle of the shop takes. Nothing narrower is offered beside it."""
    details, remedies = offered(BELT, FEW)
    assert remedies == [{"body.width": 38 * MM}]
    assert "takes one of 40 mm to" in details[0]


def test_a_buckle_that_was_asked_for_is_changed_with_the_width():
    _, remedies = offered(BELT | {"billet": {"buckle": "heel_bar_25"}}, FEW)
    assert remedies[0] == {"body.width": 38 * MM, "billet.buckle": "heel_bar_38"}
    assert {"body.width": 25 * MM} in remedies, "or the width of the buckle that was asked for"


def test_a_puppy_collar_is_offered_the_narrowest_buckle_and_told_what_it_would_take():
    """3/4 in is the narrowest buckle; one for 1/2 in measures 1/2 to 5/8 in inside by the shop's slack of 1/8 in."""
    details, remedies = offered(PUPPY, FEW)
    assert remedies[0] == {"body.width": 3 * MM * 254 // 40}
    assert all(remedy.get("body.width") != 25_400_000 for remedy in remedies)
    assert "takes one of 1/2 in to 5/8 in inside" in details[0]


@pytest.mark.parametrize("billet", [{}, {"buckle": "heel_bar_25"}, {"keeper": True}], ids=str)
def test_latigo_keeps_its_keeper_or_takes_a_buckle_that_needs_none(billet):
    """In a shop without small rivets nothing holds two thin plies, however little the lap is skived.

    The lined fold is held: by hand 2 × (6 + 2) to 2 × (7 + 3) oz are 1/4 to 5/16 in.
    """
    held = {name: each for name, each in SHOP.fasteners.items() if not name.startswith("double_cap_small")}
    defaults = replace(SHOP.defaults, keeper_fastener="double_cap_medium")
    _, remedies = offered(
        LATIGO | {"lining": "lining_2_3", "billet": billet}, replace(SHOP, fasteners=held, defaults=defaults)
    )
    assert "centre_bar_25" in {remedy.get("billet.buckle") for remedy in remedies}
    assert {"leather": "bridle_10_11"} in remedies
    assert all(remedy.get("billet.keeper") is not False for remedy in remedies)


@pytest.mark.parametrize("size", [{"girth": "14 in"}, {"table": "garter", "label": "S"}], ids=str)
def test_nobody_is_told_to_wear_a_strap_that_does_not_buckle_round_him(size):
    """Two holes of 1 in on either side of the middle one take 2 in more or less; of S, 12 1/2 in, 14 is M's girth."""
    _, remedies = offered({"construction": "one_piece", "size": size, "ornaments": {"item": "bell_25", "count": 8}})
    assert {"ornaments.count": 4} in remedies or {"ornaments.count": 3} in remedies
    girths = [remedy["size.girth"] for remedy in remedies if "size.girth" in remedy]
    assert all(girth <= 16 * 254 * MM // 10 for girth in girths)
    assert {remedy["size.label"] for remedy in remedies if "size.label" in remedy} <= {"M"}


def test_a_buckle_with_its_bar_at_the_heel_brings_its_keeper():
    """The keeper was left out of a buckle that holds the tip itself."""
    billet = {"buckle": "centre_bar_25", "keeper": False}
    _, remedies = offered(LATIGO | {"leather": "harness_8_9", "body": {"width": "1 1/2 in"}, "billet": billet}, FEW)
    assert remedies[0] == {"billet.buckle": "heel_bar_38", "billet.keeper": None}


def test_a_hanging_too_wide_for_its_ring_is_offered_the_widest_ring_with_its_width():
    """A ring of 1 17/32 in inside takes 1 1/2 in; the default of 1 1/32 in only 1 in."""
    hanging = {"construction": "open", "size": {"body_length": "20 in"}, "ends": {"head": {"kind": "ring"}}}
    _, remedies = offered(hanging | {"body": {"width": "2 in"}}, FEW)
    assert remedies[0] == {"body.width": 1000 * MM * 381 // 10000, "ends.head.ring": "ring_38"}


def test_a_concho_collar_may_have_its_border_spots_between():
    """Level with a concho of 25 mm no spot of 6 mm has room on 38.1 mm: 6.55 mm are left of it at each edge."""
    _, remedies = offered(CONCHOS)
    assert remedies[0] == {"between.item": "spot_6", "border": None}
    assert remedies[-1] == {"border": None}


def test_a_smaller_concho_comes_before_another_place_for_the_border():
    """Of 20 mm: (38.1 - 20) / 2 = 9.05 mm at each edge, and 1 + 6 + 1.5 are needed."""
    small = replace(SHOP.ornaments["concho_25"], id="concho_20", diameter=20 * MM)
    shop = replace(SHOP, ornaments={**SHOP.ornaments, "concho_20": small})
    _, remedies = offered(CONCHOS | {"border": {"item": "spot_6", "inset": "4 mm"}}, shop)
    assert {"ornaments.item": "concho_20"} in remedies
    assert remedies.index({"ornaments.item": "concho_20"}) < remedies.index({"between.item": "spot_6", "border": None})


def test_what_goes_the_same_way_and_farther_is_not_offered_too():
    """Seven bells fit: six, five and fewer need no telling."""
    strap = {
        "construction": "three_piece",
        "size": {"body_length": "16 in"},
        "ornaments": {"item": "bell_38", "count": 12},
    }
    _, remedies = offered(strap)
    assert remedies[0] == {"ornaments.count": 7}
    counts = [remedy for remedy in remedies if remedy.keys() == {"ornaments.count"}]
    assert len(counts) == 1
    assert remedies[-1] == {"ornaments": None}


def test_where_no_one_change_will_do_two_are_offered_before_the_bells_are_left_out():
    """25 at 1 31/32 in fill 47 1/4 of 48 in, and a slot of 3/4 in leaves 1/16 in of 7/8 in at each edge (by hand)."""
    row = {"item": "bell_38", "count": 25, "spacing": {"pitch": "1 31/32 in"}}
    strip = {"construction": "open", "size": {"body_length": "48 in"}, "body": {"width": "7/8 in"}, "ornaments": row}
    _, remedies = offered(strip)
    assert remedies
    assert {"ornaments": None} not in remedies
    assert any(len(remedy) == 2 for remedy in remedies)


def test_two_lengths_that_read_alike_are_told_apart():
    """A shank of 8 mm behind 11 and 3 oz, 14/64 in = 5.556 mm, stands out 2.444 mm; the lace needs 2.5 mm."""
    lined = {
        "construction": "three_piece",
        "size": {"body_length": "24 in"},
        "leather": "bridle_10_11",
        "lining": {"leather": "lining_2_3", "purpose": "carry"},
        "ornaments": {"item": "bell_25", "count": 4},
    }
    details, _ = offered(lined)
    assert any("≈ 3/32 in (2.4 mm)" in detail and "≈ 3/32 in (2.5 mm)" in detail for detail in details)


@pytest.mark.parametrize("leather", ["latigo_6_7", "bridle_10_11", "lining_2_3"])
@pytest.mark.parametrize("buckle", [None, *SHOP.buckles])
@pytest.mark.parametrize("width", ["1/2 in", "1 in", "1 1/4 in", "2 in"])
def test_no_remedy_leaves_the_tip_loose(leather, buckle, width):
    document = LATIGO | {"leather": leather, "body": {"width": width}, "billet": {"buckle": buckle} if buckle else {}}
    spec = read_spec(document, "in")
    try:
        solve(spec, SHOP)
    except Refusal as refusal:
        for remedy in find_remedies(spec, SHOP, refusal.faults):
            mended = fill(apply(spec, remedy.changes), SHOP).billet
            assert mended.keeper or not SHOP.buckles[mended.buckle].needs_keeper, remedy.detail


@pytest.mark.parametrize("between", [{"item": "spot_6", "per_gap": 0}, [{"item": "spot_6", "per_gap": 0}] * 3])
def test_border_spots_are_not_set_between_where_what_stands_between_is_said(between):
    """None at all was asked for there; a list of such parts has no item of its own to change."""
    _, remedies = offered(CONCHOS | {"between": between})
    assert remedies
    assert not any("between.item" in changes for changes in remedies)


def test_many_border_rows_without_a_row_of_ornaments_are_told_at_their_step():
    """One row's step is as long as the strap, which without ornaments stands for the pitch; another's is tiny."""
    borders = [{"item": "spot_6", "step": "20 in"}, {"item": "spot_6", "inset": "3/8 in", "step": "0.01 mm"}]
    strip = {"construction": "open", "size": {"body_length": "20 in"}, "body": {"width": "2 in"}, "border": borders}
    spec = read_spec(strip, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    assert [(fault.code, fault.path) for fault in refusal.value.faults][:1] == [
        ("too_many_features", ("border", "0", "step"))
    ]
    find_remedies(spec, SHOP, refusal.value.faults)


@pytest.mark.parametrize("seed", [1354, 1381, 1407, 1441, 1457])
def test_no_remedy_is_offered_twice(seed):
    """Odd straps for which the search is gone through again, since all that it found first leaves a part out."""
    spec = read_spec(random_strap(seed), "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    found = [
        {(change.path, change.value) for change in each.changes}
        for each in find_remedies(spec, SHOP, refusal.value.faults)
    ]
    assert found
    assert all(each not in found[n + 1 :] for n, each in enumerate(found))


def test_a_hanging_too_long_for_its_leather_is_spliced_first_and_never_made_of_a_lining():
    """Common practice: a long strap is lapped of two strips. A lining of 2-3 oz bears nothing."""
    _, remedies = offered({"construction": "open", "size": {"body_length": "80 in"}, "leather": "bridle_10_11"})
    assert remedies[0] == {"body.splices": "allowed"}
    assert {"leather": "harness_8_9"} in remedies
    assert {"leather": "lining_2_3"} not in remedies


def test_a_lead_too_long_for_its_leather_is_not_spliced():
    """A saddlery's rule: what an animal is led by is made of one strip."""
    lead = {"construction": "open", "size": {"body_length": "80 in"}, "leather": "bridle_10_11", "worn_by": "animal"}
    _, remedies = offered(
        lead | {"ends": {"head": {"kind": "ring"}, "foot": {"kind": "ring"}}, "construction": "two_ends"}
    )
    assert remedies
    assert all("body.splices" not in remedy for remedy in remedies)


def test_an_even_number_of_holes_may_be_one_more_or_one_fewer():
    """Holes are an odd number, so that one is in the middle (a saddlery's rules, `tests/SOURCES.md`)."""
    _, remedies = offered(
        {"construction": "one_piece", "size": {"girth": "20 in"}, "billet": {"size_holes": {"count": 4}}}
    )
    assert remedies == [{"billet.size_holes.count": 5}, {"billet.size_holes.count": 3}]


def test_a_slot_too_near_the_edges_is_made_as_much_shorter_as_it_takes():
    """1 1/2 in less 1/8 in at each side is 1 1/4 in."""
    hanging = {"construction": "two_ends", "size": {"body_length": "30 in"}, "body": {"width": "1 1/2 in"}}
    _, remedies = offered(hanging | {"ends": {"head": {"kind": "slot", "slot": "1 3/8 in"}, "foot": {"kind": "plain"}}})
    assert remedies[0] == {"ends.head.slot": 5 * 25_400_000 // 4}
