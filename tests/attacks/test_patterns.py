"""Every regular expression takes time in proportion to what it reads, whatever that is: `tests/heavy linear`."""

import ast

import pytest

from tests.attacks.growth import assert_all_linear
from tests.attacks.patterns import WAYS, nasty, patterns, sources

FOUND = patterns()
AT_A_DOOR = {"service.door.clean_paths"}
"""Modules that make their expression of the route table: what they read is tried in `test_linear.py`."""


def test_every_expression_is_found():
    """An expression that is written where it is used, or compiled inside a function, would be in no table."""
    for name, tree in ((name, tree) for name, tree in sources() if name not in AT_A_DOOR):
        at_the_top = {
            id(part) for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign) for part in ast.walk(node)
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "re":
                assert node.attr in ("Match", "Pattern", "DOTALL", "VERBOSE", "IGNORECASE", "ASCII", "compile"), (
                    name,
                    node.lineno,
                )
                assert node.attr != "compile" or id(node) in at_the_top, (name, node.lineno)
    assert {"service.schemas.json_text._BRACKETS", "service.strap.plane.length_text._FIGURE"} <= set(FOUND)
    assert FOUND["service.schemas.json_text._BRACKETS"][1] == {"finditer"}


@pytest.mark.timed
@pytest.mark.parametrize("name", sorted(FOUND))
def test_an_expression_is_linear(name):
    pattern, ways = FOUND[name]
    for way in sorted(ways):

        def use(text, way=way):
            WAYS[way](pattern, text)

        assert_all_linear(use, nasty(pattern))
