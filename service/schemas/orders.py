"""Orders as JSON: so many of a strap, given as a spec, as a code, or as a design with choices."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

from marshmallow import ValidationError, validates_schema

from service.schemas.choosing import ChoiceError, choose, chosen_document
from service.schemas.codes import LONGEST_CODE, CodeError, document_of
from service.schemas.fields import Flag, Length, StrictField, StrictSchema, Text, Whole, bare_units
from service.schemas.gathered import Part, Several
from service.schemas.ids import Id
from service.schemas.mistakes import Mistake, faults_of, listed, mistake, unknown_name
from service.schemas.seals import Seal, is_seal, read_seal
from service.schemas.spec import SPEC_SCHEMA, SpecError, read_spec, units_of
from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Path
from service.strap.model.spec import Spec
from service.words import say, say_list

MOST_QUANTITY = 10_000
MOST_PIECES_OF_ORDER = 2000

spec_units: ContextVar[Units] = ContextVar("spec_units", default="mm")
"""The units of a spec that names none: the shop's own, whatever the units of the document round it."""

_specs_read: ContextVar[dict[str, "Spec | ValidationError"] | None] = ContextVar("specs_read", default=None)
"""The specs of the document that is being read, or what is wrong with them, by what is written there.

Many lines of an order often say one.
"""

WAYS = ("spec", "code", "design")
"""The ways of saying one strap."""
MOST_OF_SET = 10
MOST_SIZES = 30


class OrdersError(SpecError):
    """A document of orders that cannot be read, with every fault in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarePiece:
    """A piece of leather that belongs to no pattern."""

    name: str
    leather: str
    width: Nm
    length: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One order as it was read. Exactly one of `spec`, `code`, `design`, `straps` and `pieces` is given.

    Of `straps` that belong together each is an order of its own, by the name that is its `ref`. A `pair` are a left
    one and a right one, and each of `sizes` is a label of the size table; `quantity` counts pairs and sets.
    """

    ref: str
    quantity: int = 1
    spec: Spec | None = None
    code: str | None = None
    design: str | None = None
    choices: Mapping[str, object] | None = None
    straps: "tuple[Asked, ...] | None" = None
    pieces: tuple[BarePiece, ...] | None = None
    pair: bool = False
    sizes: tuple[str, ...] = ()

    @property
    def way(self) -> str:
        """Under which name the strap is given."""
        return next(way for way in (*WAYS, "straps", "pieces") if getattr(self, way) is not None)


class SpecPart(StrictField[Spec]):
    """A spec inside an order; its bare numbers are in its own units."""

    kind = "a spec"
    each = SPEC_SCHEMA

    def _read(self, value: object) -> Spec:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        known, written = _specs_read.get(), repr(value)
        known = {} if known is None else known
        if written not in known:
            known[written] = self._read_anew(value)
        found = known[written]
        if isinstance(found, ValidationError):
            raise ValidationError(found.messages)
        return found

    def _read_anew(self, value: dict[str, Any]) -> Spec | ValidationError:
        before = bare_units.set(units_of(value, spec_units.get()))
        try:
            spec: Spec = self.each.read(value)
        except ValidationError as error:
            return error
        finally:
            bare_units.reset(before)
        return spec


class Choices(StrictField[Mapping[str, object]]):
    """What is chosen of a design; the values are judged when the design is known."""

    kind = "an object of choices by name"

    def _read(self, value: object) -> Mapping[str, object]:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        return value


class BarePieceSchema(StrictSchema):
    """A bare piece of leather."""

    makes = BarePiece
    name = Text(required=True, most=80)
    leather = Id(required=True)
    width = Length(required=True)
    length = Length(required=True)


