"""Rows said thing by thing, as a maker writes an order: numbers, and the same back again (common practice)."""

import pytest

from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.fill import fill
from service.strap.model.spec_changes import apply
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve

SHOP = demo_shop()
TRIPLE = ["bell_25", "bell_38", "bell_30"]


def strap(length="60 in", width="2 in", **row):
    return {
        "construction": "open",
        "size": {"body_length": length},
        "body": {"width": width},
        "ornaments": row,
    }


def order(document, shop=SHOP):
    """What stands along the strap, from its features alone."""
    (piece,) = solve(read_spec(document, "in"), shop).pieces
    return [each.item for each in sorted(piece.features, key=lambda each: each.x) if each.purpose == "ornament"]


def refused(document, shop=SHOP):
    """The faults by path, each remedy of which is tried, and the remedies."""
    spec = read_spec(document, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, shop)
    remedies = find_remedies(spec, shop, refusal.value.faults)
    for remedy in remedies:
        solve(apply(spec, remedy.changes), shop)
    return {".".join(fault.path): fault.code for fault in refusal.value.faults}, remedies


def unreadable(**row):
    with pytest.raises(SpecError) as refusal:
        read_spec(strap(**row), "in")
    return [(".".join(fault.path), fault.code) for fault in refusal.value.faults]


def test_what_is_said_one_by_one_is_set_in_that_order():
    assert order(strap(items=TRIPLE)) == TRIPLE
    assert order(strap(items=TRIPLE, arrange="sequence")) == TRIPLE
    assert order(strap(items=["concho_25"])) == ["concho_25"]
    assert order(strap(items=TRIPLE, count=5)) == [*TRIPLE, *TRIPLE[:2]], "a motif, as before"


def test_mirrored_the_same_order_goes_back_down_to_the_first():
    assert order(strap(items=TRIPLE, mirrored=True)) == [*TRIPLE, "bell_38", "bell_25"]
    about = strap(items=TRIPLE, mirrored=True, centrepiece="concho_25")
    assert order(about) == [*TRIPLE, "concho_25", *reversed(TRIPLE)]


def test_twenty_things_mirrored_are_thirty_nine():
    spots = ["spot_6", "spot_10"] * 10
    assert order(strap(items=spots, mirrored=True)) == [*spots, *reversed(spots[:-1])]


def test_a_whole_horse_is_said_as_far_as_the_shop_takes_it():
    """A hundred items mirrored are 199, one below the demo shop's most."""
    spots = ["spot_6", "spot_10"] * 50
    assert len(order(strap("84 in", items=spots, mirrored=True))) == 199
    assert unreadable(items=[*spots, "spot_6"]) == [("ornaments.items", "out_of_range")]
    found, remedies = refused(strap("84 in", items=spots, count=201))
    assert found == {"ornaments.count": "count_beyond_limits"}
    assert remedies


def test_the_count_is_told_and_what_was_said_stays_short():
    spec = read_spec(strap(items=TRIPLE, mirrored=True), "in")
    assert spec_document(spec, "in")["ornaments"] == {"items": TRIPLE, "mirrored": True}
    filled = spec_document(fill(spec, SHOP), "in")["ornaments"]
    assert (filled["count"], filled["arrange"]) == (5, "sequence")


@pytest.mark.parametrize(
    "row",
    [
        {"item": "bell_25"},
        {"items": TRIPLE, "arrange": "graduated"},
        {"items": TRIPLE, "arrange": "alternating"},
        {"items": TRIPLE, "arrange": "graduated", "mirrored": False},
    ],
)
def test_any_other_row_has_to_say_how_many(row):
    assert ("ornaments.count", "missing") in unreadable(**row) or "mirrored" in row
    assert unreadable(**row)


def test_an_item_that_the_shop_does_not_have_is_named_by_its_place():
    found, remedies = refused(strap(items=["bell_25"] * 7 + ["bell_26"]))
    assert found == {"ornaments.items.7": "unknown_ornament"}
    assert remedies


def test_what_does_not_fit_the_leather_is_named_and_changed_wherever_it_is_said():
    """11 oz are 4.4 mm: of a spot's 5.6 mm prongs 1.2 mm come through, and a clinch takes 1.5 mm (common practice)."""
    row = ["bell_38", "spot_6", "spot_6", "bell_38", "spot_6"]
    found, remedies = refused(strap(items=row) | {"leather": "bridle_10_11"})
    assert found == {"ornaments.items.1": "prongs_short"}
    alike = "ornaments.items.1, ornaments.items.2 and ornaments.items.4 = spot_10."
    assert any(remedy.detail.endswith(alike) for remedy in remedies)


def test_at_a_given_pitch_the_larger_of_two_that_are_too_near_is_named():
    """At 1 3/8 in (34.9 mm) two bells of 30 mm have room; beside one of 38 mm, 0.9 mm is left of the 1.5 mm."""
    row = {"items": ["bell_30", "bell_30", "bell_38"], "mirrored": True, "spacing": {"pitch": "1 3/8 in"}}
    found, remedies = refused(strap(**row))
    assert found == {"ornaments.items.2": "ornaments_crowded"}
    changes = [change.path for remedy in remedies for change in remedy.changes]
    assert ("ornaments", "items", "2") in changes
    assert ("ornaments", "spacing", "pitch") in changes


def test_a_row_without_room_is_told_at_its_count_and_mended():
    """Twenty bells of 25 mm and more are longer than 20 in of leather."""
    found, remedies = refused(strap("20 in", items=["bell_25", "bell_30"] * 5, mirrored=True))
    assert found == {"ornaments.count": "ornaments_crowded"}
    assert {change.path[-1] for remedy in remedies for change in remedy.changes} >= {"count", "body_length"}
