"""What is said to people is a constant sentence with named values, said by `say`: a catalogue can stand behind it."""

import ast
import re
from pathlib import Path

import pytest

SERVICE = Path(__file__).parents[2] / "service"
SAYING = {"say": 1, "say_count": 2, "say_list": 0}
"""How many sentences each takes."""
PROSE = re.compile(r"[a-z]['’,;:.)]* | \(?[a-z]")
"""A space beside a small letter: neither an id (`body.joint.1`), nor path data, nor `3/4 × 1/2`."""
FOR_MACHINES = re.compile(r'="|</|max-age=|-src |;dur=|page=|^\w+ $')
"""Markup, the syntax of a header, of a link within a PDF, and the name of a library before its version."""
FOR_PROGRAMMERS = {"ValueError", "AssertionError", "TypeError"}
"""What only a mistake in this code raises in the core; elsewhere it is told to callers."""
CORE = ("strap", "workshop", "drawing", "shop", "forms")
"""Where those errors are only ever a mistake of ours."""
NO_SENTENCES = FOR_PROGRAMMERS | {"State"}
SAYERS = {SERVICE / "words.py", SERVICE / "door" / "pages" / "rendering.py"}
"""Who puts the values in."""
MARKUP = {SERVICE / "forms" / "svg.py", *(SERVICE / "drawing" / "fonts").glob("*.py")}
"""What writes for machines alone."""
FILES = sorted(set(SERVICE.rglob("*.py")) - SAYERS - MARKUP)


def glued(source, *, raises_to_callers=False):
    """The lines at which prose is put together otherwise than by `say`, or a sentence is not constant."""
    silent = NO_SENTENCES - (FOR_PROGRAMMERS if raises_to_callers else set())
    return sorted(set(_found(ast.parse(source), silent)))


def _found(node, silent):
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        if node.func.id in silent:
            return
        for sentence in node.args[: SAYING.get(node.func.id, 0)]:
            if not _is_constant(sentence):
                yield node.lineno
    if isinstance(node, ast.JoinedStr) and PROSE.search(_literal(node)) and not FOR_MACHINES.search(_literal(node)):
        yield node.lineno
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Mod) and any(map(_is_prose, _sides(node))):
        yield node.lineno
    if (_is_method(node, "format") and not _is_self(node.func.value)) or (
        _is_method(node, "join") and _is_prose(node.func.value)
    ):
        yield node.lineno
    for child in ast.iter_child_nodes(node):
        yield from _found(child, silent)


def _is_method(node, name):
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == name


def _is_self(node):
    return isinstance(node, ast.Name) and node.id == "self"


def _is_constant(sentence):
    """A text as it stands, one of two, or one of a table; never one that is put together."""
    if isinstance(sentence, ast.IfExp):
        return _is_constant(sentence.body) and _is_constant(sentence.orelse)
    return isinstance(sentence, ast.Constant | ast.Name | ast.Attribute | ast.Subscript | ast.Starred | ast.Call)


def _literal(joined):
    return "".join(each.value for each in joined.values if isinstance(each, ast.Constant))


def _sides(node):
    return node.left, node.right


def _is_prose(node):
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and bool(PROSE.search(node.value))


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SERVICE)))
def test_no_sentence_is_put_together(path):
    found = glued(path.read_text(encoding="utf-8"), raises_to_callers=path.relative_to(SERVICE).parts[0] not in CORE)
    assert not found, f"{path}: lines {found}"


@pytest.mark.parametrize(
    "source",
    [
        'f"cut the {piece}"',
        'f"{size} in"',
        '"cut the " + piece',
        '"cut the %s" % piece',
        '"cut the {piece}".format(piece=piece)',
        'say(f"cut the {piece}")',
        'say("cut the " + piece)',
        'say(f"{piece}")',
        'say_count("one hole", f"{n} holes", n)',
        '" and ".join(pieces)',
        'raise StrapError(f"no {piece} here")',
    ],
)
def test_each_way_of_putting_one_together_is_found(source):
    assert glued(source) == [1]


@pytest.mark.parametrize(
    "source",
    [
        'say("cut the {piece}", piece=piece)',
        'say("first" if head else "last")',
        "say(_SEAMS[purpose])",
        'f"{piece}.joint.{n}"',
        'f"C{x} {y} {z}"',
        'f"{length} × {width}"',
        '", ".join(pieces)',
        'raise ValueError(f"no {piece} here")',
        """f'<path fill="{colour}"/>'""",
        'f"public, max-age={seconds}"',
        'f"zlib {version}"',
        "self.format(record)",
    ],
)
def test_what_is_no_sentence_or_is_said_as_it_should_be_is_not(source):
    assert glued(source) == []
