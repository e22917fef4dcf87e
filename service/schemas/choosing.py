"""A buyer's choices: read from texts, written as texts, and set upon a design's base spec."""

import json
from collections.abc import Mapping
from decimal import Decimal
from itertools import islice
from typing import Any

from service.schemas.designs import unknown_choice
from service.schemas.mistakes import MOST_REPORTED, shown
from service.schemas.spec import units_of
from service.shop.designs import Choice, Chosen, Design, Options, Value
from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.errors import LengthError, StrapError
from service.strap.plane.lengths import INCH, MM, SIXTY_FOURTH, exact_text, parse_length, reading
from service.words import say

_MOST_DIGITS = 6


class ChoiceError(StrapError, ValueError):
    """Choices that cannot be read, with a sentence for each by the choice's name."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        super().__init__("; ".join(f"{name}: {why}" for name, why in wrong.items()))
        self.wrong = wrong


def design_units(design: Design, default: Units) -> Units:
    """The units of a design's readings: its spec's own, else the shop's."""
    return units_of(json.loads(design.spec), default)


def choose(design: Design, said: Mapping[str, object], default_units: Units) -> Chosen:
    """A value for every choice: what is said (texts, or JSON values), else the default.

    Raises `ChoiceError` for names that are no choice and values that are not offered.
    """
    units = design_units(design, default_units)
    names = {each.name for each in design.choices}
    unknown = islice((name for name in said if name not in names), MOST_REPORTED + 1)
    wrong = {name: unknown_choice(name, design) for name in unknown}
    chosen = design.defaults()
    for choice in design.choices:
        if choice.name in said:
            try:
                chosen[choice.name] = read_value(choice, said[choice.name], units)
            except ValueError as error:
                wrong[choice.name] = str(error)
    if wrong:
        raise ChoiceError(wrong)
    return chosen


def read_value(choice: Choice, said: object, units: Units) -> Value:
    """The offered value that a text or a JSON value stands for. Raises `ValueError` with a sentence."""
    read = _option if isinstance(choice.offer, Options) else _number
    value = read(choice, said, units)
    if value is None or value not in choice.offer:
        raise ValueError(say("{said} is not offered; {offered}", said=shown(said), offered=offered(choice, units)))
    return value


def _number(choice: Choice, said: object, units: Units) -> int | None:
    if choice.is_length:
        if isinstance(said, bool) or not isinstance(said, str | int | Decimal):
            return None
        try:
            return parse_length(said, units)
        except LengthError as error:
            raise ValueError(f"{shown(said)}: {error.reason}") from error
    if type(said) is int:
        return said
    if isinstance(said, str) and said.isascii() and said.isdigit() and len(said) <= _MOST_DIGITS:
        return int(said)
    return None


def _option(choice: Choice, said: object, units: Units) -> Value | None:
    """The option that a text says, however it is written, or that a JSON value is."""
    if choice.is_length:
        return _number(choice, said, units)
    if isinstance(said, str):
        texts = {query_text(choice, value, units): value for value in choice.offer}
        return texts.get(said, texts.get(said.strip().lower()))
    return said if isinstance(said, int) else None


def offered(choice: Choice, units: Units) -> str:
    """What a choice offers, in words."""
    if isinstance(choice.offer, Options):
        texts = ", ".join(query_text(choice, value, units) for value in choice.offer)
        return say("there is {values}", values=texts)
    least, most, step = (
        reading(each, units) if choice.is_length else str(each)
        for each in (choice.offer.least, choice.offer.most, choice.offer.step)
    )
    return say("it goes from {least} to {most} in steps of {step}", least=least, most=most, step=step)


def query_text(choice: Choice, value: Value, units: Units) -> str:
    """The one text that a value has in a canonical query: `15.25in`, `6`, `harness_8_9`, `true`."""
    if isinstance(value, bool):
        return str(value).lower()
    return _decimal_length(int(value), units) if choice.is_length else str(value)


def _decimal_length(length: Nm, units: Units) -> str:
    """A length without a space: inches where they come out even, else millimetres."""
    unit = "in" if units == "in" and length % SIXTY_FOURTH == 0 else "mm"
    return f"{Decimal(length) / (INCH if unit == 'in' else MM):f}{unit}"


def value_title(choice: Choice, value: Value, units: Units) -> str:
    """What a buyer reads for a value: a ruler's reading, a number, or the shop's own title."""
    if isinstance(choice.offer, Options):
        return next(option.title for option in choice.offer.options if option.value == value)
    return reading(int(value), units) if choice.is_length else str(value)


def json_value(choice: Choice, value: Value, units: Units) -> str | int | bool:
    """A value as it stands in a spec's JSON."""
    return exact_text(int(value), units) if choice.is_length else value


def chosen_document(design: Design, chosen: Mapping[str, Value], default_units: Units) -> dict[str, Any]:
    """The design's base spec with every choice set upon it, as JSON data."""
    document: dict[str, Any] = json.loads(design.spec)
    units = units_of(document, default_units)
    for choice in design.choices:
        _set(document, choice.path, json_value(choice, chosen[choice.name], units))
    return document


def _set(document: dict[str, Any], path: tuple[str, ...], value: object) -> None:
    """Set the member at a path; what stands in the way is left as it is, for the spec's own reader to refuse."""
    here: Any = document
    for name in path[:-1]:
        if not isinstance(here, dict):
            return
        here = here.setdefault(name, {})
    if isinstance(here, dict):
        here[path[-1]] = value
