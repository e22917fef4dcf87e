"""The chapter on rules: each has a meaning, a formula, a source and a figure, which is true to what it shows."""

import re
import xml.etree.ElementTree as ET
from urllib.parse import urljoin

import pytest

from openapi.figures.draw import figure, seen_of, sketch_of
from openapi.figures.table import FIGURES
from openapi.rules import DOCUMENT, text
from openapi.rules import FIGURES as FOLDER
from service.strap.errors import Cure
from service.strap.plane.lengths import MM, reading
from service.strap.remedies.cure_words import CURE_WORDS
from service.strap.rules.checks import RULES
from tests.strap.test_formulas import FIGURES as SHOP_FIGURES
from tests.strap.test_formulas import FUNCTIONS, OWN, names

SVG = "{http://www.w3.org/2000/svg}"
named = pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])


def test_the_chapter_and_every_figure_are_current():
    """After a change of rules, layout or drawing: `python -m openapi.build`."""
    assert DOCUMENT.read_text(encoding="utf-8") == text()
    assert {path.stem for path in FOLDER.glob("*.svg")} == {rule.name for rule in RULES}


@named
def test_a_rule_has_a_meaning_a_source_and_a_figure(rule):
    assert rule.meaning.endswith(".")
    assert len(rule.meaning) > 40
    assert rule.source
    assert rule in FIGURES
    assert (FOLDER / f"{rule.name}.svg").read_text(encoding="utf-8") == figure(rule)


def test_no_two_rules_mean_the_same_and_no_two_cures_read_alike():
    assert len({rule.meaning for rule in RULES}) == len(RULES)
    assert len(set(CURE_WORDS.values())) == len(CURE_WORDS)


def test_every_cure_of_a_rule_is_told_in_words_and_no_other():
    used = {blame.cure for rule in RULES for blame in rule.blames if blame.cure}
    assert set(CURE_WORDS) == used
    assert used <= set(Cure)


@named
def test_a_figure_is_drawn_to_scale_of_what_the_rule_found(rule):
    """Its one distance is the figure that was found, or those that are named by terms give it by the rule's formula."""
    dimensions, found = sketch_of(rule).dimensions, seen_of(rule).measured.value / MM
    assert dimensions
    whole = [each for each in dimensions if not each.term]
    if whole:
        assert whole[0].length == pytest.approx(abs(found), abs=0.005)
        return
    drawn = {each.term: each.length for each in dimensions} | {"count": 1}
    assert names(rule.formula.found) - FUNCTIONS.keys() <= drawn.keys()
    worth = eval(rule.formula.found, {"__builtins__": {}}, FUNCTIONS | drawn)
    assert worth == pytest.approx(found, abs=0.005)


@named
def test_a_figure_says_what_each_of_its_letters_is(rule):
    """Every letter in a balloon stands in the words below it, which say what came out and the limit."""
    root = ET.fromstring(figure(rule))
    letters = {group.get("aria-label") for group in root.iter(f"{SVG}g") if len(group.get("aria-label") or "") == 1}
    said = root.findtext(f"{SVG}desc")
    assert letters
    assert letters == set(re.findall(r"\b([A-H]): ", said))
    assert ("is the least" if rule.sense == "least" else "is the most") in said


def test_the_page_shows_every_rule_with_the_figures_of_its_own_shop(client, shop):
    page = client.get("/docs/rules")
    assert page.status_code == 200
    for rule in RULES:
        assert f'<article id="{rule.name}">' in page.text
        assert f">{rule.name}</code>" in page.text or rule.formula.limit != rule.name
    assert page.text.count("<figure>") == page.text.count("data:image/svg+xml;base64,") == len(RULES)
    assert reading(shop.rules.edge_web, "mm") in page.text
    assert "img-src data:" in page.headers["Content-Security-Policy"]
    assert set(re.findall(r'href="([^#][^"]*)"', page.text)) == {"../docs"}
    assert client.get(urljoin("/docs/rules", "../docs")).status_code == 200


def test_every_figure_of_the_shop_in_a_formula_is_told(shop):
    told = DOCUMENT.read_text(encoding="utf-8")
    used = {name for rule in RULES for name in names(rule.formula.limit) | names(rule.formula.found)}
    for name in used & (SHOP_FIGURES | OWN.keys()):
        assert f"in the demo shop `{name}` is" in " ".join(told.split()), name
    assert "1/2 in; in a job in millimetres 12 mm" in told  # tip_past_keeper, of [rules.mm] in the shop file
    assert shop.rules.in_units("mm").tip_past_keeper == 12 * MM
