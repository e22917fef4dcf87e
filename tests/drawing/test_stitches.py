"""Lines of stitches on the sheet, measured in the SVG as svgelements reads it."""

import xml.etree.ElementTree as ET
from math import hypot

import pytest
from svgelements import Path as SvgPath

from openapi.example_requests import examples
from service.drawing import lines
from service.drawing.parts.symbols import STITCH_STROKE
from service.drawing.working.sheet import working_sheet
from service.forms.svg import svg
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.fixings.stitches import hole_places
from service.strap.plane.lengths import MM
from service.strap.solve import solve

SHOP = demo_shop()
GROUP = "{http://www.w3.org/2000/svg}g"


def sheet_of(name):
    pattern = solve(read_spec(examples()[name], "in"), SHOP)
    return pattern, ET.fromstring(svg(working_sheet(pattern, SHOP, piece=None, units="in")))


@pytest.mark.parametrize("name", ["lined_bag_strap", "stitched_collar"])
def test_every_hole_is_ticked_where_it_is_pricked(name):
    pattern, root = sheet_of(name)
    (layer,) = (each for each in root if each.get("id") == "stitch")
    drawn = {each.get("id"): each.get("d") for each in layer.iter() if each.get("id")}
    stitched = [line for piece in pattern.pieces for line in piece.stitch_lines]
    assert {line.id for line in stitched} <= set(drawn)
    for line in stitched:
        strokes = [segment for segment in SvgPath(drawn[f"{line.id}.holes"]) if type(segment).__name__ == "Line"]
        assert len(strokes) == line.holes
        for stroke, (x, y) in zip(strokes, hole_places(line), strict=True):
            middle = (stroke.start.x + stroke.end.x) / 2, (stroke.start.y + stroke.end.y) / 2
            assert middle == pytest.approx((x / MM, y / MM), abs=0.0011)
            assert hypot(stroke.end.x - stroke.start.x, stroke.end.y - stroke.start.y) == pytest.approx(
                STITCH_STROKE, abs=0.003
            )
        assert SvgPath(drawn[line.id]).length() == pytest.approx(line.length / MM, abs=0.05)


def test_a_strap_without_stitches_has_no_layer_of_them():
    _, root = sheet_of("herding_dog_collar")
    assert "stitch" not in {each.get("id") for each in root}


def test_stitches_have_a_line_of_their_own():
    others = (lines.OUTLINE, lines.MARK, lines.FOLD, lines.CENTRE, lines.FOOTPRINT)
    assert lines.STITCH.dash not in {pen.dash for pen in others}
    assert lines.STITCH.width == lines.NARROW


def test_the_sheet_counts_the_holes():
    pattern, root = sheet_of("stitched_collar")
    (line,) = (line for piece in pattern.pieces for line in piece.stitch_lines)
    said = " ".join(each.get("aria-label", "") for each in root.iter())
    assert f"{line.holes} holes" in said
    assert "line of stitches" in said
