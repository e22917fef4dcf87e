"""The strap as it is worn: a loop as long as the strap, true to scale, with everything on it; or one that hangs."""

from functools import lru_cache
from io import BytesIO
from itertools import pairwise
from math import hypot, pi, sqrt
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image

from openapi.example_requests import examples
from service.drawing.finished.made_up import made_up
from service.drawing.finished.view import finished_view
from service.drawing.worn.closed import HoleNotWorn, closed
from service.drawing.worn.loop import FLATTENING, FORESHORTENED, Loop
from service.drawing.worn.view import worn_view
from service.forms.png import png
from service.forms.svg import svg
from service.schemas.spec import read_spec
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from tests.drawing.support import SHOP

WORN = (
    "dancers_bell_garter", "parade_harness_strap", "harness_strap_joined", "dancers_snap_cuff", "dog_collar_lead_ring",
    "lined_bell_strap",
)  # fmt: skip
EASES = {"dancers_bell_garter": 10.0, "dog_collar_lead_ring": 25.4}
"""Millimetres: 10 that the example asks for; 1 in, two fingers between collar and neck (common practice); none else."""
HUNG = ("door_hanging", "bag_strap_motif", "bag_strap_two_buckles", "shortest_open")
SVG = "{http://www.w3.org/2000/svg}"


@lru_cache
def pattern(name):
    return solve(read_spec(examples()[name], "in"), SHOP)


def look(name, **more):
    return worn_view(pattern(name), SHOP, **{"hole": None, "units": "in", "background": "#ffffff", **more})


def shut(name, hole=None):
    return closed(pattern(name), made_up(pattern(name), SHOP), hole)


def perimeter(a, b):
    """Of an ellipse, by the arithmetic-geometric mean (Abramowitz and Stegun, 17.6 and 17.3.3)."""
    e, total, power = sqrt(1 - (b / a) ** 2), 0.0, 0.5
    one, other, c = 1.0, b / a, e
    while abs(c) > 1e-15:
        total += power * c * c
        one, other, c = (one + other) / 2, sqrt(one * other), (one - other) / 2
        power *= 2
    return 4 * a * (1 - total) * pi / (2 * one)


def test_the_loop_is_an_ellipse_as_long_as_the_strap():
    loop = Loop(400.0, 30.0)
    assert perimeter(loop.half_width, loop.half_depth) == pytest.approx(400.0, rel=1e-6)
    assert loop.half_depth == pytest.approx(FLATTENING * loop.half_width)


def test_leather_is_neither_stretched_nor_shrunk_along_the_loop():
    """Between any two places the way round is what lies between them on the flat strap (geometry)."""
    loop = Loop(400.0, 30.0)
    for start, end in ((-20.0, 60.0), (100.0, 330.0), (380.0, 470.0)):
        places = [loop.seen(start + (end - start) * n / 2000, 0.0, 0.0) for n in range(2001)]
        flat = [(x, y / FORESHORTENED[1]) for x, y in places]
        way = sum(hypot(c - a, d - b) for (a, b), (c, d) in pairwise(flat))
        assert way == pytest.approx(end - start, rel=1e-4)


@pytest.mark.parametrize("name", WORN)
def test_it_is_closed_as_long_as_what_fits_at_the_hole(name):
    """Flat length = girth + ease + pi times what the strap is thick (common practice); the ease is the spec's own."""
    made = pattern(name)
    found = [(shut(name, each.hole).loop.length - each.fits / MM) for each in made.worn_at]
    assert found == pytest.approx([found[0]] * len(found), abs=0.01)
    body = made.pieces[0].thickness + (lining.thickness if (lining := made.piece("lining")) else 0)
    ease = found[0] - pi * body / MM
    assert ease == pytest.approx(EASES.get(name, 0.0), abs=0.02)


@pytest.mark.parametrize("name", WORN)
def test_another_hole_is_another_loop_and_the_usual_one_is_the_nominal(name):
    made = pattern(name)
    nominal = look(name)
    assert svg(look(name, hole=made.finished.nominal_hole)) == svg(nominal)
    others = [shut(name, each.hole).loop.length for each in made.worn_at]
    assert others == sorted(others)
    assert len(set(others)) == len(others)


