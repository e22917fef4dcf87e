"""The comparison of two versions tells what became otherwise, and nothing of what did not."""

import json

import pytest

from openapi.example_requests import examples
from tests.comparing.differing import Answer, differs
from tests.comparing.versions import ROOT, answers_of, tree_at

_FAULT = {"pointer": "/ornaments/count", "code": "ornaments_crowded", "detail": "They overlap."}
MADE = {"code": "a", "finished": {"length": "10 in"}, "steps": [1, 2], "cautions": ["Mind your eyes."]}
REFUSED = {"code": "cannot_be_made", "detail": "They overlap.", "errors": [_FAULT], "remedies": [{"detail": "Fewer."}]}


def answer(document, status=200):
    return Answer(status, json.dumps(document))


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (answer(MADE), answer(MADE | {"code": "b", "sealed": "c"}), ()),
        (answer(MADE), answer(MADE | {"steps": [1]}), ("other steps",)),
        (answer(MADE), answer(MADE | {"finished": {}, "materials": {}}), ("other finished", "other materials")),
        (answer(MADE), answer(REFUSED, 422), ("now refused",)),
        (answer(REFUSED, 422), answer(MADE), ("now made",)),
        (answer(REFUSED, 422), answer(REFUSED | {"remedies": []}, 422), ("other remedies",)),
        (answer(REFUSED, 422), answer(REFUSED | {"errors": []}, 422), ("other faults",)),
        (answer(REFUSED, 422), answer(REFUSED | {"detail": "No."}, 422), ("faults told otherwise",)),
        (Answer(200, "<svg/>"), Answer(200, "<svg>"), ("other text",)),
    ],
)
def test_what_differs_is_told_by_its_kind(before, after, told):
    assert differs(before, after) == told


def test_two_trees_are_asked_the_same_and_answer_for_themselves():
    """The tree of the last commit, and this one, each by a process of its own."""
    spec = examples()["shortest_open"]
    asked = [
        {"path": "/v1/patterns", "accept": "application/json", "spec": spec},
        {"path": "/v1/patterns", "accept": "application/json", "spec": {"construction": "open"}},
    ]
    with tree_at("HEAD") as before:
        found = [answers_of(tree, asked) for tree in (before, ROOT)]
    assert [[each.status for each in answers] for answers in found] == [[200, 422], [200, 422]]
    assert all(answers[0].document["spec"]["construction"] == "open" for answers in found)
