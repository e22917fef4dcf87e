"""A shop's own pictures: what is safe is drawn, what could harm is refused with a word that helps."""

import io
from dataclasses import replace
from xml.etree import ElementTree as ET

import cairosvg
import numpy as np
import pytest
from PIL import Image as Pillow

from service.artwork.render import LONGEST_PX, read_artwork
from service.artwork.values import ArtworkError
from service.drawing.finished.view import finished_view
from service.drawing.model import Drawing, Image, Layer, Stamp
from service.drawing.working.sheet import working_sheet
from service.forms.png import png
from service.forms.svg import svg
from service.shop_file import DEMO, ShopFileError, load_shop
from tests.attacks.growth import assert_linear
from tests.drawing.support import SHOP, one_piece, three_piece

ROOT = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 10 10">'
SQUARE = '<path d="M1 1H9V9H1Z" fill="#cc0000"/>'
GRADIENT = '<linearGradient id="a"><stop offset="0" stop-color="#f00"/><stop offset="1"/></linearGradient>'


def picture(body, root=ROOT):
    return read_artwork(f"{root}{body}</svg>".encode())


def pixels(data):
    return np.asarray(Pillow.open(io.BytesIO(data)).convert("RGBA")).astype(int)


def test_shapes_groups_styles_and_gradients_are_drawn():
    """Editors write properties into `style` and let one gradient take its stops from another."""
    taken = '<radialGradient id="b" xlink:href="#a" cx="5" cy="5" r="4" gradientUnits="userSpaceOnUse"/>'
    group = '<g style="stroke:none;fill:url(#b);font-size:3px"><circle cx="5" cy="5" r="4"/></g>'
    body = f"<defs>{GRADIENT}{taken}</defs>{group}"
    artwork = picture(f"<title>x</title><metadata><a xmlns='urn:b'/></metadata>{body}")
    seen = pixels(artwork.png)
    assert seen.shape == (LONGEST_PX, LONGEST_PX, 4)
    middle = LONGEST_PX // 2
    assert seen[middle, middle, 0] > 240
    assert seen[middle, middle + 180, 0] < 80
    assert seen[2, 2, 3] == 0
    assert "font-size" not in artwork.markup
    assert "metadata" not in artwork.markup


def test_a_view_box_that_does_not_begin_at_the_origin_is_moved_there():
    moved = picture('<path d="M101 1H109V9H101Z" fill="#cc0000"/>', ROOT.replace("0 0 10 10", "100 0 10 10"))
    assert (pixels(moved.png) == pixels(picture(SQUARE).png)).all()


BOMB = '<g id="a1"/>' + "".join(f'<g id="a{n + 1}">{f"<use href=&quot;#a{n}&quot;/>" * 10}</g>' for n in range(1, 9))
UNSAFE = {
    "a script": ("<script>1</script>", "may not contain scripts"),
    "an event": (f'<g onclick="x()">{SQUARE}</g>', "event attribute onclick"),
    "a picture from elsewhere": ('<image href="https://example.org/x.png"/>', "element 'image'"),
    "a file of this machine": ('<image xlink:href="file:///etc/hostname"/>', "element 'image'"),
    "a fill from elsewhere": ('<path d="M1 1H9V9Z" fill="url(https://example.org/#a)"/>', "outside the file"),
    "a style from elsewhere": ('<path d="M1 1H9V9Z" style="fill:url(//example.org/a)"/>', "outside the file"),
    "an imported style": ('<style>@import "x.css"</style>', "element 'style'"),
    "an escaped style": ('<path d="M1 1H9V9Z" style="fill:u\\72l(x)"/>', "more than a list of properties"),
    "a use": ('<use href="#a"/>', "element 'use'"),
    "a use bomb": (BOMB.replace("&quot;", '"'), "element 'use'"),
    "a gradient from elsewhere": ('<linearGradient id="a" href="x.svg#b"/>', "outside the file"),
    "gradients in a ring": (
        '<linearGradient id="a" href="#b"/><linearGradient id="b" href="#a"/>', "no plain gradient",
    ),
    "a gradient of itself": ('<linearGradient id="a" href="#a"/>', "no plain gradient"),
    "a fill that is not there": ('<path d="M1 1H9V9Z" fill="url(#q)"/>', "no gradient of the file"),
    "a link": (f'<a href="https://example.org">{SQUARE}</a>', "element 'a'"),
    "a reference on a shape": ('<path href="#x" d="M1 1H9V9Z"/>', "may not refer to others"),
    "text": ("<text>hello</text>", "make paths of its text"),
    "foreign content": ("<foreignObject/>", "element 'foreignObject'"),
    "a filter": ('<g filter="url(#f)"/>', "uses filter"),
    "dashes without end": ('<path d="M0 0H9" stroke="red" stroke-dasharray="0.0000001"/>', "uses stroke-dasharray"),
    "an animation": ('<animate attributeName="x"/>', "element 'animate'"),
    "numbers beyond reason": ('<path d="M1 1H9V9Z" transform="scale(1e999)"/>', "cannot be drawn|draws nothing"),
    "a path that is none": ('<path d="M1 1 &lt;script&gt;"/>', "is not read here"),
    "a colour that is none": ('<path d="M1 1H9V9Z" fill="{prefix}"/>', "is not read here"),
    "nothing": ("", "draws nothing"),
    "something far outside": ('<path d="M100 100H110V110Z"/>', "draws nothing"),
    "too many elements": ("<g/>" * 700, "more than 600 elements"),
    "too deep": ("<g>" * 40 + "</g>" * 40, "nested deeper"),
}  # fmt: skip


