"""The finished look as WebP (RFC 9649): a fifth of a PNG's bytes, for pages that show many pictures."""

from io import BytesIO

import PIL
from PIL import features

from service.forms.form import Budget, DownloadOffer, Form, OutputOptions, Subject
from service.forms.paint import CAIRO
from service.forms.png import cost_by_width, painted
from service.forms.raster import check_frame, raster

LONGEST_SIDE = 16_383
"""Pixels: a side is written in 14 bits (RFC 6386, section 9.1)."""
_QUALITY = 90
"""Of 100; no edge of a strap shows that it is not a PNG, and 80 would save a third more."""
_EFFORT = 2
"""Of 6: as quick as PNG. The usual 4 takes twice as long for a twentieth less."""


def _encode(subject: Subject, options: OutputOptions, budget: Budget) -> bytes:
    """Raises `PictureTooLarge`, of a frame before anything is drawn. What can be seen through stays exactly so."""
    if options.width_px and options.height_px:
        check_frame(options.width_px, options.height_px, budget.pixels)
    drawing = subject.drawing()
    plan = raster(drawing, dpi=None, width_px=options.width_px, max_pixels=budget.pixels, longest=LONGEST_SIDE)
    out = BytesIO()
    painted(drawing, plan, "full").save(out, "WEBP", quality=_QUALITY, method=_EFFORT)
    return out.getvalue()


WEBP = Form(
    name="webp",
    title="WebP",
    media_type="image/webp",
    views=("finished", "worn"),
    parameters=frozenset(("view", "units", "width_px", "height_px", "background", "hole")),
    refusals=("picture_too_large", "hole_not_worn"),
    libraries=(CAIRO, f"Pillow {PIL.__version__}", f"libwebp {features.version('webp')}"),
    downloads=(DownloadOffer("picture", "Picture as WebP, 1,600 px wide", "width_px=1600"),),
    cost=cost_by_width,
    encode=_encode,
)
