"""Every remedy works when its changes are made to the caller's own document (the contract)."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.app import create_app
from service.schemas.spec import spec_document
from service.settings import Settings
from tests.support.door import GOOD, REFUSED
from tests.support.straps import specs

CLIENT = create_app(Settings()).test_client()
ANY_SPEC = st.sampled_from(["three_piece", "one_piece", "open"]).flatmap(specs)


BUCKLED_BUT_OPEN = {
    "units": "in",
    "construction": "open",
    "worn_by": "object",
    "size": {"body_length": "84 1/64"},
    "ends": {"head": {"kind": "buckle", "hold": "stitches", "keeper": "fixed"}, "foot": {"kind": "tip"}},
    "border": [{"item": "spot_10", "inset": "1/8", "step": "3/8"}] * 12,
}
"""Ends of kinds that no open strap has: without their kinds alone, their other members would have no meaning."""
TOO_LONG_AND_TO_BE_SPLICED = {
    "construction": "two_ends",
    "worn_by": "person",
    "size": {"girth": "692"},
    "body": {"width": "1 1/2"},
    "ends": {
        "head": {"kind": "snap", "half": "stud", "count": 2, "spacing": "3/4"},
        "foot": {"kind": "snap", "half": "cap"},
    },
    "ornaments": {"item": "bell_25", "count": 3},
    "between": [{"item": "concho_25", "per_gap": 10}] * 2,
    "leather": "latigo_6_7",
}
"""Its remedy says splices by a word first, and then their count."""


def applied(document, changes):
    """The document with each change made as RFC 6902's `add` does it: the parent has to be there."""
    document = json.loads(json.dumps(document))  # what stands twice in a list is two things
    for change in changes:
        *parents, last = [name.replace("~1", "/").replace("~0", "~") for name in change["pointer"].split("/")[1:]]
        here = document
        for name in parents:
            here = here[place(here, name)]
        here[place(here, last)] = change["value"]
    return document


def place(parent, name):
    """A name, or a place in a list (RFC 6901)."""
    return int(name) if isinstance(parent, list) else name


def refused(document):
    answer = CLIENT.post("/v1/patterns", json=document)
    return answer.json if answer.status_code == 422 else None


@pytest.mark.parametrize(
    "spec",
    [
        REFUSED,
        GOOD["parade_harness_strap"] | {"border": {"item": "spot_6", "inset": "1/4", "step": "1"}},
        GOOD["shortest_three_piece"] | {"body": {"width": "3/4 in"}, "billet": {"width": "1 in"}},
        GOOD["dancers_bell_garter"] | {"billet": {"buckle": "heel_bar_38"}},
        GOOD["door_hanging"] | {"ornaments": {"item": "bell_38", "count": 40, "spacing": {"pitch": "1 in"}}},
        GOOD["shortest_open"] | {"size": {"body_length": "900 in"}},
        GOOD["shortest_three_piece"] | {"leather": "no_such_leather"},
        BUCKLED_BUT_OPEN,
        TOO_LONG_AND_TO_BE_SPLICED,
        GOOD["shortest_three_piece"] | {"joint": {"fastener": "double_cap_small"}},
    ],
)
def test_these_refusals_have_remedies_that_work(spec):
    remedies = refused(spec)["remedies"]
    assert remedies
    for remedy in remedies:
        assert refused(applied(spec, remedy["changes"])) is None, remedy


@pytest.mark.slow
@settings(max_examples=60)
@given(ANY_SPEC)
def test_every_remedy_of_any_refusal_works(spec):
    document = spec_document(spec, spec.units or "in")
    problem = refused(document)
    for remedy in problem["remedies"] if problem else ():
        assert refused(applied(document, remedy["changes"])) is None, remedy


@settings(max_examples=30)
@given(ANY_SPEC)
def test_every_pointer_of_a_fault_names_a_member_of_the_spec(spec):
    """A fault may stand at a member that was left unsaid; what holds it is never a text or a number."""
    document = spec_document(spec, spec.units or "in")
    problem = refused(document)
    for fault in problem["errors"] if problem else ():
        here = document
        for name in fault["pointer"].split("/")[1:]:
            assert isinstance(here, dict | list), fault
            here = here[int(name)] if isinstance(here, list) else here.get(name, {})
