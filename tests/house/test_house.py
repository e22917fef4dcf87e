"""The house keeps its shape: short files, small functions, a tree that is the one in the docs."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = sorted((ROOT / "service").rglob("*.py")) + sorted((ROOT / "openapi").rglob("*.py"))
MOST_LINES_OF_A_FILE = 400
MOST_LINES_OF_A_FUNCTION = 60


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT)))
def test_files_are_short_and_functions_small(path):
    text = path.read_text(encoding="utf-8")
    assert text.count("\n") <= MOST_LINES_OF_A_FILE
    long = [
        f"{node.name} has {node.end_lineno - node.lineno + 1} lines"
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno - node.lineno + 1 > MOST_LINES_OF_A_FUNCTION
    ]
    assert long == []


def test_the_tree_in_the_docs_is_the_real_one():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    block = text[text.index("```\nservice/") : text.index("```\n\nEach layer")]
    shown = {name.rstrip("/") for name in re.findall(r"^  (\S+)", block, re.MULTILINE)}
    real = {
        path.name
        for path in (ROOT / "service").iterdir()
        if path.name not in ("__init__.py", "__pycache__") and not path.name.endswith(".pyc")
    }
    assert shown == real


@pytest.mark.parametrize("top", ["service", "openapi", "tests", "deploy"])
def test_no_test_or_module_is_empty(top):
    empty = [path for path in (ROOT / top).rglob("*.py") if not path.read_text(encoding="utf-8").strip()]
    assert empty == []


def test_a_layer_says_what_it_is_where_it_begins():
    packages = (ROOT / "service").rglob("__init__.py")
    silent = [path for path in packages if not ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))]
    assert silent == []


NOT_HALF_WAY = {"service/schemas/json_text.py": 1}
"""Possessive groups whose parts fail at their first character or not at all."""


def test_no_expression_has_a_possessive_group():
    """Where one fails half-way, Python 3.11.2, which Debian 12 has, goes on from there (cpython, gh-101955)."""
    found = {str(path.relative_to(ROOT)): len(re.findall(r"\)[?*+]\+", path.read_text())) for path in SOURCES}
    assert {path: count for path, count in found.items() if count} == NOT_HALF_WAY
