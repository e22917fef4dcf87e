"""Pixels are counted and refused by arithmetic, and the refusal names what would do."""

from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.drawing.model import Drawing
from service.forms.raster import CAIRO_LONGEST, PictureTooLarge, check_frame, raster

SIDES = st.floats(1, 3000)


def blank(width, height):
    return Drawing(width, height, "t", "d", "en", ())


@given(SIDES, SIDES, st.integers(1, 100_000), st.integers(10_000, 50_000_000))
def test_what_a_refusal_offers_is_accepted_and_more_is_not(width, height, dpi, most):
    drawing = blank(width, height)
    sides = ceil(width * dpi / 25.4 - 1e-6), ceil(height * dpi / 25.4 - 1e-6)
    if sides[0] * sides[1] <= most and max(sides) <= CAIRO_LONGEST:
        plan = raster(drawing, dpi=dpi, width_px=None, max_pixels=most)
        assert (plan.width, plan.height) == sides
        return
    with pytest.raises(PictureTooLarge) as refused:
        raster(drawing, dpi=dpi, width_px=None, max_pixels=most)
    for name, largest in refused.value.largest.items():
        if largest:
            raster(drawing, **{"dpi": None, "width_px": None, name: largest}, max_pixels=most)
        with pytest.raises(PictureTooLarge):
            raster(drawing, **{"dpi": None, "width_px": None, name: largest + 1}, max_pixels=most)


@given(st.integers(16, 8000), st.integers(16, 8000), st.integers(10_000, 50_000_000))
def test_what_a_refused_frame_is_offered_is_accepted_and_more_is_not(width, height, most):
    if width * height <= most:
        check_frame(width, height, most)
        return
    with pytest.raises(PictureTooLarge) as refused:
        check_frame(width, height, most)
    for name, largest in refused.value.largest.items():
        check_frame(**{"width": width, "height": height, name.removesuffix("_px"): largest}, max_pixels=most)
        with pytest.raises(PictureTooLarge):
            check_frame(**{"width": width, "height": height, name.removesuffix("_px"): largest + 1}, max_pixels=most)


def test_no_side_is_longer_than_cairo_draws():
    """Cairo surfaces end at 32767 px."""
    with pytest.raises(PictureTooLarge):
        raster(blank(1000, 1), dpi=None, width_px=32_768, max_pixels=10**9)
    assert raster(blank(1000, 1), dpi=None, width_px=32_767, max_pixels=10**9).width == 32_767


def test_an_inch_at_300_dpi_has_300_pixels():
    plan = raster(blank(25.4, 50.8), dpi=300, width_px=None, max_pixels=10**6)
    assert (plan.width, plan.height, plan.dpi) == (300, 600, pytest.approx(300))


@pytest.mark.parametrize(
    ("dpi", "width_px"),
    [(None, None), (100, 100), (0, None), (-1, None), (None, 0), (float("nan"), None), (float("inf"), None)],
)
def test_exactly_one_sensible_size_is_asked_for(dpi, width_px):
    with pytest.raises(ValueError, match="dpi"):
        raster(blank(10, 10), dpi=dpi, width_px=width_px, max_pixels=10**6)
