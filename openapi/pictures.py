"""Draws the pictures of the docs: one working sheet, and every example as it will look on one contact sheet.

`python -m openapi.pictures` writes them into openapi/examples/pictures.
"""

from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from openapi.example_requests import examples
from service.drawing.finished.view import finished_view
from service.drawing.working.sheet import working_sheet
from service.forms.png import png
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.pattern import Pattern
from service.strap.solve import solve

PICTURES = Path(__file__).parent / "examples" / "pictures"
FONT = Path(__file__).parents[1] / "service" / "drawing" / "fonts"
_WIDTH = 1000
_MARGIN = 24
_CAPTION = 30
_PAPER = "#f4efe6"
_INK = "#3a3430"
_MAX_PIXELS = 20_000_000


def patterns() -> dict[str, Pattern]:
    """The pattern of every example that can be made, by its name."""
    shop = demo_shop()
    made = {}
    for name, document in examples().items():
        try:
            made[name] = solve(read_spec(document, shop.defaults.units), shop)
        except Refusal:
            continue
    return made


def working_picture(pattern: Pattern) -> bytes:
    """The working sheet as a PNG for the screen."""
    sheet = working_sheet(pattern, demo_shop(), piece=None, units=pattern.spec.units)
    return png(sheet, dpi=None, width_px=1600, max_pixels=_MAX_PIXELS)


def contact_sheet(made: dict[str, Pattern]) -> Image.Image:
    """Every strap as it will look, one below the other, each with its name."""
    pictures = {name: _finished(pattern) for name, pattern in made.items()}
    height = sum(picture.height + _CAPTION for picture in pictures.values()) + 2 * _MARGIN
    sheet = Image.new("RGB", (_WIDTH + 2 * _MARGIN, height), _PAPER)
    pen = ImageDraw.Draw(sheet)
    font = ImageFont.truetype(str(next(FONT.glob("*Regular*.ttf"))), 17)
    top = _MARGIN
    for name, picture in pictures.items():
        pen.text((_MARGIN, top + 4), name.replace("_", " "), fill=_INK, font=font)
        sheet.paste(picture, (_MARGIN, top + _CAPTION))
        top += _CAPTION + picture.height
    return sheet


def _finished(pattern: Pattern) -> Image.Image:
    drawing = finished_view(pattern, demo_shop(), units="in", background=_PAPER)
    data = png(drawing, dpi=None, width_px=_WIDTH, max_pixels=_MAX_PIXELS, colours="full")
    return Image.open(BytesIO(data)).convert("RGB")


def main() -> None:
    """Write the pictures."""
    PICTURES.mkdir(exist_ok=True)
    made = patterns()
    (PICTURES / "parade_harness_strap.png").write_bytes(working_picture(made["parade_harness_strap"]))
    contact_sheet(made).quantize(128, dither=Image.Dither.NONE).save(PICTURES / "contact_sheet.png", optimize=True)


if __name__ == "__main__":
    main()
