"""Strict fields: a number is never a text, a whole number never 5.0, a length always has a unit.

Every mistake carries a stable code and a sentence. Fields are built once, when a schema is.
"""

import re
from collections.abc import Callable, Mapping
from contextvars import ContextVar
from decimal import Decimal, InvalidOperation
from itertools import islice
from typing import Any, Generic, TypeVar

from marshmallow import Schema, ValidationError, fields, validates_schema

from service.schemas.mistakes import (
    MOST_REPORTED,
    UNKNOWN,
    Mistake,
    mistake,
    shown,
    shown_number,
    unknown_name,
)
from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.errors import LengthError
from service.strap.plane.length_text import has_unit
from service.strap.plane.lengths import parse_length
from service.words import say

T = TypeVar("T")

bare_units: ContextVar[Units] = ContextVar("bare_units", default="mm")
"""The unit of a bare number in the document being read; set by whoever reads it."""

_DECIMAL = re.compile(r"[0-9]{1,12}(\.[0-9]{1,12})?")


class StrictSchema(Schema):
    """A JSON or TOML object: unknown keys are refused; null says nothing, as if the key were not there.

    `makes` is called with the loaded values.
    """

    makes: Callable[..., Any] = dict

    def load(self, data: Any, **more: Any) -> Any:
        """The members, read. Raises `ValidationError` with every mistake; of very many unknown keys with the first."""
        unknown = islice((name for name in data if name not in self.fields), MOST_REPORTED + 1)
        wrong: dict[str, Any] = {name: [UNKNOWN] for name in unknown}
        if not wrong:
            return super().load(data, **more)
        try:
            super().load({name: value for name, value in data.items() if name in self.fields}, **more)
        except ValidationError as error:
            wrong |= error.messages_dict
        raise ValidationError(wrong)

    def read(self, document: Mapping[str, Any], **more: Any) -> Any:
        """What `makes` makes of a document; `more` are values that do not stand in it, such as an id."""
        said = {name: value for name, value in self.load(document).items() if value is not None}
        return self.makes(**said, **more)


class OrderedSchema(StrictSchema):
    """A schema in which pairs of values may not cross."""

    ordered: tuple[tuple[str, str], ...] = ()
    """Pairs of keys of which the first may not be greater than the second."""

    @validates_schema(skip_on_field_errors=False)
    def keep_order(self, data: Mapping[str, Any], **_: object) -> None:
        """Refuse a lower bound above its upper bound."""
        for low, high in self.ordered:
            if low in data and high in data and data[low] > data[high]:
                raise ValidationError(
                    {low: [Mistake("out_of_order", say("{low} may not be more than {high}", low=low, high=high))]}
                )


class StrictField(fields.Field[T], Generic[T]):
    """Base of all fields here: a subclass says how to `_read` a value; errors are `Mistake`s."""

    kind = "value"
    """What this field wants, for the sentence."""

    def __init__(self, **more: Any) -> None:
        super().__init__(**{"allow_none": not more.get("required"), **more})

    def _read(self, value: object) -> T:
        """The value that a document's value stands for. Raises `ValidationError` with `Mistake`s."""
        raise NotImplementedError

    def _deserialize(self, value: object, *_: object, **__: object) -> T:
        return self._read(value)

    def make_error(self, key: str, **_: object) -> ValidationError:
        """Marshmallow's own errors (missing, null) in our form."""
        if key == "required":
            return mistake("missing", say("has to be given: {kind}", kind=self.kind))
        if key == "null":
            return mistake("wrong_type", say("has to be {kind}, not null", kind=self.kind))
        return mistake("invalid", str(self.error_messages.get(key, key)))

    def wrong_type(self, value: object) -> ValidationError:
        """The error for a value of another type."""
        names = {type(None): "null", bool: say("true or false"), str: "a text", dict: say("an object"), list: "a list"}
        found = names.get(type(value)) or say("the number {value}", value=shown_number(value))
        return mistake("wrong_type", say("has to be {kind}, not {found}", kind=self.kind, found=found))


