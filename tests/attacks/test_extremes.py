"""Examples spoiled in several places at once, by the largest, the smallest and the oddest values: answered, always."""

import random

import pytest

from openapi.example_requests import examples
from tests.support.variations import changed, leaves, members, objects

VALUES = [
    10**6, 999_999, 3001, 201, 200, 0, "0.001 in", "0", "300 in", "1/64 in", "20 in", None, True, [], {}, "spot_6",
    "bell_38", "concho_25", [None], ["bell_25"] * 40, {"item": "spot_6", "per_gap": 1000}, {"pitch": "0.01 in"},
    {"count": 3, "across": "staggered"}, "round", "square",
]  # fmt: skip


def spoiled(document, dice):
    """The document with one of its values, or a member more, set to one of the values."""
    if dice.random() < 0.6:
        held = list(leaves(document))
        if not held:  # all that it said was spoilt before
            return document
        path = dice.choice(held)[0]
    else:
        holder = dice.choice([path for path, _ in objects(document)])
        known = sorted(members("Spec", holder))
        if not known:
            return document
        path = (*holder, dice.choice(known))
    return changed(document, path, dice.choice(VALUES))


@pytest.mark.parametrize("name", examples())
def test_a_spoiled_example_is_made_or_refused(name, client):
    dice = random.Random(name)
    for _ in range(60):
        document = examples()[name]
        for _ in range(dice.randint(1, 3)):
            document = spoiled(document, dice)
        answer = client.post("/v1/patterns", json=document)
        assert answer.status_code in (200, 422), document
