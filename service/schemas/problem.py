"""Parts of problem bodies (RFC 9457): faults with JSON pointers (RFC 6901), and remedies."""

from collections.abc import Iterable, Mapping
from typing import Any, TypeVar

from service.schemas.answers.problem import ChangeDocument, FaultDocument, RemedyDocument
from service.schemas.order_rows import RowFault
from service.schemas.readings import mm, read
from service.shop.shop import Units
from service.strap.errors import Fault, Path
from service.strap.model.spec_changes import Change
from service.strap.plane.lengths import exact_text
from service.strap.remedies.remedies import Remedy

_Key = TypeVar("_Key")


def pointer(path: Path) -> str:
    """A place in a document as a JSON pointer: `~` is written `~0` and `/` is written `~1`."""
    return "".join("/" + name.replace("~", "~0").replace("/", "~1") for name in path)


def fault_document(fault: Fault, units: Units) -> FaultDocument:
    """One fault: its place, code and sentence, and what was found against what is allowed."""
    found: FaultDocument = {"pointer": pointer(fault.path), "code": fault.code, "detail": fault.detail}
    if isinstance(fault, RowFault):
        found["row"] = fault.row
        if fault.column is not None:
            found["column"] = fault.column
    if fault.limit is not None:
        found["limit"] = read(fault.limit, units) if fault.is_length else fault.limit
        found |= {"limit_mm": mm(fault.limit)} if fault.is_length else {}
    if fault.found is not None:
        found["found"] = read(fault.found, units) if fault.is_length else fault.found
        found |= {"found_mm": mm(fault.found)} if fault.is_length else {}
    return found


def remedy_document(remedy: Remedy, document: object, units: Units) -> RemedyDocument:
    """One remedy: its sentence, and changes that apply to the caller's own `document`."""
    return {"detail": remedy.detail, "changes": _changes(remedy.changes, document, units)}


def _changes(changes: Iterable[Change], document: object, units: Units) -> list[ChangeDocument]:
    """Each change where its parent is in the document; else one that gives the missing parent whole."""
    values: dict[Path, Any] = {}
    for change in changes:
        parent, missing = _split(change.path, document)
        value = _value(change, units)
        if missing:
            _plant(_tree_at(values, parent), missing, value)
        else:
            values[parent] = value
    return [{"pointer": pointer(path), "value": value} for path, value in values.items()]


def _value(change: Change, units: Units) -> str | int | bool | None:
    """The value as JSON has it. `None`, which leaves a member unsaid, is null."""
    if change.is_length and isinstance(change.value, int):
        return exact_text(change.value, units)
    return change.value


def _split(path: Path, document: object) -> tuple[Path, Path]:
    """The place that can be set in this document, and the rest of the path, which the value has to hold."""
    here = document
    for depth, name in enumerate(path[:-1], start=1):
        here = under(here, name)
        if not isinstance(here, Mapping | list):
            return path[:depth], path[depth:]
    return path, ()


def under(document: object, name: str) -> object:
    """What stands under a name, or at a place in a list; nothing where there is no such place."""
    if isinstance(document, list):
        return document[int(name)] if name.isdecimal() and int(name) < len(document) else None
    return document.get(name) if isinstance(document, Mapping) else None


def _plant(tree: dict[str, Any], path: Path, value: object) -> None:
    for name in path[:-1]:
        tree = _tree_at(tree, name)
    tree[path[-1]] = value


def _tree_at(tree: dict[_Key, Any], key: _Key) -> dict[str, Any]:
    """What is held there; begun anew where that is nothing yet, or a word that said it in short."""
    if not isinstance(tree.get(key), dict):
        tree[key] = {}
    inner: dict[str, Any] = tree[key]
    return inner
