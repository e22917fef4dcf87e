"""What a spec gets where it says nothing: sizes by label, the buckle for a width."""

from dataclasses import replace

import pytest

from service.shop.shop import SizeTable
from service.strap.filling.fill import fill
from service.strap.model.spec import Body, Size, Spec
from service.strap.model.spec_set import Row, Rows
from service.strap.plane.lengths import INCH
from service.strap.solve import solve


@pytest.mark.parametrize("measure", ["body_length", "finished_length", "girth"])
def test_a_size_by_label_is_the_length_that_its_table_says(measure, shop):
    """A label is another way to say one of the three lengths, and leads to the same strap."""
    table = SizeTable(id="bags", title="bag straps", measure=measure, sizes={"M": 28 * INCH})
    tabled = replace(shop, size_tables={"bags": table})
    by_label = Spec(construction="three_piece", size=Size(table="bags", label="M"))
    said = Spec(construction="three_piece", size=Size(**{measure: 28 * INCH}))
    assert solve(by_label, tabled).pieces == solve(said, tabled).pieces
    assert getattr(fill(by_label, tabled).size, measure) == 28 * INCH


@pytest.mark.parametrize("buckle", ["heel_bar_20", "heel_bar_25", "heel_bar_38"])
def test_a_buckle_takes_widths_from_its_own_down_to_the_shop_s_slack(buckle, shop):
    """A buckle is sold by its inside width: no strap may be wider, and one much narrower slides (common practice)."""

    def taken(width):
        spec = Spec(construction="one_piece", size=Size(girth=20 * INCH), body=Body(width=width))
        return fill(spec, shop).billet.buckle

    inside, slack = shop.buckles[buckle].inside_width, shop.rules.buckle_slack
    assert (taken(inside), taken(inside - slack)) == (buckle, buckle)
    if buckle != shop.defaults.buckle:  # which is also taken where none fits
        assert buckle not in (taken(inside + 1), taken(inside - slack - 1))


def test_an_open_strap_has_no_fold_to_be_measured_from(shop):
    """Without a buckle a finished length runs from end to end (common practice)."""
    spec = Spec(construction="open", size=Size(finished_length=20 * INCH))
    assert fill(spec, shop).size.measured_from is None
    assert fill(replace(spec, construction="one_piece"), shop).size.measured_from == "fold"
    assert solve(spec, shop).finished.measured_from == "ends"


def test_rows_of_which_no_count_is_said_are_two(shop):
    row = Row(item="spot_10", count=4, rows=Rows())
    spec = Spec(construction="three_piece", size=Size(body_length=20 * INCH), ornaments=row)
    assert fill(spec, shop).ornaments.rows.count == 2
