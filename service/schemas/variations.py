"""What is to be turned for once: `rules.edge_web:5 mm`, `size.girth:15 in`, `buckle:heel_bar_32`.

Read strictly, by the same fields as a shop file and a spec. What is made of it is another shop and another document:
the ones that were given stay as they are.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Any

from marshmallow import ValidationError

from service.schemas.mistakes import Mistake, shown, unknown_name
from service.schemas.rules import RulesSchema
from service.schemas.spec import SpecError, SpecSchema, read_spec
from service.shop.figures import figures_of
from service.shop.shop import Rules, Shop
from service.strap.errors import Path, StrapError
from service.strap.model.short_form import said_at
from service.strap.model.spec import Spec
from service.words import say

_WHOLE = re.compile(r"-?[0-9]{1,9}")
_WORDS: Mapping[str, bool] = {"true": True, "false": False}
_MEASURES = frozenset(("body_length", "finished_length", "girth", "bar_to_bar", "overall_length", "table", "label"))
"""Of these one says the size: where another is turned to, it stands in its place."""
_SHORT: Mapping[str, Path] = {
    "buckle": ("billet", "buckle"),
    "ring": ("billet", "ring"),
    "fastener": ("joint", "fastener"),
    "ornament": ("ornaments", "item"),
}
"""Goods by their own word, and where a spec names them."""


class VariationError(StrapError, ValueError):
    """Something that is to be turned and cannot be read; `faults` are code and sentence of each."""

    def __init__(self, faults: Sequence[tuple[str, str]]) -> None:
        super().__init__("; ".join(detail for _, detail in faults))
        self.faults = tuple(faults)


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing to turn: its text, its name and the value's text."""

    text: str
    name: str
    value: str

    @property
    def rule(self) -> str | None:
        """The figure of the shop's rules that it turns, if it is one."""
        head, _, name = self.name.partition(".")
        return name if head == "rules" else None


@dataclass(frozen=True, slots=True)
class Turned:
    """The spec and the shop as they are turned; `paths` say for each thing where it stands in the spec."""

    spec: Spec
    shop: Shop
    document: Mapping[str, Any]
    paths: tuple[Path, ...]


def asked(text: str) -> Asked:
    """What a text asks to turn. Raises `ValueError` with a sentence."""
    name, colon, value = text.partition(":")
    if not colon or not name.strip() or not value.strip():
        raise ValueError(
            say("{text} has to be a name, a colon and a value, as in rules.edge_web:5 mm", text=shown(text))
        )
    return Asked(text, name.strip(), value.strip())


def turn(things: Sequence[Asked], document: Mapping[str, Any], spec: Spec, shop: Shop) -> Turned:
    """The spec and the shop with all of it turned. Raises `VariationError` with every fault."""
    turned, rules, faults = deepcopy(dict(document)), shop.rules, list(_twice(things))
    paths: list[Path] = []
    for each in things:
        try:
            if each.rule is not None:
                rules = _with_rule(rules, each.rule, each.value)
                paths.append(())
            else:
                path = _path(each.name, spec)
                _plant(turned, path, _value(each.value))
                paths.append(path)
        except VariationError as error:
            faults += error.faults
    if faults:
        raise VariationError(faults)
    _keep_order(rules)
    return Turned(_read(turned, shop), replace(shop, rules=rules), turned, tuple(paths))


def _twice(things: Iterable[Asked]) -> Iterable[tuple[str, str]]:
    seen: set[str] = set()
    for each in things:
        if each.name in seen:
            yield "given_twice", say("{name} is turned more than once", name=shown(each.name))
        seen.add(each.name)


def _read(document: Mapping[str, Any], shop: Shop) -> Spec:
    try:
        return read_spec(document, shop.defaults.units)
    except SpecError as error:
        faults = [
            (fault.code, say("{name}: {detail}", name=".".join(fault.path), detail=fault.detail))
            for fault in error.faults
        ]
        raise VariationError(faults) from error


def _with_rule(rules: Rules, name: str, text: str) -> Rules:
    """The rules with one figure turned, in jobs of both units. Raises `VariationError`."""
    known = {each: field for each, field in RulesSchema().fields.items() if each != "mm"}
    if name not in known:
        raise VariationError([("unknown_rule", unknown_name("figure of the rules", name, known))])
    try:
        value = known[name].deserialize(text)
    except ValidationError as error:
        raise VariationError(list(_mistakes(name, error))) from error
    if name not in figures_of(Rules):
        return replace(rules, own={**rules.own, name: value})
    return replace(rules, mm={each: figure for each, figure in rules.mm.items() if each != name}, **{name: value})


def _mistakes(name: str, error: ValidationError) -> Iterable[tuple[str, str]]:
    for each in error.messages if isinstance(error.messages, list) else [error.messages]:
        found = each if isinstance(each, Mistake) else Mistake("invalid", str(each))
        yield found.code, say("rules.{name}: {detail}", name=name, detail=found.detail)


def _keep_order(rules: Rules) -> None:
    """Raise `VariationError` where a lower bound now lies above its upper one, as a shop file is refused for."""
    for low, high in RulesSchema.ordered:
        if getattr(rules, low) > getattr(rules, high):
            raise VariationError([("out_of_order", say("{low} may not be more than {high}", low=low, high=high))])


def _path(name: str, spec: Spec) -> Path:
    """Where in the spec a name stands. Raises `VariationError` for what a spec does not begin with."""
    if name in _SHORT:
        return said_at(spec, _SHORT[name])[0]
    path = tuple(name.split("."))
    if path[0] not in SpecSchema().fields:
        raise VariationError([("unknown_field", unknown_name("thing to turn", path[0], known_names()))])
    return path


def known_names() -> tuple[str, ...]:
    """What the name of a thing to turn may begin with."""
    return ("rules", *_SHORT, *SpecSchema().fields)


def _value(text: str) -> str | int | bool:
    """A whole number, true, false, or the text itself: what it may be is for the spec's own fields to say."""
    if _WHOLE.fullmatch(text):
        return int(text)
    return _WORDS.get(text, text)


def _plant(document: dict[str, Any], path: Path, value: object) -> None:
    """Set a value, in objects that are made where there are none. Raises `VariationError` where it has no place."""
    if path[0] == "size" and path[-1] in _MEASURES and isinstance(document.get("size"), dict):
        of_table = path[-1] in ("table", "label")
        kept = {"table", "label"} if of_table else {path[-1]}
        document["size"] = {k: v for k, v in document["size"].items() if k not in _MEASURES or k in kept}
    here: Any = document
    for name in path[:-1]:
        here = _under(here, name, path)
    if isinstance(here, list):
        here[_index(here, path[-1], path)] = value
    elif isinstance(here, dict):
        here[path[-1]] = value
    else:
        raise _no_place(path)


def _under(here: Any, name: str, path: Path) -> Any:
    if isinstance(here, list):
        return here[_index(here, name, path)]
    if not isinstance(here, dict):
        raise _no_place(path)
    return here.setdefault(name, {})


def _index(here: Sequence[Any], name: str, path: Path) -> int:
    if not name.isdecimal() or int(name) >= len(here):
        raise _no_place(path)
    return int(name)


def _no_place(path: Path) -> VariationError:
    return VariationError([("unknown_field", say("the spec has no place {name}", name=shown(".".join(path))))])