@pytest.mark.parametrize("name", UNSAFE)
def test_what_could_harm_is_refused_with_a_word_that_helps(name):
    body, words = UNSAFE[name]
    with pytest.raises(ArtworkError, match=words):
        picture(body)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "well-formed"),
        (b"{}", "well-formed"),
        (b"\xff\xfe\x00", "well-formed"),
        (b'<?xml version="1.0" encoding="nonsense"?><svg/>', "cannot be read"),
        (b'<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', "document type declaration"),
        (b'<!DOCTYPE svg SYSTEM "file:///etc/passwd"><svg/>', "document type declaration"),
        (b'<?xml-stylesheet href="x.css"?><svg/>', "processing instruction"),
        (b"<html/>", "not an SVG document"),
        (b'<svg viewBox="0 0 1 1"/>', "not an SVG document"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>', "needs a viewBox"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 nan 1"/>', "empty or too large"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 1"/>', "empty or too large"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 1"/>', "times as long"),
        (b"<svg>" + b" " * 70_000 + b"</svg>", "65536 are read"),
    ],
)
def test_what_is_no_plain_svg_document_is_refused(content, words):
    with pytest.raises(ArtworkError, match=words):
        read_artwork(content)


def test_the_dearest_picture_that_is_allowed_costs_what_its_elements_cost():
    """Every element fills the whole picture with a gradient, half seen through."""
    rect = '<rect width="10" height="10" opacity=".5" fill="url(#a)" stroke="red"/>'
    assert_linear(lambda count: picture(GRADIENT + rect * count), lambda count: count, (9, 36, 144, 576))