class OneStrapSchema(StrictSchema):
    """A strap, given in exactly one way."""

    ways: tuple[str, ...] = WAYS
    spec = SpecPart()
    code = Text(most=LONGEST_CODE)
    design = Id()
    choices = Choices()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_way(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Exactly one way of saying what is ordered; choices only of a design."""
        given = [way for way in self.ways if original.get(way) is not None]
        if len(given) != 1:
            listed = ", ".join(self.ways)
            raise mistake(
                "one_of",
                say("give exactly one of {listed}; given: {given}", listed=listed, given=say_list(given) or "none"),
            )
        if original.get("choices") is not None and given != ["design"]:
            raise mistake("without_meaning", say("choices belong to a design only"))


class MemberSchema(OneStrapSchema):
    """A strap of a set, by its name in it."""

    name = Text(required=True, most=40)

    @staticmethod
    def makes(*, name: str, **said: Any) -> Asked:
        """An order of its own."""
        return Asked(ref=name, **said)


class StrapOrderSchema(OneStrapSchema):
    """An order of straps."""

    makes: Callable[..., Any] = Asked
    ways: tuple[str, ...] = (*WAYS, "straps")
    ref = Text(required=True, most=80)
    quantity = Whole(1, MOST_QUANTITY)
    straps = Several(Part(MemberSchema, "a strap of the set"), MOST_OF_SET, least=2)
    pair = Flag()
    sizes = Several(Text(most=40), MOST_SIZES)

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def told_apart(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Straps of one order are told apart by their names and sizes."""
        names = [each.get("name") for each in original.get("straps") or () if isinstance(each, dict)]
        for member, said in (("straps", names), ("sizes", original.get("sizes"))):
            if isinstance(said, list) and len({repr(each) for each in said}) < len(said):
                raise ValidationError({member: [Mistake("given_twice", say("one stands here more than once"))]})

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def straps_only(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Bare pieces have neither hand nor size."""
        if original.get("pieces") is not None and (original.get("pair") or original.get("sizes")):
            raise mistake("without_meaning", say("pair and sizes belong to straps only"))


class CutOrderSchema(StrapOrderSchema):
    """An order of straps, or of bare pieces."""

    ways = (*WAYS, "straps", "pieces")
    pieces = Several(Part(BarePieceSchema, "a piece"), MOST_PIECES_OF_ORDER)


def spec_of(asked: Asked, shop: Shop) -> Spec | Seal:
    """The spec of an order of straps, or the seal. Raises `OrdersError`, its paths counted from the order."""
    if asked.spec is not None:
        return asked.spec
    if asked.code is not None:
        return _coded(asked.code, shop)
    return _designed(asked, shop)


def _coded(code: str, shop: Shop) -> Spec | Seal:
    try:
        document = document_of(code)
        read = read_seal if is_seal(document) else read_spec
        return read(document, shop.defaults.units)
    except CodeError as error:
        raise _one("code", "unknown_code", say("that is no pattern's code: {reason}", reason=error.reason)) from error
    except SpecError as error:
        raise OrdersError(tuple(_at(("code",), fault) for fault in error.faults)) from error


def _designed(asked: Asked, shop: Shop) -> Spec:
    design = shop.designs.get(asked.design or "")
    if design is None:
        raise _one("design", "unknown_design", unknown_name("design", asked.design or "", shop.designs))
    try:
        chosen = choose(design, asked.choices or {}, shop.defaults.units)
    except ChoiceError as error:
        faults = (Fault(path=("choices", name), code="not_offered", detail=why) for name, why in error.wrong.items())
        raise OrdersError(listed(faults)) from error
    return read_spec(chosen_document(design, chosen, shop.defaults.units), shop.defaults.units)


def _one(name: str, code: str, detail: str) -> OrdersError:
    return OrdersError((Fault(path=(name,), code=code, detail=detail),))


def _at(path: Path, fault: Fault) -> Fault:
    """A fault of what a code encodes: told at the code, since the caller's document has no other place for it."""
    where = ".".join(fault.path) or say("the spec")
    return Fault(path=path, code=fault.code, detail=f"{where}: {fault.detail}")


def repeated_refs(orders: Iterable[Asked], name: str) -> Iterator[Fault]:
    """A fault for each order whose ref another one before it has."""
    seen: set[str] = set()
    for index, order in enumerate(orders):
        if order.ref in seen:
            detail = say("the ref {ref!r} is given twice; orders are found again by it", ref=order.ref)
            yield Fault(path=(name, str(index), "ref"), code="given_twice", detail=detail)
        seen.add(order.ref)


def read_orders(document: object, schema: StrictSchema, units: Units, default_units: Units) -> Any:
    """Read a document of orders by its schema. Raises `OrdersError` with every fault in it."""
    if not isinstance(document, dict):
        raise OrdersError((Fault(path=(), code="wrong_type", detail=say("has to be a JSON object")),))
    before, spec_before, known = bare_units.set(units), spec_units.set(default_units), _specs_read.set({})
    try:
        return schema.read(document)
    except ValidationError as error:
        raise OrdersError(faults_of(error.messages, schema)) from error
    finally:
        bare_units.reset(before)
        spec_units.reset(spec_before)
        _specs_read.reset(known)
