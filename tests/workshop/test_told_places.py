"""Which holes meet, and from which end a thing is slipped on: as a maker reads the pattern (common practice)."""

import pytest

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.strap.solve import solve
from service.workshop.steps import steps
from tests.workshop.test_walker import answer_for


def told(name, op, shop):
    """The sentences of one operation for one of the examples."""
    return [step.do for step in steps(solve(read_spec(examples()[name], "in"), shop), shop) if step.op == op]


@pytest.mark.parametrize(
    ("part", "here", "there"),
    [
        # Its holes lie 1 and 2 in before its own rounded end, worked by hand on the pattern.
        ("buckle billet", "6 1/4 in and 7 1/4 in", "3/4 in and 1 3/4 in"),
        # The body is 30 in long: 1 3/4 and 3/4 in before its end.
        ("tongue billet", "3/4 in and 1 3/4 in", "28 1/4 in and 29 1/4 in"),
    ],
)
def test_the_holes_that_meet_are_named(part, here, there, shop):
    (sentence,) = [each for each in told("parade_harness_strap", "rivet", shop) if part in each and "body" in each]
    assert sentence.endswith(f"its holes at {here} on the body's at {there}.")
    assert f"the {part}, grain side up" in sentence


def test_a_ring_and_a_keeper_are_slipped_on_from_the_end_that_will_be_the_tail(shop):
    ring, keeper = told("dog_collar_lead_ring", "slip", shop)
    assert ring.startswith("From the strap's end at 0 ")
    assert ring.endswith(", past the fold, to between 4 3/4 in and 5 3/4 in.")
    assert keeper == "From the strap's end at 0 slip on the closed keeper, past the fold."
    (fold,) = told("dog_collar_lead_ring", "fold", shop)
    assert fold.endswith("pass the tail through the keeper and not through the ring.")


@pytest.mark.parametrize("head", [{"kind": "ring"}, {"kind": "buckle", "keeper": "none"}, {"kind": "buckle"}])
def test_a_keeper_is_slipped_on_from_the_end_that_is_folded_after_it(head):
    """Common practice: a closed loop passes no buckle, so it comes on from its own open end."""
    ends = {"head": head, "foot": {"kind": "buckle"}}
    answer = answer_for(read_spec({"construction": "two_ends", "size": {"body_length": "30"}, "ends": ends}, "in"))
    pieces = {piece["name"]: piece for piece in answer["pieces"]}
    places = {"keeper": "0", "head_keeper": "0", "foot_keeper": pieces["strap"]["length"]}
    slipped = {step["pieces"][-1]: step["do"] for step in answer["steps"] if step["op"] == "slip"}
    assert set(slipped) == set(pieces) & set(places)
    assert all(f"end at {places[name]} slip on" in told for name, told in slipped.items())
