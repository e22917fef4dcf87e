"""A drawing as PNG, at true size by its dpi or at a width in pixels, with pHYs written."""

from functools import lru_cache
from io import BytesIO
from typing import Literal

import cairocffi
import PIL
from PIL import Image, features

from service.drawing import lines, palette
from service.drawing.model import Colour, Drawing
from service.forms.form import Budget, Cost, DownloadOffer, Form, OutputOptions, Subject
from service.forms.paint import CAIRO, paint
from service.forms.raster import Raster, check_frame, raster

Colours = Literal["sheet", "full"]
"""`sheet` is the fixed palette of the working sheet, a third of the bytes; `full` is for pictures."""

_LEVELS: dict[Colours, int] = {"sheet": 6, "full": 4}
"""zlib's; in full colour the sixth takes twice as long as the fourth, for a thirtieth less."""
_BAND_PIXELS = 4_000_000
"""Pixels that are drawn at once: 16 MB, beside which the picture itself takes 1, 3 or 4 bytes a pixel."""
_SMALL_WIDTH = 1200
"""Pixels: a picture up to so wide is made at small cost."""
_LEAST_LINE_PX = 0.6
_MOST_THICKENING = 1.8
_COARSE = 1.3
"""Pixels a millimetre below which lettering cannot be read anyway and is drawn fast."""
_STEPS = 7
_SHADES = (
    palette.BLUE,
    palette.VERMILLION,
    palette.BLUISH_GREEN,
    palette.BLACK,
    palette.INK,
    palette.GREY,
    palette.PALE,
)
_GROUNDS = (palette.LEATHER, palette.HOLE)
Entry = tuple[int, int, int]


def png(
    drawing: Drawing,
    *,
    dpi: float | None = None,
    width_px: int | None = None,
    max_pixels: int,
    colours: Colours = "sheet",
) -> bytes:
    """The drawing as PNG, by exactly one of `dpi` and `width_px`.

    In a small sheet all lines grow alike, so that narrow ones do not fade. A drawing without a background
    keeps its transparency in full colour. Raises what `raster` raises.
    """
    plan = raster(drawing, dpi=dpi, width_px=width_px, max_pixels=max_pixels)
    return _saved(painted(drawing, plan, colours), plan, _LEVELS[colours])


