"""An answer by sections says all that the answer says."""

import pytest

from openapi.example_requests import examples
from tests.support.sections import sections
from tests.support.variations import changed, leaves


def test_an_answer_is_read_by_sections():
    """By hand: a heading a member, a line a thing, what the line is about at its head, both readings of a length."""
    document = {
        "finished": {"length": "≈ 6.4 mm", "length_mm": 6.35, "holes": [{"hole": 1, "fits": "34 mm", "fits_mm": 34.0}]},
        "steps": [
            {"op": "cut", "n": 1, "do": "Cut.", "after": [], "uses": [{"item": "knife", "count": 1}]},
            {"op": "punch", "n": 2, "do": "Punch.", "after": [1], "done": True},
        ],
        "cautions": ["Mind your eyes."],
    }  # fmt: skip
    assert sections(document) == (
        "== finished\nlength: ≈ 6.4 mm (6.35)\nholes:\n  hole 1 · fits 34 mm (34.0)\n\n"
        "== steps\n1 · Cut. · op cut\n  uses:\n    item knife · count 1\n"
        "2 · Punch. · op punch · after [1] · done true\n\n"
        "== cautions\nMind your eyes.\n\n"
    )


@pytest.mark.parametrize("name", ["lined_bag_strap", "dog_collar_lead_ring"])
def test_nothing_that_is_said_can_change_unseen(name, client):
    """Every seventh value of a whole answer is made another."""
    document = client.post("/v1/patterns", json=examples()[name]).json
    before = sections(document)
    for path, _ in list(leaves(document))[::7]:
        assert sections(changed(document, path, "another")) != before
