"""The forms of a shop file's designs: a base spec, and for each choice where it points and what it offers."""

import json
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from marshmallow import ValidationError, post_load, validates_schema

from service.schemas.fields import Length, StrictField, StrictSchema, Text, Whole
from service.schemas.gathered import Goods, Part, read_list
from service.schemas.ids import Id
from service.schemas.lining import LiningField
from service.schemas.mistakes import Mistake, mistake, shown, unknown_name
from service.schemas.spacing import Spacing
from service.schemas.spec import SPEC_SCHEMA
from service.shop.designs import Choice, Design, Option, Options, Range, Value
from service.words import say

RESERVED = frozenset(
    {
        "view", "piece", "units", "dpi", "width_px", "height_px", "paper", "sheet", "kerf", "hole", "background",
        "design", "choices", "format", "url", "maxwidth", "maxheight", "quantity", "ref", "class", "id", "style",
        "slot", "lang", "dir", "title", "hidden", "part",
    }
)  # fmt: skip
"""Names that a choice may not have: they mean something else in a query, or as an attribute."""

MOST_VALUES = 500
"""Values of one choice."""
MOST_PAIRS = 6000
"""Lengths times counts of one design: what is makeable is worked out for all of them."""

_POINTER = re.compile(r"(?:/(?:[^~/]|~[01])+)+")


def spec_field(path: tuple[str, ...]) -> StrictField[Any] | None:
    """The field of a spec at a path; none where a spec has no such member, or an object there."""
    field: Any = Part(type(SPEC_SCHEMA), "a spec")
    for name in path:
        if isinstance(field, Spacing | LiningField):
            field = field.each.fields.get(name)
        else:
            field = field.each.fields.get(name) if isinstance(field, Part) else None
    return None if isinstance(field, Part) else field


def path_of(pointer: str) -> tuple[str, ...]:
    """The names in a JSON pointer (RFC 6901): `~1` stands for `/`, `~0` for `~`."""
    return tuple(name.replace("~1", "/").replace("~0", "~") for name in pointer.split("/")[1:])


class Anything(StrictField[Any]):
    """A value that is judged later, when it is known where it belongs."""

    def _read(self, value: object) -> Any:
        return value


class Pointer(StrictField[tuple[str, ...]]):
    """A JSON pointer to a member of a spec that holds a single value."""

    kind = "a JSON pointer into the spec, such as /ornaments/count"

    def _read(self, value: object) -> tuple[str, ...]:
        if not isinstance(value, str):
            raise self.wrong_type(value)
        if not _POINTER.fullmatch(value):
            raise mistake("invalid", say("{value} is not {kind}", value=shown(value), kind=self.kind))
        path = path_of(value)
        if spec_field(path) is None:
            raise mistake("unknown_member", say("{value} leads to no single value of a spec", value=shown(value)))
        return path


class Document(StrictField[str]):
    """A spec as a table, kept as JSON text. What stands in it is judged when the whole file is there."""

    kind = "a table with the base spec"

    def _read(self, value: object) -> str:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        try:
            return json.dumps(value, sort_keys=True, separators=(",", ":"), default=_plain)
        except TypeError as error:
            raise mistake("wrong_type", say("holds a value that JSON does not have, such as a date")) from error


def _plain(value: object) -> str:
    if isinstance(value, Decimal):
        return str(value)
    raise TypeError(type(value).__name__)


class OptionSchema(StrictSchema):
    """One value of a list."""

    value = Anything(required=True)
    title = Text(required=True)


class OptionList(StrictField[list[dict[str, Any]]]):
    """A list of values with their titles."""

    kind = "a list of values, each with its title"
    each = OptionSchema()

    def _read(self, value: object) -> list[dict[str, Any]]:
        if not isinstance(value, list) or not all(isinstance(entry, dict) for entry in value):
            raise self.wrong_type(value)
        if not 1 <= len(value) <= MOST_VALUES:
            raise mistake("out_of_range", say("has to have 1 to {most_values} values", most_values=MOST_VALUES))
        return list(read_list(value, self.each.read))


