"""The comparison of two versions tells what became otherwise, and nothing of what did not."""

import json

import pytest

from openapi.example_requests import examples
from tests.comparing.__main__ import KINDS, questions
from tests.comparing.differing import Answer, differs
from tests.comparing.page import Found, chosen, write_page
from tests.comparing.questions import Change, Question
from tests.comparing.shops import WITHOUT_DESIGNS, as_often
from tests.comparing.versions import answers_of_both, tree_at

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
        (answer(REFUSED, 422), answer(REFUSED | {"code": "not_valid"}, 422), ("other faults",)),
        (answer(REFUSED, 422), answer(REFUSED | {"detail": "No."}, 422), ("faults told otherwise",)),
        (Answer(200, "<svg/>"), Answer(200, "<svg>"), ("other text",)),
    ],
)
def test_what_differs_is_told_by_its_kind(before, after, told):
    assert differs(before, after) == told


def test_two_trees_are_asked_the_same_and_answer_for_themselves():
    """The tree of the last commit, and this one, each by a process of its own."""
    no_leather: Change = {"way": ["leathers"], "value": {}}
    asked = [
        Question(body=examples()["shortest_open"]).asked,
        Question(body={"construction": "open"}).asked,
        Question(path="/v1/shop", shop=(WITHOUT_DESIGNS, {"way": ["shop", "name"], "value": "The other bench"})).asked,
        Question(path="/v1/shop", shop=(no_leather,)).asked,
        Question(path="/v1/shop", shop=({"way": ["rules", "unheard_of"]},)).asked,
    ]
    with tree_at("HEAD") as before:
        found = answers_of_both(before, asked)
    assert [[each.status for each in answers] for answers in found] == [
        [200] * 2,
        [422] * 2,
        [200] * 2,
        [0] * 2,
        [0] * 2,
    ]
    for pattern, _, shop, empty, unheard_of in zip(*found, strict=True):
        assert pattern.document["spec"]["construction"] == "open"
        assert shop.document["name"] == "The other bench"
        assert "leathers" in empty.document["text"]
        assert unheard_of.document["text"] == "KeyError: 'unheard_of'"


def test_every_question_has_a_name_of_its_own_and_a_share_of_them_is_the_same_each_time():
    for kind, of_kind in KINDS.items():
        by_name = dict(of_kind(1000))
        assert all(by_name[name] == question for name, question in of_kind(1000))
        every = [name for name, _ in questions(kind, 1000)]
        some = [name for name, _ in questions(kind, 100)]
        assert set(some) <= set(every)
        assert len(some) > 0
        assert len(some) < len(every) or kind in ("examples", "words")


@pytest.mark.parametrize(
    ("value", "times", "found"),
    [("1/4 in", 3, "3/4 in"), ("1 1/2 in", 2, "3 in"), ("0.5 mm", 8, "4.0 mm"), ("0 mm", 2, "4.0 mm"), (4, 2, 8),
     ("0.10", 2, "0.2"), ("ruler", 2, None), (True, 2, None)],
)  # fmt: skip
def test_a_rule_is_taken_so_many_times(value, times, found):
    assert as_often(value, times) == found


def test_the_page_shows_one_of_each_kind_before_the_second_of_any():
    one, other = answer(MADE), answer(REFUSED, 422)
    found = [Found("odd_straps", f"{n}", Question(), one, other, ("now refused",)) for n in range(3)]
    found.append(Found("words", "a length", Question(), other, one, ("now made",)))
    assert [each.name for each in chosen(found, 3)] == ["0", "a length", "1"]


def test_the_page_has_what_was_asked_and_what_became_otherwise(tmp_path):
    shop, other = Question(path="/v1/shop"), answer(MADE | {"finished": {"length": "12 in"}})
    found = [
        Found("words", "a <length>", shop, answer(MADE), other, ("other finished",)),
        Found("words", "another", shop, answer(MADE), answer(REFUSED, 422), ("now refused",)),
    ]
    text = write_page(tmp_path / "page.html", found, tmp_path).read_text()
    assert "a &lt;length&gt;" in text
    assert "words: other finished" in text
    assert "-length: 10 in\n+length: 12 in" in text
    assert "-made\n+== code\n+cannot_be_made" in text
