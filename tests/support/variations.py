"""Small changes of a document, each with a name: what a caller may send by mistake, or try next."""

import copy
import json
import re
from collections.abc import Iterator
from typing import Any

from openapi.build import DOCUMENT
from service.schemas.problem import pointer

DOCUMENTED = json.loads(DOCUMENT.read_text(encoding="utf-8"))["components"]["schemas"]
ENUMS = [
    {value for value in json.loads(each) if value is not None}
    for each in re.findall(r'"enum": (\[[^\]]*\])', DOCUMENT.read_text(encoding="utf-8"))
]
ANY_TYPE = (True, 7, "x", [], {})
NUMBERS = (0, -1, 1, 101, 5000, 2.5, "5")
LENGTHS = ("0", "-1 in", "1/0", "12 qq", "1 in", "7/16 in", "40.5 mm", "900 in", "", True)
Path = tuple[str | int, ...]


def variations(document: Any, ids: list[list[str]], schema: str = "") -> Iterator[tuple[str, str, Any]]:
    """Pointer, what was done there, and the document so changed; every member in turn.

    `ids` are families of names of which any other may stand for one. With a `schema` of the OpenAPI document
    every member that is not there is added in turn as well, in every type.
    """
    for path, value in leaves(document):
        for other in others(value, ids):
            yield pointer(map(str, path)), json.dumps(other), changed(document, path, other)
        yield pointer(map(str, path)), "left out", without(document, path)
    for path, holder in objects(document):
        yield pointer(map(str, path)), "one more", changed(document, (*path, "unheard_of"), 1)
        for name in sorted(members(schema, path) - set(holder)) if schema else ():
            for other in ANY_TYPE:
                yield pointer(map(str, (*path, name))), json.dumps(other), changed(document, (*path, name), other)


def others(value: Any, ids: list[list[str]]) -> list[Any]:
    """What may stand there instead: values like it, and values that are wrong there."""
    if isinstance(value, bool):
        return [not value, "yes"]
    if isinstance(value, (int, float)):
        return [*NUMBERS, value + 1, value - 1, value * 2]
    families = [family for family in [*ids, *map(sorted, ENUMS)] if value in family]
    if families:
        return [each for each in families[0] if each != value] + [value + "s", 3, None]
    return [each for each in LENGTHS if each != value] + [[value], None]


def leaves(part: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every plain value with the way to it."""
    inside = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else None
    if inside is None:
        yield path, part
        return
    for name, value in inside:
        yield from leaves(value, (*path, name))


def objects(part: Any, path: Path = ()) -> Iterator[tuple[Path, dict[str, Any]]]:
    """Every object with the way to it."""
    if isinstance(part, dict):
        yield path, part
    inside = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()
    for name, value in inside:
        yield from objects(value, (*path, name))


def members(schema: str, path: Path) -> set[str]:
    """The members that the OpenAPI document knows of the object at a path."""
    here = [DOCUMENTED[schema]]
    for name in path:
        here = [below for each in here for below in inner(each, name)]
    return {name for each in here for name in plain(each).get("properties", {})}


def inner(schema: dict, name: str | int) -> list[dict]:
    found = plain(schema)
    if "anyOf" in found:
        return [below for each in found["anyOf"] for below in inner(each, name)]
    if isinstance(name, int):
        return [found["items"]] if "items" in found else []
    below = found.get("properties", {}).get(name)
    return [below] if below else []


def plain(schema: dict) -> dict:
    return DOCUMENTED[schema["$ref"].rpartition("/")[2]] if "$ref" in schema else schema


def changed(document: Any, path: Path, value: Any) -> Any:
    """The document with one value changed, or added."""
    document, holder = copied(document, path)
    holder[path[-1]] = value
    return document


def without(document: Any, path: Path) -> Any:
    """The document without one value."""
    document, holder = copied(document, path)
    del holder[path[-1]]
    return document


def copied(document: Any, path: Path) -> tuple[Any, Any]:
    """A copy of the document, and what in it holds the value at the path."""
    document = copy.deepcopy(document)
    holder = document
    for name in path[:-1]:
        holder = holder[name]
    return document, holder