class ChoiceSchema(StrictSchema):
    """A choice: a pointer, and either `from`, `to` and `step`, or `values`; and a default."""

    class Meta:
        """`from` is a word of Python's own, so it is included by name."""

        include = {"from": Anything()}  # noqa: RUF012 # marshmallow reads it once

    title = Text(required=True)
    pointer = Pointer(required=True)
    to = Anything()
    step = Anything()
    values = OptionList()
    default = Anything(required=True)

    @staticmethod
    def makes(**said: Any) -> Choice:
        """The choice; its name is its key."""
        return Choice(
            name=said["id"],
            title=said["title"],
            path=said["pointer"],
            is_length=isinstance(spec_field(said["pointer"]), Length),
            offer=said["offer"],
        )

    @validates_schema(skip_on_field_errors=True)
    def one_way(self, data: Mapping[str, Any], **_: object) -> None:
        """Either a whole range or a list."""
        ends = [key for key in ("from", "to", "step") if key in data]
        if ("values" in data) == bool(ends) or (ends and len(ends) < 3):
            raise mistake("one_of", say("give either values, or all of from, to and step"))

    @post_load
    def offer(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """What is offered, read as the spec's own field reads it."""
        field = spec_field(data["pointer"])
        offer = _options(data, field) if "values" in data else _range(data, field)
        return {"title": data["title"], "pointer": data["pointer"], "offer": offer}


def _range(data: Mapping[str, Any], field: StrictField[Any] | None) -> Range:
    if isinstance(field, Length):
        field = Length(unit_needed=True, zero=True)
    elif not isinstance(field, Whole):
        raise ValidationError(
            {"from": [Mistake("wrong_type", say("only a length or a count has a range: give values"))]}
        )
    least, most, step, default = _each(data, field, ("from", "to", "step", "default"))
    offer = Range(least=least, most=most, step=step, default=default)
    if step <= 0 or most < least or (most - least) % step:
        wrong = say("from, to and step do not fit: to has to be a whole number of steps above from")
        raise ValidationError({"step": [Mistake("out_of_order", wrong)]})
    if len(offer) > MOST_VALUES:
        wrong = say(
            "gives {count} values; a choice has at most {most_values}", count=len(offer), most_values=MOST_VALUES
        )
        raise ValidationError({"step": [Mistake("out_of_range", wrong)]})
    if default not in offer:
        raise ValidationError(
            {"default": [Mistake("not_offered", say("is not one of the values from, to and step give"))]}
        )
    return offer


def _each(data: Mapping[str, Any], field: StrictField[Any], keys: tuple[str, ...]) -> list[int]:
    """The values under these keys. Raises `ValidationError` with every mistake in them."""
    values, wrong = [], {}
    for key in keys:
        try:
            values.append(field.deserialize(data[key]))
        except ValidationError as error:
            wrong[key] = error.messages
    if wrong:
        raise ValidationError(wrong)
    return values


def _options(data: Mapping[str, Any], field: StrictField[Any] | None) -> Options:
    field = Length(unit_needed=True) if isinstance(field, Length) else field or Anything()
    options, wrong = [], {}
    for index, entry in enumerate(data["values"]):
        try:
            options.append(Option(value=_single(entry["value"], field), title=entry["title"]))
        except ValidationError as error:
            wrong[str(index)] = {"value": error.messages}
    if wrong:
        raise ValidationError({"values": wrong})
    try:
        offer = Options(options=tuple(options), default=_single(data["default"], field))
    except ValidationError as error:
        raise ValidationError({"default": error.messages}) from error
    if len({(type(value), value) for value in offer}) < len(offer):
        raise ValidationError({"values": [Mistake("given_twice", say("a value stands here more than once"))]})
    if offer.default not in offer:
        raise ValidationError({"default": [Mistake("not_offered", say("is none of the values"))]})
    return offer


def _single(value: object, field: StrictField[Any]) -> Value:
    read: object = field.deserialize(value)
    if not isinstance(read, int | str | bool):
        raise mistake("wrong_type", say("a choice is between single values"))
    return read


class DesignSchema(StrictSchema):
    """A design. Its base spec need not say what a choice sets."""

    title = Text(required=True)
    about = Text(required=True, most=300)
    spec = Document(required=True)
    size_table = Id()
    choices = Goods(ChoiceSchema, "choices", required=True)

    @staticmethod
    def makes(**said: Any) -> Design:
        """The design; its name is its key."""
        return Design(
            name=said["id"],
            title=said["title"],
            about=said["about"],
            spec=said["spec"],
            choices=tuple(said["choices"].values()),
            size_table=said.get("size_table"),
        )

    @validates_schema(skip_on_field_errors=True)
    def choices_fit_together(self, data: Mapping[str, Any], **_: object) -> None:
        """One range of lengths, at most one of counts, no name with another meaning, no two at one place."""
        wrong = dict(_wrong_choices(list(data["choices"].values())))
        if wrong:
            raise ValidationError({"choices": wrong})


def _wrong_choices(choices: list[Choice]) -> Iterator[tuple[str, Any]]:
    lengths = [each for each in choices if each.path[0] == "size" and isinstance(each.offer, Range)]
    if len(lengths) != 1:
        said = say("needs one range of lengths, at /size/girth, /size/finished_length or /size/body_length")
        yield "_schema", [Mistake("missing", said)]
    for index, each in enumerate(choices):
        if each.name in RESERVED:
            yield each.name, [Mistake("given_twice", say("this name means something else in a query"))]
        elif each.path == ("ornaments", "count") and not isinstance(each.offer, Range):
            yield (
                each.name,
                {"values": [Mistake("wrong_type", say("a count of ornaments is a range: from, to and step"))]},
            )
        elif any(_overlap(each.path, other.path) for other in choices[:index]):
            yield each.name, {"pointer": [Mistake("given_twice", say("another choice sets this as well"))]}
    sizes = [each for each in choices if isinstance(each.offer, Range) and each.path[0] in ("size", "ornaments")]
    pairs = 1
    for each in sizes:
        pairs *= len(each.offer)
    if pairs > MOST_PAIRS:
        yield (
            sizes[-1].name,
            {
                "step": [
                    Mistake(
                        "out_of_range",
                        say("gives {pairs} pairs; at most {most_pairs}", pairs=pairs, most_pairs=MOST_PAIRS),
                    )
                ]
            },
        )


def _overlap(path: tuple[str, ...], other: tuple[str, ...]) -> bool:
    shorter = min(len(path), len(other))
    return path[:shorter] == other[:shorter]


def unknown_choice(name: str, design: Design) -> str:
    """The sentence for a name that no choice of a design goes by."""
    return unknown_name("choice", name, (each.name for each in design.choices))
