"""How many of a kind are tried: a few in `tests/run`, many in `tests/heavy properties`."""

import os
from typing import TypeVar

IS_THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
"""Whether the many are."""
Number = TypeVar("Number")


def few_or(few: Number, many: Number) -> Number:
    """The few, or the many where that is asked for."""
    return many if IS_THOROUGH else few
