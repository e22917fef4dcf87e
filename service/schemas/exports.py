"""The shop file's form for orders that other tools export: which column is which, and which value means which."""

from collections.abc import Container, Iterable, Iterator, Mapping
from typing import Any

from marshmallow import ValidationError, validates_schema

from service.schemas.choosing import design_units, read_value
from service.schemas.fields import StrictField, StrictSchema, Text
from service.schemas.gathered import Several
from service.schemas.mistakes import Mistake, mistake, unknown_name
from service.shop.designs import Design
from service.shop.exports import Export
from service.shop.shop import Units
from service.words import say

OWN = ("ref", "design", "quantity")
"""Columns that always mean the same."""
MORE = ("code", "pair", "sizes")
"""Those that mean this where no choice of the shop has the name."""
_FREE = frozenset({"ref", "code", "quantity", "sizes"})
"""Columns whose values no table stands for: they are the orders' own."""
_MOST_NAMES, _MOST_IGNORED, _MOST_VALUES = 60, 200, 500
_LONGEST = 200


class Texts(StrictField[dict[str, str]]):
    """Texts by name."""

    kind = "a table of texts"

    def __init__(self, most: int, **more: Any) -> None:
        super().__init__(**more)
        self.most = most

    def _read(self, value: object) -> dict[str, str]:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        if not 1 <= len(value) <= self.most:
            raise mistake("out_of_range", say("has to have 1 to {most} entries", most=self.most))
        wrong = {
            name: [Mistake("wrong_type", say("has to be a text of 1 to {most} characters", most=_LONGEST))]
            for name, said in value.items()
            if not isinstance(said, str) or not said.strip() or max(len(said), len(name)) > _LONGEST
        }
        if wrong:
            raise ValidationError(wrong)
        return {name.strip(): said.strip() for name, said in value.items()}


class TablesOfTexts(StrictField[dict[str, dict[str, str]]]):
    """Texts by name, in tables by name."""

    kind = "a table for each column, of the exporter's values"
    one = Texts(_MOST_VALUES)

    def _read(self, value: object) -> dict[str, dict[str, str]]:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        found: dict[str, dict[str, str]] = {}
        wrong: dict[str, Any] = {}
        for name, table in value.items():
            try:
                found[name] = self.one.deserialize(table) or {}
            except ValidationError as error:
                wrong[name] = error.messages
        if wrong:
            raise ValidationError(wrong)
        return found


class ExportSchema(StrictSchema):
    """The file of one exporter."""

    makes = Export
    title = Text(required=True)
    columns = Texts(_MOST_NAMES, required=True)
    values = TablesOfTexts()
    ignored = Several(Text(most=_LONGEST), _MOST_IGNORED, least=0)
    no_straps = Several(Text(most=_LONGEST), _MOST_IGNORED, least=0)

    @validates_schema(skip_on_field_errors=True)
    def each_column_once(self, data: Mapping[str, Any], **_: object) -> None:
        """No column means two things, and those that say what is ordered are there."""
        wrong: dict[str, Any] = {}
        named = list(data["columns"].values())
        for name, column in data["columns"].items():
            if named.count(column) > 1 or column in (data.get("ignored") or ()):
                wrong[name] = [Mistake("given_twice", say("the column {column!r} stands here twice", column=column))]
        if "ref" not in data["columns"]:
            wrong["ref"] = [Mistake("missing", say("has to be given: orders are found again by it"))]
        if not {"design", "code"} & set(data["columns"]):
            wrong["design"] = [Mistake("missing", say("has to be given, or code: what is ordered"))]
        if wrong:
            raise ValidationError({"columns": wrong})


def names_of(designs: Iterable[Design]) -> tuple[str, ...]:
    """What a column can mean in a shop of these designs: its own, and every choice."""
    choices = dict.fromkeys(choice.name for design in designs for choice in design.choices)
    return (*_own(choices), *choices)


def own_names(designs: Iterable[Design]) -> frozenset[str]:
    """Those of them that no choice has."""
    return frozenset(_own({choice.name for design in designs for choice in design.choices}))


def _own(choices: Container[str]) -> Iterator[str]:
    yield from OWN
    yield from (name for name in MORE if name not in choices)


def wrong_exports(exports: Mapping[str, Export], designs: Mapping[str, Design], units: Units) -> dict[str, Any]:
    """The mistakes of exports in a shop of these designs, as marshmallow's messages."""
    found = {name: dict(_wrong(export, designs, units)) for name, export in exports.items()}
    return {name: wrong for name, wrong in found.items() if wrong}


def _wrong(export: Export, designs: Mapping[str, Design], units: Units) -> Iterator[tuple[str, Any]]:
    known = names_of(designs.values())
    columns = {
        name: [Mistake("unknown_field", unknown_name("column", name, known))]
        for name in export.columns
        if name not in known
    }
    if columns:
        yield "columns", columns
    values = {
        name: wrong for name, table in export.values.items() if (wrong := _values(name, table, export, designs, units))
    }
    if values:
        yield "values", values


def _values(name: str, table: Mapping[str, str], export: Export, designs: Mapping[str, Design], units: Units) -> Any:
    if name not in export.columns or name in _FREE:
        names = [each for each in export.columns if each not in _FREE]
        return [Mistake("unknown_field", unknown_name("column", name, names))]
    wrong = ((said, _why(name, meant, designs, units)) for said, meant in table.items())
    return {said: [Mistake("unknown_value", why)] for said, why in wrong if why}


def _why(name: str, meant: str, designs: Mapping[str, Design], units: Units) -> str:
    """Why a value means nothing in this column; empty where it does."""
    if name == "design":
        return "" if meant in designs else unknown_name("design", meant, designs)
    choices = [(each, design) for design in designs.values() for each in design.choices if each.name == name]
    if not choices:
        return "" if meant in ("true", "false") else say("has to be true or false")
    why = ""
    for choice, design in choices:
        try:
            read_value(choice, meant, design_units(design, units))
        except ValueError as error:
            why = str(error)
        else:
            return ""
    return why
