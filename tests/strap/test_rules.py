"""Each rule says all that is to be said of it: words that it fills, a field to blame, a way for its cure."""

import string

import pytest

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Cure
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.remedies.cures import WAYS, WAYS_WITHOUT_FIGURE
from service.strap.remedies.spec_cures import WAYS_OF_A_SPEC
from service.strap.rules.checks import RULES, measure_rules

SHOP = demo_shop()
named = pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])


def test_no_two_rules_have_one_name():
    assert len({rule.name for rule in RULES}) == len(RULES)


def test_a_code_has_one_meaning():
    codes = {blame.code for rule in RULES for blame in rule.blames}
    assert len({code.name for code in codes}) == len(codes)


@pytest.mark.parametrize("document", examples().values(), ids=examples())
def test_whatever_is_measured_is_listed_with_its_family(document):
    """A rule that is not in its family's list has no line in the document, and its figure none in a shop file."""
    job = resolve(read_spec(document, "in"), SHOP)
    assert {measured.rule for measured in measure_rules(lay_out(job), job)} <= set(RULES)


@named
def test_a_sentence_fills_only_what_it_is_given(rule):
    given = {"what", "What", "found", "found_abs", "limit"}
    for text in (rule.sentence, rule.overlap):
        assert {name for _, name, _, _ in string.Formatter().parse(text) if name} <= given


@named
def test_something_is_to_blame_whatever_is_found(rule):
    *under_conditions, last = rule.blames
    assert all(blame.when for blame in under_conditions)
    assert last.when is None


def test_there_is_a_way_for_every_cure():
    ways = [*WAYS, *WAYS_WITHOUT_FIGURE, *WAYS_OF_A_SPEC]
    assert sorted(ways, key=list(Cure).index) == list(Cure)