class Text(StrictField[str]):
    """A text of bounded length, of a given form where one is given."""

    kind = "a text"

    def __init__(
        self, most: int = 120, form: re.Pattern[str] | None = None, kind: str | None = None, **more: Any
    ) -> None:
        super().__init__(**more)
        self.most = most
        self.form = form
        self.kind = kind or self.kind

    def _read(self, value: object) -> str:
        if not isinstance(value, str):
            raise self.wrong_type(value)
        if not value.strip() or len(value) > self.most:
            raise mistake("out_of_range", say("has to have 1 to {most} characters", most=self.most))
        if self.form and not self.form.fullmatch(value):
            raise mistake("invalid", say("{value} is not {kind}", value=shown(value), kind=self.kind))
        return value


class Choice(StrictField[Any]):
    """One of a few words."""

    def __init__(self, *words: str, **more: Any) -> None:
        super().__init__(**more)
        self.words = words
        self.kind = say("one of {words}", words=", ".join(words))

    def _read(self, value: object) -> str:
        if not isinstance(value, str):
            raise self.wrong_type(value)
        if value not in self.words:
            raise mistake("unknown_value", unknown_name("value", value, self.words))
        return value


class Flag(StrictField[bool]):
    """`true` or `false`, and nothing that resembles them."""

    kind = "true or false"

    def _read(self, value: object) -> bool:
        if not isinstance(value, bool):
            raise self.wrong_type(value)
        return value


class Whole(StrictField[int]):
    """A whole number between `least` and `most`, both allowed. 5.0, `"5"` and `true` are refused."""

    kind = "a whole number"

    def __init__(self, least: int, most: int, **more: Any) -> None:
        super().__init__(**more)
        self.least = least
        self.most = most

    def _read(self, value: object) -> int:
        if type(value) is not int:
            raise self.wrong_type(value)
        if not self.least <= value <= self.most:
            bound = self.least if value < self.least else self.most
            detail = say(
                "has to lie between {least} and {most}, not {value}",
                least=self.least,
                most=self.most,
                value=shown_number(value),
            )
            found = value if abs(value) < 10**15 else None
            raise ValidationError([Mistake("out_of_range", detail, bound, found, is_length=False)])
        return value


class Number(StrictField[Decimal]):
    """A decimal, as a text or a TOML number, between `least` and `most`: a share, a price, a density."""

    kind = "a decimal number"

    def __init__(self, least: str, most: str, **more: Any) -> None:
        super().__init__(**more)
        self.least = Decimal(least)
        self.most = Decimal(most)

    def _read(self, value: object) -> Decimal:
        number = self._number(value)
        if not self.least <= number <= self.most:
            raise mistake(
                "out_of_range",
                say(
                    "has to lie between {least} and {most}, not {number}",
                    least=self.least,
                    most=self.most,
                    number=number,
                ),
            )
        return number

    def _number(self, value: object) -> Decimal:
        if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
            raise self.wrong_type(value)
        if not _DECIMAL.fullmatch(str(value)):
            raise mistake("invalid", say("{value} is not {kind} such as 0.5", value=shown(value), kind=self.kind))
        try:
            return Decimal(value)
        except InvalidOperation as error:
            raise mistake("invalid", say("{value} is not {kind}", value=shown(value), kind=self.kind)) from error


class Mass(Number):
    """Grams as decimal text, held as whole milligrams."""

    kind = "a mass in grams"

    def __init__(self, **more: Any) -> None:
        super().__init__("0", "100000", **more)

    def _read(self, value: object) -> Any:
        milligrams = super()._read(value) * 1000
        if milligrams != int(milligrams):
            raise mistake("invalid", say("a mass is given to the milligram at most"))
        return int(milligrams)


class Length(StrictField[Nm]):
    """A length: a text with its unit, or (unless `unit_needed`) a bare number in `bare_units`."""

    kind = "a length"

    def __init__(self, *, zero: bool = False, unit_needed: bool = False, **more: Any) -> None:
        super().__init__(**more)
        self.zero = zero
        self.unit_needed = unit_needed

    def _read(self, value: object) -> Nm:
        length = self._length(value)
        if length == 0 and not self.zero:
            raise mistake("out_of_range", say("has to be longer than 0"))
        return length

    def _length(self, value: object) -> Nm:
        if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
            raise self.wrong_type(value)
        try:
            length = parse_length(value, bare_units.get())
        except LengthError as error:
            raise mistake("not_a_length", f"{shown(value)}: {error.reason}") from error
        if self.unit_needed and not (isinstance(value, str) and has_unit(value)):
            raise mistake(
                "not_a_length", say("{value}: a length with its unit, such as 3/4 in or 19 mm", value=shown(value))
            )
        return length
