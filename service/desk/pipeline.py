"""The whole way on one screen: read, solve (or find remedies), describe or draw, encode.

Every function is pure: the same spec, shop and options give the same result in any process.
"""

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import Literal

import cairocffi
import PIL
from PIL import features

from service.desk.sealing import make_sealed
from service.drawing.cutting.cutter import cutter_drawing
from service.drawing.finished.view import finished_view
from service.drawing.model import Drawing
from service.drawing.printed.paper import PaperName
from service.drawing.printed.printed import BenchSheet, printed
from service.drawing.working.sheet import working_sheet
from service.forms.pdf import drawing_pdf, pdf
from service.forms.png import Colours, png
from service.forms.raster import check_frame
from service.forms.svg import svg
from service.schemas.answers.pattern import PatternDocument
from service.schemas.beside import unknown_beside
from service.schemas.codes import code_of
from service.schemas.materials import materials_document
from service.schemas.pattern import made_document
from service.schemas.seals import Seal, is_seal, posted_seal, read_seal, seal_of
from service.schemas.shop_document import terms_document
from service.schemas.spec import SpecError, read_spec
from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Refusal, StrapError
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.work import Work
from service.strap.remedies.remedies import Remedy, find_remedies
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.materials import Order, materials_of
from service.workshop.steps import steps

Form = Literal["json", "svg", "png", "pdf"]
View = Literal["pattern", "finished", "cutter"]
Timed = Callable[[Literal["draw", "encode"]], AbstractContextManager[None]]
"""Times what is done inside it as one stage."""


class CannotMake(StrapError, ValueError):
    """A readable spec that cannot be made: every fault, and the small changes that would help."""

    def __init__(self, faults: tuple[Fault, ...], remedies: tuple[Remedy, ...]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults
        self.remedies = remedies


class TooManyPages(StrapError, ValueError):
    """A document of more pages than are made."""

    def __init__(self, found: int, most: int) -> None:
        super().__init__(f"the document would have {found} pages, at most {most} are made: a larger paper needs fewer")
        self.found = found
        self.most = most


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """The most that one drawing may take."""

    pixels: int
    """Of a PNG, width times height."""
    pages: int
    """Of a PDF."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """How an answer is made. `units` are those of readings; at most one of `dpi` and `width_px` is given.

    `height_px` (with `width_px`) frames the finished look. Its `background` is `rrggbb`, `transparent` or, where
    nothing is said, the shop's. `paper` and `sheet` are those of a printed pattern; the `kerf` of the cutter's
    drawing is in nanometres.
    """

    form: Form
    view: View = "pattern"
    units: Units | None = None
    piece: str | None = None
    dpi: int | None = None
    width_px: int | None = None
    height_px: int | None = None
    background: str | None = None
    paper: PaperName = "a4"
    sheet: BenchSheet = "true"
    kerf: Nm = 0


def painter_version() -> str:
    """The libraries whose version shows in a picture's bytes."""
    return f"cairo {cairocffi.cairo_version_string()}, Pillow {PIL.__version__}, zlib {features.version('zlib')}"


def read(document: object, shop: Shop) -> tuple[Spec, str]:
    """A JSON document as a spec, and the spec's code. Raises `SpecError` with every fault."""
    try:
        spec = read_spec(document, shop.defaults.units)
    except SpecError as error:
        raise SpecError((*error.faults, *unknown_beside(document, error.faults, shop))) from error
    return spec, code_of(spec, shop.defaults.units)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A strap that is asked for: its spec with its code, and its seal where it came sealed."""

    spec: Spec
    code: str
    seal: Seal | None = None

    @property
    def address(self) -> str:
        """What stands for it in a URL."""
        return self.seal.code if self.seal else self.code


def read_asked(document: object, shop: Shop) -> Asked:
    """What a code asks for. Raises `SpecError` with every fault, and `CodeError` for what is no seal."""
    if is_seal(document):
        return _sealed(read_seal(document, shop.defaults.units), shop)
    spec, code = read(document, shop)
    return Asked(spec=spec, code=code)


def read_posted(document: object, shop: Shop) -> Asked:
    """What a body asks for: a spec, or a seal as its only member. Raises `SpecError` with every fault."""
    if isinstance(document, dict) and is_seal(document):
        return _sealed(posted_seal(document, shop.defaults.units), shop)
    return read_asked(document, shop)


def _sealed(seal: Seal, shop: Shop) -> Asked:
    return Asked(spec=seal.spec, code=code_of(seal.spec, shop.defaults.units), seal=seal)


def make(asked: Asked, shop: Shop) -> Pattern:
    """The pattern that is asked for. Raises `ShopChanged` for what was sealed otherwise, else as `lay_out` does."""
    return make_sealed(asked.seal, shop) if asked.seal else lay_out(asked.spec, shop)


def lay_out(spec: Spec, shop: Shop) -> Pattern:
    """The pattern of a spec. Raises `CannotMake` with every fault, and remedies where there are any."""
    work = Work()
    try:
        return solve(spec, shop, work)
    except Refusal as refusal:
        raise CannotMake(refusal.faults, find_remedies(spec, shop, refusal.faults, work)) from refusal


def describe(pattern: Pattern, code: str, shop: Shop, units: Units) -> PatternDocument:
    """The pattern as JSON data, with its seal, steps, cautions and materials."""
    return {
        "code": code,
        "sealed": seal_of(pattern, shop.defaults.units).code,
        "shop": terms_document(shop),
        **made_document(pattern, steps(pattern, shop), cautions(pattern, shop), units),
        "materials": materials_document(materials_of([Order(pattern=pattern)], shop), units),
    }


def draw(
    pattern: Pattern,
    shop: Shop,
    options: Options,
    units: Units,
    budget: Budget,
    timed: Timed = lambda _: nullcontext(),
) -> bytes:
    """The wanted view, encoded.

    Raises `UnknownPiece`, `PaperTooSmall`, `KerfTooWide`, `TooManyPages`, or the encoder's error for too many pixels.
    """
    if options.form == "pdf" and options.view == "pattern":
        return _printed(pattern, shop, options, units, budget.pages, timed)
    if options.width_px and options.height_px:
        check_frame(options.width_px, options.height_px, budget.pixels)
    with timed("draw"):
        drawing = _view(pattern, shop, options, units)
    with timed("encode"):
        if options.form == "svg":
            return svg(drawing).encode()
        if options.form == "pdf":
            return drawing_pdf(drawing)
        colours: Colours = "full" if options.view == "finished" else "sheet"
        return png(drawing, dpi=options.dpi, width_px=options.width_px, max_pixels=budget.pixels, colours=colours)


def _printed(pattern: Pattern, shop: Shop, options: Options, units: Units, most: int, timed: Timed) -> bytes:
    with timed("draw"):
        document = printed(pattern, shop, paper=options.paper, piece=options.piece, units=units, sheet=options.sheet)
    if len(document.pages) > most:
        raise TooManyPages(len(document.pages), most)
    with timed("encode"):
        return pdf(document)


def _view(pattern: Pattern, shop: Shop, options: Options, units: Units) -> Drawing:
    if options.view == "pattern":
        return working_sheet(pattern, shop, piece=options.piece, units=units)
    if options.view == "cutter":
        return cutter_drawing(pattern, shop, piece=options.piece, units=units, kerf=options.kerf)
    aspect = options.width_px / options.height_px if options.width_px and options.height_px else None
    return finished_view(pattern, shop, units=units, aspect=aspect, background=_background(options, shop))


def _background(options: Options, shop: Shop) -> str | None:
    if options.background is None:
        return shop.finished.background
    return None if options.background == "transparent" else f"#{options.background}"