def painted(drawing: Drawing, plan: Raster, colours: Colours) -> Image.Image:
    """The drawing as pixels, drawn band by band."""
    image = Image.new(_mode(drawing, colours), (plan.width, plan.height))
    if colours == "sheet":
        image.putpalette(sheet_palette().getpalette() or ())
    rows = max(1, _BAND_PIXELS // plan.width)
    for top in range(0, plan.height, rows):
        band = _band(drawing, plan, top, min(rows, plan.height - top), colours)
        image.paste(band, (0, top))
    return image


def _mode(drawing: Drawing, colours: Colours) -> str:
    """Pillow's name for the kind of picture: 8-bit palette, true colour, or true colour with transparency."""
    if colours == "sheet":
        return "P"
    return "RGBA" if drawing.background is None else "RGB"


def _band(drawing: Drawing, plan: Raster, top: int, rows: int, colours: Colours) -> Image.Image:
    """So many rows of the picture from `top` on, at whole pixels, so that bands meet as if drawn at once."""
    surface = cairocffi.ImageSurface(cairocffi.FORMAT_ARGB32, plan.width, rows)
    context = cairocffi.Context(surface)
    if drawing.background is None and colours == "sheet":
        _white(context)
    if plan.scale < _COARSE and colours == "sheet":
        context.set_antialias(cairocffi.ANTIALIAS_FAST)
    context.translate(0, -top)
    context.scale(plan.scale, plan.scale)
    paint(context, drawing, text="outlines", thicken=_thicken(plan) if colours == "sheet" else 1.0)
    surface.flush()
    return _image(surface, (plan.width, rows), _mode(drawing, colours))


def _white(context: cairocffi.Context) -> None:
    context.set_source_rgb(1, 1, 1)
    context.paint()


def _thicken(plan: Raster) -> float:
    return min(_MOST_THICKENING, max(1.0, _LEAST_LINE_PX / (lines.NARROW * plan.scale)))


def _image(surface: cairocffi.ImageSurface, size: tuple[int, int], mode: str) -> Image.Image:
    data, stride = surface.get_data(), surface.get_stride()
    if mode == "RGBA":
        return Image.frombuffer("RGBA", size, data, "raw", "BGRa", stride, 1)
    image = Image.frombuffer("RGB", size, data, "raw", "BGRX", stride, 1)
    return image.quantize(palette=sheet_palette(), dither=Image.Dither.NONE) if mode == "P" else image


def _saved(image: Image.Image, plan: Raster, level: int) -> bytes:
    out = BytesIO()
    image.save(out, "PNG", dpi=(plan.dpi, plan.dpi), compress_level=level)
    return out.getvalue()


@lru_cache(maxsize=1)
def sheet_palette() -> Image.Image:
    """Every colour of the sheet and pure white, exact; greys; blends of the sheet's colours.

    Pillow looks the nearest entry up for a cube of 4 × 4 × 4 colours at a time, so a cube takes one entry
    only: the first one, which keeps white white.
    """
    exact = [_bytes(colour) for colour in (palette.PAPER, *_SHADES, *palette.OKABE_ITO, *_GROUNDS)]
    blends = [entry for ground in _GROUNDS for hue in _SHADES for entry in _blends(hue, ground)]
    hues = [entry for hue in palette.OKABE_ITO for entry in _blends(hue, palette.PAPER)]
    greys = [(grey, grey, grey) for grey in range(0, 255, 8)]
    cubes: dict[Entry, Entry] = {}
    for entry in (*exact, *greys, *hues, *blends):
        cubes.setdefault((entry[0] >> 2, entry[1] >> 2, entry[2] >> 2), entry)
    image = Image.new("P", (1, 1))
    image.putpalette([part for entry in list(cubes.values())[:256] for part in entry])
    return image


def _blends(upper: Colour, lower: Colour) -> list[Entry]:
    over, under = _bytes(upper), _bytes(lower)
    return [
        (
            round(under[0] + (over[0] - under[0]) * step / _STEPS),
            round(under[1] + (over[1] - under[1]) * step / _STEPS),
            round(under[2] + (over[2] - under[2]) * step / _STEPS),
        )
        for step in range(_STEPS, 0, -1)
    ]


def _bytes(colour: Colour) -> Entry:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _encode(subject: Subject, options: OutputOptions, budget: Budget) -> bytes:
    """Raises `PictureTooLarge`, of a frame before anything is drawn."""
    if options.width_px and options.height_px:
        check_frame(options.width_px, options.height_px, budget.pixels)
    colours: Colours = "sheet" if options.view == "pattern" else "full"
    size = {"dpi": options.dpi, "width_px": options.width_px}
    return png(subject.drawing(), **size, max_pixels=budget.pixels, colours=colours)


def cost_by_width(options: OutputOptions) -> Cost:
    """What a picture of so many pixels costs: one by its resolution may have any number."""
    return "small" if 0 < (options.width_px or 0) <= _SMALL_WIDTH else "large"


PNG = Form(
    name="png",
    title="PNG",
    media_type="image/png",
    views=("pattern", "finished", "worn"),
    parameters=frozenset(("view", "piece", "units", "dpi", "width_px", "height_px", "background", "hole")),
    of_posted=frozenset(("vary",)),
    refusals=("unknown_piece", "picture_too_large", "hole_not_worn"),
    libraries=(CAIRO, f"Pillow {PIL.__version__}", f"zlib {features.version('zlib')}"),
    downloads=(
        DownloadOffer("pattern", "Working pattern as PNG, 150 dpi", "dpi=150"),
        DownloadOffer("picture", "Picture as PNG, 1,600 px wide", "view=finished&width_px=1600"),
    ),
    cost=cost_by_width,
    encode=_encode,
)
