"""Every regular expression of the service, how it is used, and the inputs that such things are known to choke on."""

import ast
import importlib
import importlib.util
import pkgutil
import re
from collections import deque
from collections.abc import Callable, Iterator
from pathlib import Path

import service

ROOT = Path(service.__file__).parent
WAYS: dict[str, Callable[[re.Pattern, str | bytes], object]] = {
    "fullmatch": lambda pattern, text: pattern.fullmatch(text),
    "match": lambda pattern, text: pattern.match(text),
    "search": lambda pattern, text: pattern.search(text),
    "split": lambda pattern, text: pattern.split(text),
    "sub": lambda pattern, text: pattern.sub(text[:0], text),
    "finditer": lambda pattern, text: deque(pattern.finditer(text), maxlen=0),
}
PIECES = (
    "0", "a", "A", " ", "\t", "\n", "\u2003", ".", ",", "-", "_", "/", "~", '"', "\\", "(", "[", "{", "`", ";", "½",
    "0.", ".0", "0 ", " 0", "0-", "0/", "0 /", "a ", "a.", "/a", "~1", '\\"', '"\\', '"a', '""', "[]", "{}", "`a",
    "\\ud", "\\u", "a1", "/*", "e1", "1e", "()", "(1)", "scale(", "scale(1)", "scale(1) ", "scale(1) ,", "scale (",
    "url(#a", " url(#a)", "rgb(1,", "#a", "00-", "x:1", "http://a.", "redis://", " 1/2", "≈ ", "in ",
    "/Root ", "/Root 1",
)  # fmt: skip
"""Repeated: matching, half matching, and such as can be read in several ways."""
ENDS = ("", "!", "\x00", '"', ")")
"""What comes last, so that all before it may have to be read anew."""


def sources() -> Iterator[tuple[str, ast.Module]]:
    """Every module of the service by name, parsed."""
    for module in pkgutil.walk_packages([str(ROOT)], "service."):
        if module.name != "service.wsgi":  # makes an app of the environment when it is imported
            found = importlib.util.find_spec(module.name)
            yield module.name, ast.parse(Path(found.origin).read_text(encoding="utf-8"))


def patterns() -> dict[str, tuple[re.Pattern, set[str]]]:
    """Each compiled expression by its module and name, with the ways in which it is used there."""
    found = {}
    for name, tree in sources():
        for key, value in vars(importlib.import_module(name)).items():
            for label, each in _within(key, value):
                found.setdefault(id(each), (f"{name}.{label}", each, set()))[2].update(_ways(tree, key))
    return {label: (each, ways or {"fullmatch"}) for label, each, ways in found.values()}


def _within(key: str, value: object) -> Iterator[tuple[str, re.Pattern]]:
    if isinstance(value, re.Pattern):
        yield key, value
    elif isinstance(value, dict):
        yield from ((f"{key}.{name}", each) for name, each in value.items() if isinstance(each, re.Pattern))


def _ways(tree: ast.Module, name: str) -> Iterator[str]:
    """The methods that a module calls on a name."""
    for node in ast.walk(tree):
        match node:
            case ast.Attribute(ast.Name(owner), method) if owner == name and method in WAYS:
                yield method


def nasty(pattern: re.Pattern) -> Iterator[Callable[[int], str | bytes]]:
    """Makers of a text of a size, of each piece with each end."""
    encode: Callable[[str], str | bytes] = str.encode if isinstance(pattern.pattern, bytes) else str
    for piece in PIECES:
        for end in ENDS:
            yield lambda size, piece=piece, end=end: encode(piece * (size // len(piece.encode())) + end)
