"""PNG: the same picture as the SVG by another painter, at true size, on a palette that keeps white white."""

import io
from dataclasses import replace

import cairocffi
import cairosvg
import numpy as np
import pytest
from PIL import Image

from service.drawing import font, palette
from service.drawing.font import Face
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    CurveTo,
    Drawing,
    Group,
    Layer,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    Pen,
    RadialGradient,
    Stop,
    Text,
)
from service.drawing.working.sheet import working_sheet
from service.forms import face
from service.forms.paint import paint
from service.forms.png import png, sheet_palette
from service.forms.svg import svg
from service.strap.plane.lengths import MM
from tests.drawing.support import SHOP, STRAPS, flat, three_piece

MAX_PIXELS = 100_000_000


def sheet(pattern):
    return working_sheet(pattern, SHOP, piece=None, units="in")


def pixels(data):
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


def through_cairosvg(drawing, **size):
    return pixels(cairosvg.svg2png(bytestring=svg(drawing).encode(), **size))


def difference(one, other):
    """The greatest difference of a channel at each pixel that both have."""
    height, width = min(one.shape[0], other.shape[0]), min(one.shape[1], other.shape[1])
    return np.abs(one[:height, :width] - other[:height, :width]).max(axis=2)


@pytest.mark.parametrize("name", STRAPS)
def test_our_png_is_what_cairosvg_makes_of_our_svg(name):
    """Every pixel within the steps of the palette, and nearly all equal; the shop's mark has its own colours."""
    drawing = working_sheet(STRAPS[name](), replace(SHOP, mark=None), piece=None, units="in")
    apart = difference(pixels(png(drawing, dpi=100, max_pixels=MAX_PIXELS)), through_cairosvg(drawing, dpi=100))
    assert apart.max() <= 64
    assert apart.mean() < 0.2


def shapes():
    """Everything the model can say: gradients, turned groups, arcs both ways, curves, caps and dashes."""
    sun = RadialGradient(30, 30, 20, 25, 22, (Stop(0, "#ffffff"), Stop(0.6, "#d0a544"), Stop(1, "#4a2611", 0.2)))
    sky = LinearGradient(60, 10, 90, 40, (Stop(0, "#0072b2"), Stop(1, "#ffffff")))
    tile = (MoveTo(60, 10), LineTo(90, 10), LineTo(90, 40), LineTo(60, 40), Close())
    moon = (MoveTo(0, -8), ArcTo(8, 0, 8), ArcTo(10, 0, -8, clockwise=False), Close())
    wave = (MoveTo(0, 0), CurveTo(10, -20, 20, 20, 30, 0), MoveTo(0, 6), LineTo(30, 6))
    items = (
        Circle(30, 30, 20, fill=sun),
        Path(tile, Pen(0.7, "#000000"), sky),
        Group((Path(moon, Pen(0.5, "#d55e00"), "#f0e442"), Text(2, 3, "turned", 5)), 30, 75, 30.0),
        Group((Path(wave, Pen(1.0, "#009e73", (3.0, 1.0), "round")),), 60, 70, -20.0),
        Text(50, 95, "Middle ½ ≈ é", 6, "middle", weight="bold", colour="#0072b2"),
        Text(98, 90, "end, upwards", 4, "end", -90.0),
    )
    return Drawing(100, 100, "Shapes", "Everything at once", "en", (Layer("notes", "Notes", items),))


def test_everything_the_model_can_say_looks_the_same_by_both_painters():
    drawing = shapes()
    ours = pixels(png(drawing, dpi=150, max_pixels=MAX_PIXELS, colours="full"))
    apart = difference(ours, through_cairosvg(drawing, dpi=150))
    assert apart.mean() < 0.05
    assert (apart > 24).mean() < 0.001
    assert len(np.unique(ours.reshape(-1, 3), axis=0)) > 300


def bluish(image):
    return (image[:, :, 2] - image[:, :, 0] > 18) & (image[:, :, 2] > 150)


def test_holes_measured_in_the_picture_lie_where_the_pattern_says():
    """Within 0.1 mm at 300 dpi, every punched hole and slot, from the outline's frame on the sheet."""
    pattern = three_piece()
    drawing = sheet(pattern)
    image = bluish(pixels(png(drawing, dpi=300, max_pixels=MAX_PIXELS)))
    scale = 300 / 25.4
    layer = next(layer for layer in drawing.layers if layer.id == "punch")
    frames = {group.name: group for group in layer.items}
    measured = 0
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.action != "punch" or feature.purpose == "prong_slot":
                continue
            x, y = frames[piece.name].x + feature.x / MM, frames[piece.name].y + feature.y / MM
            reach = 10.0 if feature.kind == "slot" else 3.0
            left, top = round((x - reach) * scale), round((y - reach) * scale)
            size = round(2 * reach * scale)
            rows, columns = np.nonzero(image[top : top + size, left : left + size])
            assert (left + columns.mean() + 0.5) / scale == pytest.approx(x, abs=0.1)
            assert (top + rows.mean() + 0.5) / scale == pytest.approx(y, abs=0.1)
            if feature.kind == "hole":
                across = (columns.max() - columns.min() + 1) / scale
                assert across == pytest.approx(feature.diameter / MM + 0.5, abs=0.2)
            measured += 1
    assert measured > 15


