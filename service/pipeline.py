"""The whole way on one screen: read, solve (or find remedies), describe or draw, encode.

Every function is pure: the same spec, shop and options give the same result in any process.
"""

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import Any, Literal

import cairocffi
import PIL
from PIL import features

from service.drawing.sheet import working_sheet
from service.encoders.png import png
from service.encoders.svg import svg
from service.schemas.codes import code_of
from service.schemas.pattern import pattern_document
from service.schemas.spec import read_spec
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Refusal, StrapError
from service.strap.pattern import Pattern
from service.strap.remedies import Remedy, find_remedies
from service.strap.solve import solve
from service.strap.spec import Spec
from service.workshop.cautions import cautions
from service.workshop.steps import steps

Form = Literal["json", "svg", "png"]
Timed = Callable[[Literal["draw", "encode"]], AbstractContextManager[None]]
"""Times what is done inside it as one stage."""


class CannotMake(StrapError, ValueError):
    """A readable spec that cannot be made: every fault, and the small changes that would help."""

    def __init__(self, faults: tuple[Fault, ...], remedies: tuple[Remedy, ...]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults
        self.remedies = remedies


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """How an answer is made. `units` are those of readings; at most one of `dpi` and `width_px` is given."""

    form: Form
    units: Units | None = None
    piece: str | None = None
    dpi: int | None = None
    width_px: int | None = None


def painter_version() -> str:
    """The libraries whose version shows in a picture's bytes."""
    return f"cairo {cairocffi.cairo_version_string()}, Pillow {PIL.__version__}, zlib {features.version('zlib')}"


def read(document: object, shop: Shop) -> tuple[Spec, str]:
    """A JSON document as a spec, and the spec's code. Raises `SpecError` with every fault."""
    spec = read_spec(document, shop.defaults.units)
    return spec, code_of(spec, shop.defaults.units)


def lay_out(spec: Spec, shop: Shop) -> Pattern:
    """The pattern of a spec. Raises `CannotMake` with every fault, and remedies where there are any."""
    try:
        return solve(spec, shop)
    except Refusal as refusal:
        raise CannotMake(refusal.faults, find_remedies(spec, shop, refusal.faults)) from refusal


def describe(pattern: Pattern, code: str, shop: Shop, units: Units) -> dict[str, Any]:
    """The pattern as JSON data, with its steps and cautions."""
    return pattern_document(pattern, code, steps(pattern, shop), cautions(pattern, shop), units)


def draw(
    pattern: Pattern, shop: Shop, options: Options, units: Units, max_pixels: int, timed: Timed = lambda _: nullcontext()
) -> bytes:
    """The working drawing, encoded. Raises `UnknownPiece`, or the encoder's error for too many pixels."""
    with timed("draw"):
        drawing = working_sheet(pattern, shop, piece=options.piece, units=units)
    with timed("encode"):
        if options.form == "svg":
            return svg(drawing).encode()
        return png(drawing, dpi=options.dpi, width_px=options.width_px, max_pixels=max_pixels)
