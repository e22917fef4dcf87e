"""When two patterns are of the same strap: whatever is cut, punched or set counts, and nothing else does."""

import os
import subprocess
import sys
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, reject

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.likeness import Moved, figures_of, moved, pattern_digest
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.door import GOOD
from tests.support.straps import specs

SHOP = demo_shop()
HARNESS, LINED = (
    solve(read_spec(examples()[name], "in"), SHOP) for name in ("parade_harness_strap", "lined_bag_strap")
)


def with_piece(pattern, **changes):
    """The pattern with its first piece otherwise."""
    first, *rest = pattern.pieces
    return replace(pattern, pieces=(replace(first, **changes), *rest))


def with_feature(pattern, number=0, **changes):
    features = list(pattern.pieces[0].features)
    features[number] = replace(features[number], **changes)
    return with_piece(pattern, features=tuple(features))


def joint_hole(pattern):
    return pattern.pieces[0].features[0]


OTHER_STRAPS = {
    "a hole more": with_piece(HARNESS, features=HARNESS.pieces[0].features[1:]),
    "a hole elsewhere along": with_feature(HARNESS, x=joint_hole(HARNESS).x + MM // 1000),
    "a hole elsewhere across": with_feature(HARNESS, y=joint_hole(HARNESS).y - MM // 1000),
    "a hole of another size": with_feature(HARNESS, diameter=joint_hole(HARNESS).diameter + MM // 10),
    "a mark instead of a hole": with_feature(HARNESS, action="mark"),
    "another thing set there": with_feature(HARNESS, item="double_cap_large"),
    "a wider cap": with_feature(HARNESS, footprint=joint_hole(HARNESS).footprint + MM),
    "another leather": with_piece(HARNESS, leather=SHOP.leathers["bridle_10_11"]),
    "a longer piece": with_piece(HARNESS, length=HARNESS.pieces[0].length + MM),
    "a wider piece": with_piece(HARNESS, width=HARNESS.pieces[0].width + MM),
    "a thicker piece": with_piece(HARNESS, thickness=HARNESS.pieces[0].thickness + MM),
    "a piece not skived": with_piece(HARNESS, skived=HARNESS.pieces[0].skived + MM),
    "another end": with_piece(HARNESS, outline=HARNESS.pieces[1].outline),
    "a piece less": replace(HARNESS, pieces=HARNESS.pieces[1:]),
    "not stitched": with_piece(LINED, stitch_lines=()),
    "fewer stitch lines": with_piece(LINED, stitch_lines=LINED.pieces[0].stitch_lines[1:]),
    "one bell more": replace(
        HARNESS, hardware=(replace(HARNESS.hardware[0], count=HARNESS.hardware[0].count + 1), *HARNESS.hardware[1:])
    ),
    "longer made up": replace(HARNESS, finished=replace(HARNESS.finished, length=HARNESS.finished.length + MM)),
    "another datum": replace(HARNESS, finished=replace(HARNESS.finished, measured_from="bar")),
    "another frame": replace(HARNESS, finished=replace(HARNESS.finished, from_frame=HARNESS.finished.from_frame + MM)),
}
"""What has to tell two straps apart."""


@pytest.mark.parametrize("what", OTHER_STRAPS)
def test_another_strap_has_another_digest(what):
    same = LINED if "stitch" in what else HARNESS
    assert pattern_digest(OTHER_STRAPS[what]) != pattern_digest(same)


SAME_STRAPS = {
    "another tool of the same size": with_feature(HARNESS, tool="punch_9"),
    "features in another order": with_piece(HARNESS, features=HARNESS.pieces[0].features[::-1]),
    "other ids": with_feature(HARNESS, id="body.joint.99"),
    "weighed again": replace(HARNESS, finished=replace(HARNESS.finished, weight_mg=1)),
    "told for another purpose": replace(HARNESS, hardware=tuple(replace(h, purpose="x") for h in HARNESS.hardware)),
    "other checks": replace(HARNESS, checks=()),
    "less than answers tell": with_feature(HARNESS, x=joint_hole(HARNESS).x + 300),
    "another title, price and colour": with_piece(
        HARNESS,
        leather=replace(HARNESS.pieces[0].leather, title="x", price_per_m2=Decimal(1), colour="#000000"),
    ),
}
"""What may change while the strap stays the same."""


@pytest.mark.parametrize("what", SAME_STRAPS)
def test_the_same_strap_has_the_same_digest(what):
    assert joint_hole(HARNESS).x % 1000 == 0
    assert pattern_digest(SAME_STRAPS[what]) == pattern_digest(HARNESS)


def test_no_two_examples_are_the_same_strap():
    found = {pattern_digest(solve(read_spec(spec, "in"), SHOP)) for spec in GOOD.values()}
    assert len(found) == len(GOOD)


def test_an_open_strap_is_the_same_whatever_its_datum_is_called():
    """Seals that are out were made while it was told to be measured from the fold."""
    assert LINED.finished.measured_from == "ends"
    before = replace(LINED, finished=replace(LINED.finished, measured_from="fold"))
    assert pattern_digest(before) == pattern_digest(LINED)


@given(specs("three_piece") | specs("one_piece") | specs("open"))
def test_a_filled_spec_makes_the_strap_that_it_was_filled_for(spec):
    """Every default is in it, and saying them changes nothing."""
    try:
        made = solve(spec, SHOP)
    except Refusal:
        reject()
    size = made.spec.size
    filled = replace(made.spec, size=replace(size, table=None, label=None) if size.table else size)
    again = solve(filled, SHOP)
    assert again.spec == filled
    assert pattern_digest(again) == pattern_digest(made)
    assert figures_of(again) == figures_of(made)


SCRIPT = """
from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.model.likeness import pattern_digest
from service.strap.solve import solve
print(pattern_digest(solve(read_spec(examples()["parade_harness_strap"], "in"), demo_shop())), demo_shop().terms)
"""


@pytest.mark.parametrize("seed", ["1", "4242"])
def test_the_digests_are_the_same_in_every_process(seed):
    told = subprocess.run(
        [sys.executable, "-c", SCRIPT], env=os.environ | {"PYTHONHASHSEED": seed}, capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    assert told.stdout.split() == [pattern_digest(HARNESS), SHOP.terms]


def test_the_figures_are_those_of_the_pattern():
    """Read off the example's own spec, in micrometres: 30 in long, 2 1/4 in wide, 7 bells of 38 mm."""
    figures = figures_of(HARNESS)
    assert figures["pieces", "body", "length"] == 762_000
    assert figures["pieces", "body", "width"] == 57_150
    assert figures["pieces", "body", "ornament", "count"] == figures["hardware", "bell_38", "count"] == 7
    holes = [each.length for each in HARNESS.finished.holes]
    assert figures["finished", "first_hole"] * 1000 == pytest.approx(holes[0], abs=500)
    assert figures["finished", "last_hole"] * 1000 == pytest.approx(holes[-1], abs=500)


def test_what_moved_is_told_with_what_came_and_what_went():
    before = {("finished", "length"): 100, ("hardware", "bell_25", "count"): 5, ("pieces", "strap", "width"): 7}
    after = {("finished", "length"): 100, ("pieces", "strap", "width"): 8, ("hardware", "bell_30", "count"): 4}
    assert moved(before, after) == (
        Moved(path=("hardware", "bell_25", "count"), before=5, after=None),
        Moved(path=("pieces", "strap", "width"), before=7000, after=8000),
        Moved(path=("hardware", "bell_30", "count"), before=None, after=4),
    )
    assert moved(before, before) == ()


def test_the_same_item_for_two_purposes_is_counted_together():
    first = HARNESS.hardware[0]
    twice = replace(HARNESS, hardware=(*HARNESS.hardware, replace(first, purpose="more", count=2)))
    assert (
        figures_of(twice)["hardware", first.item, "count"] == figures_of(HARNESS)["hardware", first.item, "count"] + 2
    )


def terms(**changes):
    return replace(SHOP, **changes).terms


def test_the_terms_change_with_whatever_shapes_a_pattern_or_a_price():
    harness = SHOP.leathers["harness_8_9"]
    others = [
        terms(currency="CHF"),
        terms(rules=replace(SHOP.rules, first_size_hole=INCH)),
        terms(defaults=replace(SHOP.defaults, leather="bridle_10_11")),
        terms(limits=replace(SHOP.limits, ornaments_max=3)),
        terms(pricing=None),
        terms(pricing=replace(SHOP.pricing, tax=Decimal("0.07"))),
        terms(pricing=replace(SHOP.pricing, shown="net")),
        terms(leathers={**SHOP.leathers, "harness_8_9": replace(harness, price_per_m2=Decimal(97))}),
        terms(leathers={**SHOP.leathers, "harness_8_9": replace(harness, thin=harness.thin + 1)}),
        terms(leathers={name: each for name, each in SHOP.leathers.items() if name != "lining_2_3"}),
        terms(buckles=dict(reversed(SHOP.buckles.items()))),
        terms(size_tables={}),
    ]
    assert len({SHOP.terms, *others}) == 1 + len(others)


def test_the_terms_stay_whatever_only_reads_or_looks_otherwise():
    harness = replace(SHOP.leathers["harness_8_9"], title="x", colour="#000000", edge_colour="#000000")
    same = [
        terms(name="x", digest="0" * 64, designs={}, mark=None, artwork={}),
        terms(paper=replace(SHOP.paper, margin=MM)),
        terms(finished=replace(SHOP.finished, background=None)),
        terms(leathers={**SHOP.leathers, "harness_8_9": harness}),
        terms(pricing=replace(SHOP.pricing, tax=Decimal("0.190"), tax_title="x")),
    ]
    assert {SHOP.terms, *same} == {SHOP.terms}
