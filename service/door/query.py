"""Query strings. A route's are strict: what it does not know, or gets twice, is refused by name. A link's are not."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from service.door.errors import ParameterFault, QueryError
from service.schemas.mistakes import shown, unknown_name
from service.shop.goods import Nm
from service.strap.errors import LengthError
from service.strap.plane.lengths import exact_text, parse_length
from service.words import say

Values = dict[str, Any]
"""What a query says, by the names of its parameters."""

_MOST_FIELDS = 40
_WHOLE = re.compile(r"[0-9]{1,9}")
_COLOUR = re.compile(r"(transparent)|#?([0-9a-fA-F]{6})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """A query parameter: what it means, how its text is read, and the JSON Schema of its values."""

    name: str
    meaning: str
    schema: Mapping[str, Any]
    read: Callable[[str], Any]
    """Raises `ValueError` with a sentence."""
    required: bool = False
    most: int = 1
    """How often it may be given; the value of one that may be given several times is a tuple."""


def one_of(name: str, meaning: str, *words: str) -> Parameter:
    """A parameter that is one of a few words."""

    def read(text: str) -> str:
        if text not in words:
            raise ValueError(unknown_name("value", text, words))
        return text

    return Parameter(name=name, meaning=meaning, read=read, schema={"type": "string", "enum": list(words)})


def whole(name: str, meaning: str, least: int, most: int) -> Parameter:
    """A parameter that is a whole number within bounds."""

    def read(text: str) -> int:
        number = int(text) if _WHOLE.fullmatch(text) else -1
        if not least <= number <= most:
            raise ValueError(
                say("{text} is not a whole number from {least} to {most}", text=shown(text), least=least, most=most)
            )
        return number

    schema = {"type": "integer", "minimum": least, "maximum": most}
    return Parameter(name=name, meaning=meaning, read=read, schema=schema)


def text(name: str, meaning: str, most: int, *, required: bool = False) -> Parameter:
    """A parameter that is any text of bounded length."""

    def read(given: str) -> str:
        if not 1 <= len(given) <= most:
            raise ValueError(say("has to have 1 to {most} characters", most=most))
        return given

    schema = {"type": "string", "minLength": 1, "maxLength": most}
    return Parameter(name=name, meaning=meaning, read=read, schema=schema, required=required)


def a_length(name: str, meaning: str, most: Nm) -> Parameter:
    """A parameter that is a length from 0 to `most` nanometres, always with its unit; read as its exact text."""

    def read(text: str) -> str:
        try:
            inches, millimetres = parse_length(text, "in"), parse_length(text, "mm")
        except LengthError as error:
            raise ValueError(say("{text}: {reason}", text=shown(text), reason=error.reason)) from error
        if inches != millimetres:
            raise ValueError(say("{text}: a length with its unit, such as 0.2 mm", text=shown(text)))
        if millimetres > most:
            raise ValueError(say("{text} is more than {most}", text=shown(text), most=exact_text(most, "mm")))
        return exact_text(millimetres, "mm")

    schema = {"type": "string", "minLength": 1, "maxLength": 40, "examples": ["0.2 mm"]}
    return Parameter(name=name, meaning=meaning, read=read, schema=schema)


def colour(name: str, meaning: str) -> Parameter:
    """A parameter that is a colour, `rrggbb` with or without a number sign before it, or `transparent`."""

    def read(text: str) -> str:
        found = _COLOUR.fullmatch(text)
        if not found:
            raise ValueError(say("{text} is not a colour such as f4efe6, nor transparent", text=shown(text)))
        return found[1] or found[2].lower()

    schema = {"type": "string", "pattern": "^(transparent|#?[0-9a-fA-F]{6})$"}
    return Parameter(name=name, meaning=meaning, read=read, schema=schema)


def read_query(query: bytes, parameters: Iterable[Parameter]) -> Values:
    """The values of the parameters that a query gives. Raises `QueryError` with every fault in it."""
    known = {parameter.name: parameter for parameter in parameters}
    values: Values = {}
    faults: list[ParameterFault] = []
    for name, text in _pairs(query):
        if name not in known:
            faults.append(_unknown(name, known))
        elif known[name].most > 1:
            values[name] = (*values.get(name, ()), _value(known[name], text, faults))
        elif name in values:
            faults.append(ParameterFault(name, "given_twice", "is given more than once"))
        else:
            values[name] = _value(known[name], text, faults)
    faults += _too_often(values, known)
    if faults:
        raise QueryError(tuple(faults))
    return values


def _too_often(values: Values, known: Mapping[str, Parameter]) -> Iterator[ParameterFault]:
    for name, value in values.items():
        if isinstance(value, tuple) and len(value) > known[name].most:
            detail = say("is given {found} times, at most {most} are read", found=len(value), most=known[name].most)
            yield ParameterFault(name, "given_too_often", detail)


def read_link(query: bytes, parameters: Iterable[Parameter]) -> tuple[Values, tuple[ParameterFault, ...]]:
    """The values that a link gives, and the faults of those that cannot be read.

    Whoever passes a link on may add to it: what is not known is passed over; of a name given twice the first counts.
    """
    known = {parameter.name: parameter for parameter in parameters}
    texts: dict[str, str] = {}
    for name, text in _pairs(query, most=None):
        if name in known:
            texts.setdefault(name, text)
    faults: list[ParameterFault] = []
    values = {name: _value(known[name], text, faults) for name, text in texts.items()}
    wrong = {fault.parameter for fault in faults}
    return {name: value for name, value in values.items() if name not in wrong}, tuple(faults)


def _pairs(query: bytes, most: int | None = _MOST_FIELDS) -> list[tuple[str, str]]:
    if not query:
        return []
    try:
        return parse_qsl(query.decode("latin-1"), keep_blank_values=True, max_num_fields=most)
    except ValueError as error:
        detail = say("more than {most} parameters are given", most=_MOST_FIELDS)
        raise QueryError((ParameterFault("", "too_many_parameters", detail),)) from error


def _value(parameter: Parameter, text: str, faults: list[ParameterFault]) -> Any:
    try:
        return parameter.read(text)
    except ValueError as error:
        faults.append(ParameterFault(parameter.name, "invalid", str(error)))
        return None


def _unknown(name: str, known: Iterable[str]) -> ParameterFault:
    names = tuple(known)
    detail = unknown_name("parameter", name, names) if names else "no parameter is taken here"
    return ParameterFault(name, "unknown_parameter", detail)
