"""An answer as a reviewer reads it: a section for each of its members, a line for each thing in it.

Everything that is said stands there but empty lists, and a length and its millimetres share a place: `length ≈ 6.4 mm
(6.35)`. Long lines are left long, so that a change of one thing is a change of one line.
"""

from collections.abc import Iterator
from typing import Any

_FIRST = ("n", "do", "rule", "detail", "title", "name", "ref", "id")
"""Members that tell what a line is about: they stand at its head without their names."""
_INDENT = "  "


def sections(document: dict[str, Any]) -> str:
    """The members of a document in its own order."""
    return "".join(f"== {name}\n{''.join(_lines(value, ''))}\n" for name, value in document.items())


def _lines(value: Any, indent: str) -> Iterator[str]:
    """What a member holds: each thing of a list, or each member of an object, on its own line."""
    if isinstance(value, list):
        for each in value:
            yield from _thing(each, indent)
    elif isinstance(value, dict):
        for name, each in _paired(value):
            yield from _member(name, each, indent)
    else:
        yield f"{indent}{_plain(value)}\n"


def _member(name: str, value: Any, indent: str) -> Iterator[str]:
    if _is_flat(value):
        if value not in ([], {}):
            yield f"{indent}{name}: {_flat(value)}\n"
    else:
        yield f"{indent}{name}:\n"
        yield from _lines(value, indent + _INDENT)


def _thing(value: Any, indent: str) -> Iterator[str]:
    """An object of a list: what is short on one line, lists of objects below it."""
    if not isinstance(value, dict):
        yield f"{indent}{_flat(value)}\n"
        return
    members = list(_paired(value))
    head = [_plain(value[name]) for name in _FIRST if name in value]
    short = [f"{name} {_flat(each)}" for name, each in members if name not in _FIRST and _says(each)]
    yield f"{indent}{' · '.join([*head, *short])}\n"
    for name, each in members:
        if name not in _FIRST and not _is_flat(each):
            yield from _member(name, each, indent + _INDENT)


def _says(value: Any) -> bool:
    """Whether it is short, and not empty."""
    return _is_flat(value) and value not in ([], {})


def _paired(members: dict[str, Any]) -> Iterator[tuple[str, Any]]:
    """Each member; the one that says its millimetres along with it."""
    for name, value in members.items():
        if name.endswith("_mm") and name.removesuffix("_mm") in members:
            continue
        both = f"{name}_mm" in members and not isinstance(value, list | dict)
        yield name, f"{_plain(value)} ({_plain(members[f'{name}_mm'])})" if both else value


def _is_flat(value: Any) -> bool:
    """Whether it is plain, or made of what is plain alone."""
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return not any(isinstance(each, dict) or (isinstance(each, list) and isinstance(value, list)) for each in inner)


def _flat(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{name} {_flat(each)}" for name, each in _paired(value)) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flat, value)) + "]"
    return _plain(value)


def _plain(value: Any) -> str:
    """A text as it is, all else as JSON has it."""
    words = {True: "true", False: "false", None: "null"}
    return str(value) if isinstance(value, int | float | str) and not isinstance(value, bool) else words[value]
