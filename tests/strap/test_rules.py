"""Each rule says all that is to be said of it: words that it fills, a field to blame, a formula for its limit."""

import ast
import string
from math import hypot, pi, sqrt

import pytest

from openapi import rules as rules_document
from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop.figures import figures_of
from service.shop.shop import Rules
from service.shop_file import demo_shop
from service.strap.errors import Cure
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.remedies.cures import WAYS
from service.strap.rules.checks import RULES, measure_rules

SHOP = demo_shop()
FUNCTIONS = {"min": min, "max": max, "abs": abs, "hypot": hypot, "sqrt": sqrt, "pi": pi}
FIGURES = figures_of(Rules).keys()
OWN = {rule.figure.name: rule.figure for rule in RULES if rule.figure}
named = pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])


def names(expression: str) -> set[str]:
    return {node.id for node in ast.walk(ast.parse(expression, mode="eval")) if isinstance(node, ast.Name)}


def test_no_two_rules_have_one_name():
    assert len({rule.name for rule in RULES}) == len(RULES)


def test_a_code_has_one_meaning():
    codes = {blame.code for rule in RULES for blame in rule.blames}
    assert len({code.name for code in codes}) == len(codes)


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
    assert set(WAYS) == set(Cure)


@named
def test_a_formula_explains_every_name_in_it(rule):
    """The shop's figures explain themselves, by the shop file; no term is explained that is not in the formula."""
    used = (names(rule.formula.found) | names(rule.formula.limit)) - FUNCTIONS.keys()
    assert set(rule.formula.terms) == used - FIGURES - OWN.keys()


def terms_of(job) -> dict[str, float]:
    """What the goods and the spec of a job put into the limits."""
    terms = {name: getattr(job.rules, name) for name in FIGURES} | {
        name: job.rules.of(own) for name, own in OWN.items()
    }
    terms |= {"grip_min": job.fastener.grip_min, "grip_max": job.fastener.grip_max, "keeper": job.keeper_width}
    terms |= {"half_hold": job.fold_half, "fold": job.fold_thickness}
    terms |= {"strip_length": job.leather.strip_length, "usable_width": job.leather.usable_width}
    if job.buckle:
        terms |= {"bar_to_heel": job.buckle.bar_to_heel, "bar_to_frame": job.buckle.bar_to_frame}
        terms |= {"bar": job.buckle.bar_thickness}
    if job.head.collar_ring:
        terms["ring_thickness"] = job.head.collar_ring.thickness
    return {name: float(value) for name, value in terms.items()}


def limits_by_formula():
    """Every rule whose limit follows from shop, goods and spec alone, in every example that measures it."""
    for name, document in examples().items():
        job = resolve(read_spec(document, SHOP.defaults.units), SHOP)
        terms, measures = terms_of(job), measure_rules(lay_out(job), job)
        for rule, check, kinds, _ in measures:
            known = names(rule.formula.limit) <= terms.keys() | FUNCTIONS.keys()
            of_other_goods = rule.name.startswith(("post_grip", "fastener_grip")) and kinds != ("joint",)
            of_lining = rule.name.startswith("strip") and kinds == ("lining",)
            if known and not of_other_goods and not of_lining:
                yield name, rule, check, terms


def test_the_formula_gives_the_limit_that_was_measured_by():
    """Worked out by Python from the formula's text and the shop's figures alone."""
    seen = set()
    for name, rule, check, terms in limits_by_formula():
        limit = eval(rule.formula.limit, {"__builtins__": {}}, FUNCTIONS | terms)
        assert abs(limit - check.limit) <= 2, (name, rule.name)
        seen.add(rule.name)
    assert len(seen) >= 20


def test_the_document_of_the_rules_is_what_they_say():
    """After a change of a rule: `python -m openapi.build`."""
    assert rules_document.DOCUMENT.read_text(encoding="utf-8") == rules_document.text()
