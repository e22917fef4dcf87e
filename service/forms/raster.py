"""How many pixels a picture gets: reckoned and refused by arithmetic, before anything is allocated."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, isfinite, sqrt

from service.drawing.model import Drawing
from service.strap.errors import StrapError
from service.words import say, say_list

MM_PER_INCH = 25.4
CAIRO_LONGEST = 32_767
"""Cairo's surfaces have no longer side, in pixels."""


class PictureTooLarge(StrapError, ValueError):
    """A picture of more pixels than is allowed, with the largest `dpi`, `width_px` and `height_px` that would do.

    They are by name; one is 0 where even one pixel a side would be too many.
    """

    def __init__(self, width: int, height: int, largest: Mapping[str, int]) -> None:
        offers = say_list((f"{name}={limit}" for name, limit in largest.items()), "{most} or {last}")
        super().__init__(
            say(
                "the picture would measure {width} × {height} pixels: at most {offers} will do",
                width=width,
                height=height,
                offers=offers,
            )
        )
        self.width = width
        self.height = height
        self.largest = largest


@dataclass(frozen=True, slots=True)
class Raster:
    """A picture `width` × `height` pixels at `scale` pixels a millimetre."""

    width: int
    height: int
    scale: float

    @property
    def dpi(self) -> float:
        """Pixels an inch."""
        return self.scale * MM_PER_INCH


def raster(
    drawing: Drawing, *, dpi: float | None, width_px: int | None, max_pixels: int, longest: int = CAIRO_LONGEST
) -> Raster:
    """The raster of a drawing by exactly one of `dpi` and `width_px`; sides are rounded up.

    Raises `ValueError` for neither or both, or for a value that is not above 0, and `PictureTooLarge` for
    more than `max_pixels` pixels or a side longer than `longest`.
    """
    if (dpi is None) == (width_px is None):
        raise ValueError("give one of dpi and width_px")
    asked = dpi if dpi is not None else width_px
    if asked is None or not isfinite(asked) or asked <= 0:
        raise ValueError("dpi and width_px are above 0")
    scale = asked / MM_PER_INCH if dpi is not None else asked / drawing.width
    if not _fits(drawing, scale, max_pixels, longest):
        raise _too_large(drawing, scale, max_pixels, longest)
    return Raster(*_sides(drawing, scale), scale)


def check_frame(width: int, height: int, max_pixels: int) -> None:
    """Refuse a frame of more than `max_pixels` pixels; what is offered holds beside the other side as it was asked.

    Raises `PictureTooLarge`.
    """
    if width * height > max_pixels:
        raise PictureTooLarge(width, height, {"width_px": max_pixels // height, "height_px": max_pixels // width})


def _sides(drawing: Drawing, scale: float) -> tuple[int, int]:
    return max(1, ceil(drawing.width * scale - 1e-6)), max(1, ceil(drawing.height * scale - 1e-6))


def _fits(drawing: Drawing, scale: float, max_pixels: int, longest: int) -> bool:
    width, height = _sides(drawing, scale)
    return width * height <= max_pixels and max(width, height) <= longest


def _too_large(drawing: Drawing, scale: float, max_pixels: int, longest: int) -> PictureTooLarge:
    bound = min(longest / max(drawing.width, drawing.height), sqrt(max_pixels / (drawing.width * drawing.height)))
    dpi = _largest(drawing, int(bound * MM_PER_INCH) + 2, 1 / MM_PER_INCH, max_pixels, longest)
    width_px = _largest(drawing, int(bound * drawing.width) + 2, 1 / drawing.width, max_pixels, longest)
    return PictureTooLarge(*_sides(drawing, scale), {"dpi": dpi, "width_px": width_px})


def _largest(drawing: Drawing, start: int, unit: float, max_pixels: int, longest: int) -> int:
    """The largest whole number, from `start` down, whose picture fits: at most a few steps away."""
    return next((n for n in range(start, 0, -1) if _fits(drawing, n * unit, max_pixels, longest)), 0)
