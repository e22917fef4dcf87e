"""The whole way of one pattern on one screen: read, make (or find remedies), describe or draw, encode.

Every function is pure: the same spec, shop and options give the same result in any process.
"""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import Literal

from service.desk.sealing import make_sealed
from service.drawing.cutting.cutter import cutter_drawing
from service.drawing.finished.view import finished_view
from service.drawing.model import Drawing
from service.drawing.printed.document import Document
from service.drawing.printed.printed import printed
from service.drawing.working.sheet import working_sheet
from service.drawing.worn.view import worn_view
from service.forms.form import Budget, OutputOptions
from service.schemas.answers.pattern import FurtherDocument, PatternDocument
from service.schemas.beside import unknown_beside
from service.schemas.codes import code_of
from service.schemas.materials import materials_document
from service.schemas.pattern import made_document
from service.schemas.seals import Seal, is_seal, posted_seal, read_seal, sealed
from service.schemas.shop_document import terms_document
from service.schemas.spec import SpecError, read_spec
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Refusal, StrapError
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.work import Work
from service.strap.remedies.remedies import Remedy, find_remedies
from service.strap.solve import solve
from service.workshop.bench.step import Step
from service.workshop.cautions import cautions
from service.workshop.materials import Order, materials_of
from service.workshop.steps import steps

Timed = Callable[[Literal["draw", "encode"]], AbstractContextManager[None]]
"""Times what is done inside it as one stage."""


class CannotMake(StrapError, ValueError):
    """A readable spec that cannot be made: every fault, and the small changes that would help."""

    def __init__(self, faults: tuple[Fault, ...], remedies: tuple[Remedy, ...]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults
        self.remedies = remedies


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternRequest:
    """A strap that is asked for: its spec with its code."""

    spec: Spec
    code: str

    @property
    def address(self) -> str:
        """What stands for it in a URL."""
        return self.code

    def make(self, shop: Shop) -> Pattern:
        """Its pattern. Raises `CannotMake` with every fault, and remedies where there are any."""
        work = Work()
        try:
            return solve(self.spec, shop, work)
        except Refusal as refusal:
            raise CannotMake(refusal.faults, find_remedies(self.spec, shop, refusal.faults, work)) from refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class SealedRequest(PatternRequest):
    """A strap that is asked for as it was sealed."""

    seal: Seal

    @property
    def address(self) -> str:
        """Its seal stands for it."""
        return self.seal.code

    def make(self, shop: Shop) -> Pattern:
        """The pattern that was sealed. Raises `ShopChanged` where the shop would make another today, or none."""
        return make_sealed(self.seal, shop)


def read(document: object, shop: Shop) -> tuple[Spec, str]:
    """A JSON document as a spec, and the spec's code. Raises `SpecError` with every fault."""
    try:
        spec = read_spec(document, shop.defaults.units)
    except SpecError as error:
        raise SpecError((*error.faults, *unknown_beside(document, error.faults, shop))) from error
    return spec, code_of(spec, shop.defaults.units)


def read_coded(document: object, shop: Shop) -> PatternRequest:
    """What a code asks for. Raises `SpecError` with every fault, and `CodeError` for what is no seal."""
    if is_seal(document):
        return _sealed(read_seal(document, shop.defaults.units), shop)
    spec, code = read(document, shop)
    return PatternRequest(spec=spec, code=code)


def read_posted(document: object, shop: Shop) -> PatternRequest:
    """What a body asks for: a spec, or a seal as its only member. Raises `SpecError` with every fault."""
    if isinstance(document, dict) and is_seal(document):
        return _sealed(posted_seal(document, shop.defaults.units), shop)
    return read_coded(document, shop)


def _sealed(seal: Seal, shop: Shop) -> SealedRequest:
    return SealedRequest(spec=seal.spec, code=code_of(seal.spec, shop.defaults.units), seal=seal)


def describe(pattern: Pattern, work: Sequence[Step], code: str, shop: Shop, units: Units) -> PatternDocument:
    """The pattern as JSON data, with its seal, the steps of its work, cautions and materials."""
    made, further = made_document(pattern, work, cautions(pattern, shop), units), FurtherDocument()
    return {
        "code": code,
        "sealed": sealed(pattern, made["spec"]),
        "shop": terms_document(shop),
        **made,
        "materials": materials_document(materials_of([Order(pattern=pattern)], shop), units),
        **further,
    }


def untimed(_: str) -> AbstractContextManager[None]:
    """Times nothing."""
    return nullcontext()


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternSubject:
    """A pattern, to be encoded as `options` say, its readings in `units`."""

    pattern: Pattern
    code: str
    shop: Shop
    options: OutputOptions
    units: Units
    timed: Timed = untimed

    def data(self) -> PatternDocument:
        """Every measure, step and material."""
        return describe(self.pattern, steps(self.pattern, self.shop), self.code, self.shop, self.units)

    def drawing(self) -> Drawing:
        """The wanted view. Raises `UnknownPiece`, `KerfTooWide` and `HoleNotWorn`."""
        with self.timed("draw"):
            return self._view()

    def pages(self) -> Document:
        """The pattern on paper, and its bench sheet. Raises `UnknownPiece` and `PaperTooSmall`."""
        wanted = self.options
        with self.timed("draw"):
            return printed(
                self.pattern, self.shop, paper=wanted.paper, piece=wanted.piece, units=self.units, sheet=wanted.sheet
            )

    def _view(self) -> Drawing:
        pattern, shop, units, wanted = self.pattern, self.shop, self.units, self.options
        if wanted.view == "pattern":
            return working_sheet(pattern, shop, piece=wanted.piece, units=units)
        if wanted.view == "cutter":
            return cutter_drawing(pattern, shop, piece=wanted.piece, units=units, kerf=wanted.kerf)
        aspect = wanted.width_px / wanted.height_px if wanted.width_px and wanted.height_px else None
        background = _background(wanted, shop)
        if wanted.view == "worn":
            return worn_view(pattern, shop, hole=wanted.hole, units=units, aspect=aspect, background=background)
        return finished_view(pattern, shop, units=units, aspect=aspect, background=background)


def encode(subject: PatternSubject, budget: Budget) -> bytes:
    """The pattern in the wanted form. Raises what the form's `refusals` name."""
    options = subject.options
    with subject.timed("encode"):
        return options.form.encode(subject, options, budget)


def _background(options: OutputOptions, shop: Shop) -> str | None:
    if options.background is None:
        return shop.finished.background
    return None if options.background == "transparent" else f"#{options.background}"