def test_the_outline_measured_in_the_picture_has_its_true_size():
    """The keeper is square-ended: its black contour is half a line wider each side."""
    pattern = three_piece()
    drawing = working_sheet(pattern, SHOP, piece="keeper", units="in")
    keeper = pattern.piece("keeper")
    black = pixels(png(drawing, dpi=300, max_pixels=MAX_PIXELS)).max(axis=2) < 90
    frame = next(layer for layer in drawing.layers if layer.id == "cut").items[0]
    scale = 300 / 25.4
    left, right = round((frame.x - 2) * scale), round((frame.x + keeper.length / MM + 2) * scale)
    columns = left + np.nonzero(black[round((frame.y + 3) * scale), left:right])[0]
    assert (columns[-1] - columns[0] + 1) / scale == pytest.approx(keeper.length / MM + 0.5, abs=0.1)
    assert (columns[0] + columns[-1] + 1) / 2 / scale == pytest.approx(frame.x + keeper.length / MM / 2, abs=0.05)


def test_the_check_bar_measured_in_the_picture_is_a_hundred_millimetres():
    drawing = sheet(three_piece())
    image = pixels(png(drawing, dpi=300, max_pixels=MAX_PIXELS))
    bars = [
        (x + min(p.x for p in item.segments[:-1]), y + item.segments[0].y, width)
        for item, x, y in flat(drawing.layers[0].items)
        if isinstance(item, Path) and len(item.segments) == 5 and item.fill is None
        for width in [item.segments[1].x - item.segments[0].x]
        if width in (100.0, 101.6)
    ]
    assert sorted(width for _, _, width in bars) == [100.0, 101.6]
    scale = 300 / 25.4
    for left, top, width in bars:
        row = image[round((top + 1.0) * scale)].max(axis=1) < 140
        window = row[round((left - 2) * scale) : round((left + width + 2) * scale)]
        ends = np.nonzero(window)[0]
        assert (ends[-1] - ends[0] + 1) / scale == pytest.approx(width + 0.25, abs=0.1)


@pytest.mark.parametrize("dpi", [72, 100, 300])
def test_the_size_in_pixels_and_the_physical_size_are_written(dpi):
    """pHYs counts whole pixels a metre, so 300 dpi reads back as 299.9994."""
    drawing = sheet(three_piece())
    image = Image.open(io.BytesIO(png(drawing, dpi=dpi, max_pixels=MAX_PIXELS)))
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)
    assert image.width == pytest.approx(drawing.width * dpi / 25.4, abs=1)
    assert image.height == pytest.approx(drawing.height * dpi / 25.4, abs=1)


def test_a_width_in_pixels_is_kept_and_still_tells_its_physical_size():
    drawing = sheet(three_piece())
    image = Image.open(io.BytesIO(png(drawing, width_px=613, max_pixels=MAX_PIXELS)))
    assert image.width == 613
    assert image.width / image.info["dpi"][0] * 25.4 == pytest.approx(drawing.width, rel=0.001)


def test_every_colour_of_the_sheet_survives_the_palette():
    """Pure white stays white, and each of the sheet's colours stays exactly what it is."""
    colours = [palette.PAPER, palette.LEATHER, palette.HOLE, palette.INK, palette.GREY, palette.PALE]
    for colour in (*colours, *palette.OKABE_ITO):
        wanted = tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))
        flat_image = Image.new("RGB", (4, 4), wanted)
        found = flat_image.quantize(palette=sheet_palette(), dither=Image.Dither.NONE).convert("RGB")
        assert found.getpixel((1, 1)) == wanted


def test_the_sheet_is_white_paper_on_a_palette():
    data = png(sheet(three_piece()), width_px=600, max_pixels=MAX_PIXELS)
    image = Image.open(io.BytesIO(data))
    assert image.mode == "P"
    assert image.convert("RGB").getpixel((1, 1)) == (255, 255, 255)


def test_a_drawing_without_a_background_is_transparent_in_full_colour():
    items = (Circle(5, 5, 3, fill="#d55e00"),)
    drawing = Drawing(10, 10, "t", "d", "en", (Layer("notes", "Notes", items),), background=None)
    image = Image.open(io.BytesIO(png(drawing, width_px=50, max_pixels=MAX_PIXELS, colours="full")))
    assert image.mode == "RGBA"
    assert image.getpixel((1, 1))[3] == 0
    assert image.getpixel((25, 25)) == (0xD5, 0x5E, 0x00, 255)
    on_sheet = Image.open(io.BytesIO(png(drawing, width_px=50, max_pixels=MAX_PIXELS))).convert("RGB")
    assert on_sheet.getpixel((1, 1)) == (255, 255, 255)


def test_narrow_lines_do_not_fade_in_a_small_picture():
    """At 600 px the narrow mark is well under a pixel wide; it has to stay visible."""
    image = pixels(png(sheet(three_piece()), width_px=600, max_pixels=MAX_PIXELS))
    orange = (image[:, :, 0] - image[:, :, 2] > 70) & (image[:, :, 0] > 180)
    assert orange.sum() > 100


def test_cairo_draws_with_the_bundled_font():
    face.check_font()


def test_another_font_in_its_place_is_noticed(monkeypatch):
    real = font.face("regular")
    wider = Face({character: advance + 2 for character, advance in real.advances.items()}, real.paths)
    monkeypatch.setattr(font, "face", lambda _: wider)
    with pytest.raises(face.FontError, match="does not use the bundled font"):
        face.check_font()


def test_text_stays_text_where_glyphs_are_asked_for():
    """A PDF surface gets letters that a PDF reader finds: read back with pdfium."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    drawing = sheet(three_piece())
    out = io.BytesIO()
    points = 72 / 25.4
    surface = cairocffi.PDFSurface(out, drawing.width * points, drawing.height * points)
    context = cairocffi.Context(surface)
    context.scale(points, points)
    paint(context, drawing, text="glyphs")
    surface.finish()
    page = pypdfium2.PdfDocument(out.getvalue())[0].get_textpage().get_text_range()
    assert "6 × slot punch 5/8 in" in page
    assert "Buckle billet" in page