def test_the_same_picture_twice_and_another_beside_it_keep_their_ids_apart():
    """Both painters agree, so the right gradient is found under the right name."""
    red, blue = (
        picture(f'{GRADIENT.replace("#f00", c)}<circle cx="5" cy="5" r="5" fill="url(#a)"/>') for c in ("#f00", "#00f")
    )
    stamp = (Image(red, -10, -10, 20, 20),)
    items = (Stamp(stamp, 15, 15), Stamp(stamp, 40, 15), Image(blue, 55, 5, 30, 20))
    drawing = Drawing(100, 30, "t", "d", "en", (Layer("ornaments", "o", items),), "#ffffff")
    document = svg(drawing)
    ids = [element.get("id") for element in ET.fromstring(document).iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    ours = pixels(png(drawing, width_px=1000, max_pixels=10**6, colours="full"))
    theirs = pixels(cairosvg.svg2png(bytestring=document.encode(), output_width=1000))
    assert np.abs(ours - theirs).max(axis=2).mean() < 0.5
    assert ours[150, 70, 0] > ours[150, 70, 2]
    assert ours[150, 580, 2] > ours[150, 580, 0]


def test_what_a_picture_draws_outside_its_bounds_is_not_seen():
    wide = picture('<path d="M-50 4H60V6H-50Z" fill="#cc0000"/>')
    drawing = Drawing(100, 30, "t", "d", "en", (Layer("ornaments", "o", (Image(wide, 40, 5, 20, 20),)),), "#ffffff")
    for data in (
        png(drawing, width_px=500, max_pixels=10**6, colours="full"),
        cairosvg.svg2png(bytestring=svg(drawing).encode(), output_width=500),
    ):
        red = pixels(data)[75, :, 1] < 128
        assert (red.nonzero()[0].min(), red.nonzero()[0].max()) == (200, 299)


def shop_with(tmp_path, *changes, pictures=("mark.svg", "star_concho.svg")):
    text = DEMO.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    for name in pictures:
        (tmp_path / name).write_bytes(DEMO.with_name(name).read_bytes())
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    return path


def faults(path):
    with pytest.raises(ShopFileError) as caught:
        load_shop(path)
    return {".".join(fault.path): fault.detail for fault in caught.value.faults}


def test_every_picture_that_cannot_be_used_is_named_by_its_key(tmp_path):
    path = shop_with(tmp_path, pictures=("mark.svg",))
    (tmp_path / "mark.svg").write_text(f"{ROOT}<script/></svg>", encoding="utf-8")
    found = faults(path)
    assert set(found) == {"shop.mark", "ornaments.star_concho_25.picture"}
    assert found["shop.mark"].startswith("mark.svg cannot be used: it contains the element 'script'")
    assert "is no file beside the shop file" in found["ornaments.star_concho_25.picture"]


@pytest.mark.parametrize("name", ["../mark.svg", "/etc/passwd", "mark.png", "sub/mark.svg", ".svg", "MARK.SVG"])
def test_a_picture_is_a_file_name_and_never_a_path(tmp_path, name):
    found = faults(shop_with(tmp_path, ('mark = "mark.svg"', f'mark = "{name}"')))
    assert "the name of an SVG file beside this one" in found["shop.mark"]


def test_a_link_that_leads_away_from_the_shop_file_is_not_followed(tmp_path):
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "away.svg").write_bytes(DEMO.with_name("mark.svg").read_bytes())
    path = shop_with(inner, ('mark = "mark.svg"', 'mark = "away.svg"'))
    (inner / "away.svg").symlink_to(tmp_path / "away.svg")
    assert "is no file beside the shop file" in faults(path)["shop.mark"]


def test_the_digest_minds_the_pictures(tmp_path):
    path = shop_with(tmp_path)
    before = load_shop(path)
    mark = tmp_path / "mark.svg"
    mark.write_bytes(mark.read_bytes().replace(b"#e69f00", b"#e69f01"))
    assert load_shop(path).digest != before.digest


def test_a_shop_may_say_that_the_background_is_transparent(tmp_path):
    path = shop_with(tmp_path, ('background = "#f4efe6"', 'background = "transparent"'))
    assert load_shop(path).finished.background is None
    assert SHOP.finished.background == "#f4efe6"
    assert "finished.background" in faults(shop_with(tmp_path, ('background = "#f4efe6"', 'background = "sand"')))


def test_the_mark_stands_in_the_title_strip_of_every_sheet():
    """Its own orange is seen in the PNG; without a mark it is not."""
    for shop, seen in ((SHOP, True), (replace(SHOP, mark=None), False)):
        drawing = working_sheet(three_piece(), shop, piece=None, units="in")
        assert ('id="shop_mark"' in svg(drawing)) is seen
        found = pixels(png(drawing, dpi=100, max_pixels=10**8))
        orange = np.abs(found[:, :, :3] - [0xE6, 0x9F, 0x00]).max(axis=2) < 12
        assert (orange.sum() > 150) is np.True_ if seen else orange.sum() == 0


def test_an_ornament_with_a_picture_is_shown_by_it():
    """The demo's star concho has a floor of dark blue that no drawn metal has."""
    ornament = replace(SHOP.ornaments["bell_25"], picture="star_concho.svg")
    shop = replace(SHOP, ornaments={**SHOP.ornaments, "bell_25": ornament})
    for each, seen in ((shop, True), (SHOP, False)):
        drawing = finished_view(one_piece(), each, units="in", background="#ffffff")
        found = pixels(png(drawing, width_px=1600, max_pixels=10**8, colours="full"))
        blue = (found[:, :, 2] - found[:, :, 0] > 15) & (found[:, :, 2] < 140)
        assert bool(blue.sum() > 2000) is seen
