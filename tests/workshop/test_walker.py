"""Every strap can be made from its own steps: a walker that knows leather, and not the service, makes it."""

import json
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings

from openapi.example_requests import examples
from service.desk.selling import spec_of
from service.schemas.pattern import made_document
from service.schemas.spec import SpecError, read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.solve import solve
from service.workshop.steps import steps
from tests.support.long_straps import LONG_SHOP, long_strap
from tests.support.random_straps import random_strap
from tests.support.straps import specs
from tests.support.two_ended import ENDS, PAIRS, odd_pair, pair_of
from tests.support.wearer import assert_worn_as_told
from tests.walker.bench import Bench

SHOP = demo_shop()
CONSTRUCTIONS = ("three_piece", "one_piece", "open")
RING, BELLS = {"kind": "ring", "ring": "ring_38"}, {"item": "bell_30", "count": 7}
SOME = {
    "three rows of bells": {
        "construction": "three_piece",
        "size": {"body_length": "36 in"},
        "body": {"width": "5 in"},
        "ornaments": BELLS | {"rows": {"count": 3, "across": "staggered", "distance": "1 1/2 in"}},
    },
    "a lined body": {
        "construction": "three_piece",
        "size": {"body_length": "36 in"},
        "leather": "latigo_6_7",
        "lining": "lining_2_3",
        "billet": {"buckle": "centre_bar_25"},
        "ornaments": {"item": "spot_10", "count": 5},
    },
    "a lined collar, its spots covered": {
        "construction": "one_piece",
        "size": {"girth": "18 in"},
        "lining": "lining_2_3",
        "ornaments": {"item": "spot_10", "count": 5},
    },
    "bells set through a lining that is glued only": {
        "construction": "open",
        "size": {"body_length": "20 in"},
        "body": {"width": "1 1/2 in"},
        "lining": {"leather": "lining_2_3", "purpose": "carry"},
        "ornaments": {"item": "bell_30", "count": 5},
        "stitching": {"edges": False},
    },
    "conchos covered, their fold sewn": {
        "construction": "open",
        "size": {"body_length": "30 in"},
        "body": {"width": "1 1/2 in"},
        "ends": {"head": RING},
        "lining": {"leather": "lining_2_3", "purpose": "cover"},
        "ornaments": {"item": "concho_25", "count": 4},
        "stitching": {"turn_back": True},
    },
    "rings at both ends, riveted": {
        "construction": "open",
        "size": {"body_length": "30 in"},
        "body": {"width": "1 1/2 in"},
        "ends": {"head": RING, "foot": RING},
        "ornaments": {"item": "concho_25", "count": 4, "spacing": "even"},
    },
    "two forms of end": {
        "construction": "open",
        "size": {"body_length": "20 in"},
        "ends": {"head": {"kind": "plain", "shape": "clipped"}, "foot": {"kind": "slot", "shape": "round"}},
    },
}
"""Straps of a kind that the examples lack."""


def answer_for(spec, shop=SHOP):
    """What a caller gets for a spec, without what the walker does not read."""
    pattern = solve(spec, shop)
    return json.loads(json.dumps(made_document(pattern, steps(pattern, shop), (), pattern.spec.units)))


def answer_or_none(spec, shop=SHOP):
    """The answer to a spec or to its document, where that can be read and made."""
    try:
        return answer_for(read_spec(spec, "in") if isinstance(spec, dict) else spec, shop)
    except (SpecError, Refusal):
        return None


STRAPS = {name: each for name, each in examples().items() if not name.startswith("refused")} | SOME


@cache
def answer_of(name):
    """The answer to one of the examples that can be made, or to one of the straps above."""
    return answer_for(read_spec(STRAPS[name], "in"))


@pytest.mark.parametrize("name", STRAPS)
def test_every_example_can_be_made(name):
    Bench(answer_of(name)).make()


@pytest.mark.parametrize("name", SHOP.designs)
def test_every_design_can_be_made_over_its_range(name):
    """Every length with the least, the usual and the greatest count; every pair of other choices at the usual size."""
    design = SHOP.designs[name]
    usual = {choice.name: choice.offer.default for choice in design.choices}
    named = [choice.name for choice in (design.length, design.count) if choice]
    counts = [{each.offer.least, each.offer.default, each.offer.most} for each in (design.count,) if each]
    sizes = [dict(zip(named, size, strict=True)) for size in product(design.length.offer, *counts)]
    others = [choice.name for choice in design.others]
    values = [dict(zip(others, row, strict=True)) for row in product(*(choice.offer for choice in design.others))]
    answers = [answer_or_none(spec_of(design, usual | changed, SHOP)) for changed in (*sizes, *values)]
    made = [answer for answer in answers if answer]
    assert len(made) > len(design.length.offer)
    for answer in made:
        Bench(answer).make()


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_random_straps_can_be_made(construction):
    """Drawn by the form of a spec; one in five or more of them is a strap that the shop accepts."""
    made = []

    @given(specs(construction))
    def draw(spec):
        answer = answer_or_none(spec)
        if answer:
            Bench(answer).make()
            made.append(answer)

    draw()
    assert len(made) >= settings.default.max_examples // 10


def test_odd_straps_can_be_made():
    """The examples with one to three things changed, by seed: some four in ten of them are accepted."""
    answers = [answer_or_none(random_strap(seed)) for seed in range(100_000, 100_150)]
    made = [answer for answer in answers if answer]
    assert len(made) > 40
    for answer in made:
        Bench(answer).make()


def test_long_straps_can_be_made():
    """Lapped of several strips, their linings too."""
    made = [answer for seed in range(200, 260) if (answer := answer_or_none(long_strap(seed), LONG_SHOP))]
    assert sum(any("splices" in piece for piece in answer["pieces"]) for answer in made) > 10
    for answer in made:
        Bench(answer).make()
        assert_worn_as_told(answer, LONG_SHOP)


@pytest.mark.parametrize("head", ENDS)
def test_every_pair_of_ends_can_be_made_and_worn(head):
    """Every kind of end at the foot, in the plainest strap and in odd ones."""
    pairs = [pair for pair in PAIRS if pair[0] == head]
    documents = [pair_of(*pair) for pair in pairs] + [odd_pair(*pair, seed) for pair in pairs for seed in range(1, 6)]
    answers = [answer for answer in map(answer_or_none, documents) if answer]
    assert len(answers) > len(pairs) + 5
    for answer in answers:
        Bench(answer).make()
        assert_worn_as_told(answer, SHOP)
