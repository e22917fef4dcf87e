"""The WebP picture, against the PNG of the same drawing and against what its file says of itself."""

import io

import numpy as np
import pytest
from PIL import Image

from openapi.example_requests import examples
from service.desk.pipeline import PatternSubject, read
from service.forms.form import Budget, OutputOptions
from service.forms.png import PNG
from service.forms.raster import PictureTooLarge
from service.forms.webp import LONGEST_SIDE, WEBP
from service.shop_file import demo_shop
from service.strap.solve import solve

SHOP = demo_shop()
BUDGET = Budget(pixels=10**8, pages=1)
MOST_APART = 2.5
"""Of 255, in the mean of all pixels and colours: below 3 nobody tells two pictures apart (from memory)."""


def picture(form, name="dancers_bell_garter", **more):
    spec, code = read(examples()[name], SHOP)
    options = OutputOptions(form=form, view="finished", **{"width_px": 700, **more})
    return form.encode(
        PatternSubject(pattern=solve(spec, SHOP), code=code, shop=SHOP, options=options, units="in"), options, BUDGET
    )


def pixels(data, mode):
    return np.asarray(Image.open(io.BytesIO(data)).convert(mode)).astype(int)


def size_in_file(data):
    """Width and height of a lossy picture without transparency (RFC 9649, 2.5; RFC 6386, section 9.1)."""
    assert (data[:4], data[8:16]) == (b"RIFF", b"WEBPVP8 ")
    assert int.from_bytes(data[4:8], "little") == len(data) - 8
    assert data[23:26] == b"\x9d\x01\x2a"
    return tuple(int.from_bytes(data[at : at + 2], "little") & 0x3FFF for at in (26, 28))


def test_the_file_is_what_the_standard_says_and_as_large_as_was_asked():
    width, height = size_in_file(picture(WEBP, background="f4efe6"))
    assert width == 700
    assert height == pixels(picture(PNG, background="f4efe6"), "RGB").shape[0]


def test_a_frame_is_filled():
    assert size_in_file(picture(WEBP, width_px=600, height_px=315, background="f4efe6")) == (600, 315)


@pytest.mark.parametrize("name", ["dancers_bell_garter", "parade_harness_strap", "door_hanging"])
def test_it_looks_like_the_png_and_is_much_smaller(name):
    webp, png = (picture(form, name, background="f4efe6") for form in (WEBP, PNG))
    assert np.abs(pixels(webp, "RGB") - pixels(png, "RGB")).mean() < MOST_APART
    assert len(webp) < len(png) / 3


def test_what_can_be_seen_through_is_exactly_the_same():
    webp, png = (pixels(picture(form, background="transparent"), "RGBA") for form in (WEBP, PNG))
    assert (webp[:, :, 3] == png[:, :, 3]).all()
    assert set(np.unique(webp[:, :, 3])) >= {0, 255}


def test_another_strap_is_another_picture_and_the_same_one_the_same_bytes():
    assert picture(WEBP) == picture(WEBP)
    assert picture(WEBP) != picture(WEBP, "goat_collar_centrepiece")


def test_a_side_longer_than_the_file_can_say_is_refused_with_one_that_can():
    with pytest.raises(PictureTooLarge) as refused:
        picture(WEBP, width_px=LONGEST_SIDE + 1)
    assert refused.value.largest["width_px"] == LONGEST_SIDE
