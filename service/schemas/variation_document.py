"""Two patterns side by side as JSON data: the figures that move between their answers, what comes and what goes."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from service.schemas.answers.pattern import CheckDocument
from service.schemas.answers.variation import (
    CheckSideDocument,
    MovedFigureDocument,
    ReasonDocument,
    ThingDocument,
    TurnedCheckDocument,
)
from service.schemas.problem import fault_document, pointer
from service.shop.shop import Units
from service.strap.errors import Fault, Path

_PARTS = ("finished", "pieces", "hardware", "materials")
"""Of an answer those whose figures are held side by side; steps and cautions are told of them."""
_THINGS = {
    "pieces": "piece",
    "features": "feature",
    "stitch_lines": "stitch_line",
    "splices": "splice",
    "hardware": "hardware",
}
_NAMES = ("id", "name", "hole", "piece", "item", "leather")
"""By the first of these that it has a thing in a list is known again."""
_TOLD_ELSEWHERE = frozenset(("outline", "mates", "steps"))
Json = Mapping[str, Any]


def moved_figures(before: Json, after: Json) -> list[MovedFigureDocument]:
    """Every figure of either answer that is not the same in the other, of what is in both."""
    return [each for part in _PARTS for each in _moved(before[part], after[part], (part,), part)]


def _moved(before: Any, after: Any, path: Path, of: str) -> Iterator[MovedFigureDocument]:
    if isinstance(before, dict) and isinstance(after, dict):
        yield from _in_object(before, after, path, of)
    elif isinstance(before, list) and isinstance(after, list):
        for n, one, other in _pairs(before, after):
            yield from _moved(one, other, (*path, str(n)), _name(one) or of)


def _in_object(before: Json, after: Json, path: Path, of: str) -> Iterator[MovedFigureDocument]:
    for name in dict.fromkeys((*before, *after)):
        one, other = before.get(name), after.get(name)
        if name in _TOLD_ELSEWHERE or one == other or f"{name}_mm" in before or f"{name}_mm" in after:
            continue
        if isinstance(one, dict | list) or isinstance(other, dict | list):
            yield from _moved(one, other, (*path, name), of)
            continue
        base = name.removesuffix("_mm")
        found: MovedFigureDocument = {
            "at": pointer((*path, name)), "of": of, "figure": base, "before": one, "after": other,
        }  # fmt: skip
        if base != name:
            found |= {"before": before.get(base), "after": after.get(base), "before_mm": one, "after_mm": other}
        yield found


def _pairs(before: Sequence[Any], after: Sequence[Any]) -> Iterator[tuple[int, Any, Any]]:
    """What is in both lists, with its place in the first."""
    ones, others = _named(before), _named(after)
    yield from ((n, one, others[key][1]) for key, (n, one) in ones.items() if key in others)


def _named(things: Sequence[Any]) -> dict[str, tuple[int, Any]]:
    """Each thing by its name; of several of one name the second is another."""
    found: dict[str, tuple[int, Any]] = {}
    for n, thing in enumerate(things):
        name, again = _name(thing) or str(n), 1
        while (key := f"{name}#{again}") in found:
            again += 1
        found[key] = (n, thing)
    return found


def _name(thing: object) -> str:
    return next((str(thing[name]) for name in _NAMES if name in thing), "") if isinstance(thing, dict) else ""


def things_of(answer: Json) -> list[ThingDocument]:
    """Everything in an answer that may come or go."""
    return [each for part in ("pieces", "hardware") for each in _things(part, answer[part])]


def _things(name: str, listed: Sequence[Json]) -> Iterator[ThingDocument]:
    for thing in listed:
        yield {"what": _THINGS[name], "id": _name(thing)}  # type: ignore[typeddict-item] # a value of that mapping
        for inner in _THINGS.keys() & thing.keys() - {"hardware"}:
            yield from _things(inner, thing[inner])


def reason_document(fault: Fault, units: Units) -> ReasonDocument:
    """Why something cannot be made: as a problem has it, without what only a caller's own document has."""
    told = fault_document(fault, units)
    found: ReasonDocument = {"pointer": pointer(fault.path), "code": fault.code, "detail": fault.detail}
    if "limit" in told:
        found["limit"] = told["limit"]
    if "found" in told:
        found["found"] = told["found"]
    if "limit_mm" in told and "found_mm" in told:
        found |= {"limit_mm": told["limit_mm"], "found_mm": told["found_mm"]}
    return found


def turned_checks(before: Sequence[CheckDocument], after: Sequence[CheckDocument]) -> list[TurnedCheckDocument]:
    """The rules that pass or fail otherwise, find something else or have another limit."""
    ones, others = ({each["rule"]: _side(each) for each in side} for side in (before, after))
    return [
        {"rule": rule, "before": ones.get(rule), "after": others.get(rule)}
        for rule in dict.fromkeys((*ones, *others))
        if ones.get(rule) != others.get(rule)
    ]


def _side(check: CheckDocument) -> CheckSideDocument:
    return {
        "passed": check["passed"],
        "value_mm": check["value_mm"],
        "value": check["value"],
        "limit_mm": check["limit_mm"],
        "limit": check["limit"],
        "at": check["at"],
    }
