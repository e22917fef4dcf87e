"""What a shop works by and charges, as one digest: where it is the same, so is every pattern and every price."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

_LOOKS = frozenset({"title", "tax_title", "colour", "edge_colour", "picture"})
"""Members of goods and prices that change how an answer reads or looks, but no measure, count or amount."""

_LATER = frozenset({"prongs_apart"})
"""Members of goods that came later: where there is nothing of them a shop is known by the digest that it had."""


def terms_digest(terms: Mapping[str, object]) -> str:
    """Hexadecimal SHA-256 of dataclasses, mappings and numbers by name, but for titles, colours and pictures.

    The order of goods counts, since the first that fits is taken; how a number is written does not.
    """
    return hashlib.sha256(json.dumps(_plain(terms)).encode()).hexdigest()


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        said = {each.name: getattr(value, each.name) for each in fields(value) if each.name not in _LOOKS}
        said |= said.pop("own", {})
        said = {name: each for name, each in said.items() if each or name not in _LATER}
        return [type(value).__name__, {name: _plain(each) for name, each in said.items()}]
    if isinstance(value, Mapping):
        return [[name, _plain(each)] for name, each in value.items()]
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return f"{value.normalize():f}" if isinstance(value, Decimal) else value