def test_a_hole_at_which_it_is_not_worn_is_told():
    with pytest.raises(HoleNotWorn, match=r"choose 1, 2 or 3"):
        look("dancers_bell_garter", hole=40)
    with pytest.raises(HoleNotWorn, match="this strap hangs"):
        look("door_hanging", hole=1)


@pytest.mark.parametrize("name", WORN)
def test_everything_that_is_set_on_it_is_there_once(name):
    strap, root = made_up(pattern(name), SHOP), ET.fromstring(svg(look(name)))
    found = [each.get("id") for each in root.iter() if each.get("id")]
    assert len(found) == len(set(found))
    for placed in (*strap.ornaments, *strap.rivets, *strap.snaps):
        assert placed.feature.id in found


@pytest.mark.parametrize("name", ["dancers_bell_garter", "stitched_collar", "parade_harness_strap"])
def test_the_prong_goes_through_the_hole_that_it_is_closed_at(name):
    """The bar and the hole lie at the same place of the loop."""
    for each in pattern(name).worn_at:
        at = shut(name, each.hole)
        holes = sorted(placed.x for placed in at.strap.holes if placed.feature.purpose == "size_hole")
        bar, through = at.strap.buckles[0].x, holes[each.hole - 1]
        assert at.loop.seen(bar, 0, 0) == pytest.approx(at.loop.seen(through, 0, 0), abs=1e-6)


def test_a_millimetre_across_is_a_millimetre_of_the_picture():
    """The outline of the leather, measured in pixels, against the ellipse and what the leather is thick."""
    name, width_px = "shortest_one_piece", 900
    drawing, at = look(name, background=None), shut(name)
    data = png(drawing, width_px=width_px, max_pixels=10**7, colours="full")
    alpha = np.asarray(Image.open(BytesIO(data)))[:, :, 3]
    columns = np.flatnonzero((alpha > 250).sum(axis=0) > 5)
    found = (columns[-1] - columns[0] + 1) * drawing.width / width_px
    thick = pattern(name).pieces[0].thickness / MM
    assert found == pytest.approx(2 * at.loop.half_width + thick, abs=2.0)


@pytest.mark.parametrize("name", HUNG)
def test_a_hanging_strap_hangs_upright(name):
    flat = finished_view(pattern(name), SHOP, units="in", background="#ffffff")
    hung = look(name)
    assert (hung.width, hung.height) == (flat.height, flat.width)
    assert hung.description.startswith("It hangs")


def test_what_it_hangs_by_is_at_the_top():
    """A door hanging hangs by its ring."""
    root = ET.fromstring(svg(look("door_hanging")))
    turned = {group.get("transform") for group in root.iter(f"{SVG}g") if "rotate" in (group.get("transform") or "")}
    assert any("rotate(90)" in each for each in turned)
    assert not any("rotate(-90)" in each and "translate" in each for each in turned)


def test_a_frame_is_filled_and_nothing_is_stretched():
    for name in ("dancers_bell_garter", "door_hanging"):
        plain, framed = look(name), look(name, aspect=1.5)
        assert framed.width / framed.height == pytest.approx(1.5)
        assert framed.width == pytest.approx(plain.width) or framed.height == pytest.approx(plain.height)


def test_it_says_in_words_what_is_seen():
    drawing = look("dancers_bell_garter")
    assert "closed at hole 2" in drawing.title
    assert drawing.description.startswith("A loop, seen from the front and a little above.")
    assert "fits a girth of" in drawing.description
    assert "Beside it" not in look("harness_strap_joined").description


@pytest.mark.parametrize("name", HUNG)
def test_the_ground_beside_a_hanging_strap_is_bare(name):
    """Grain lies on leather: beyond what the strap and its shadow cover each row of the picture is one colour."""
    picture = np.asarray(
        Image.open(BytesIO(png(look(name), width_px=400, max_pixels=10**7, colours="full"))).convert("RGB")
    ).astype(int)
    edge = picture[:, -8:]
    assert np.abs(edge - picture[0, -1]).max() <= 2
