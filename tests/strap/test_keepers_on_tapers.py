"""Keepers between ornaments on a strap that narrows: each is as long as it goes round there."""

from math import pi

import pytest
import shapely

from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.model.pattern import BETWEEN_KEEPERS
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from service.workshop.materials import Order, materials_of
from service.workshop.steps import steps
from tests.strap.test_splices import judge_loops
from tests.support.shapes import polygon
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
SPEC = {
    "construction": "two_ends",
    "size": {"body_length": "60 in"},
    "body": {"width": "2 in", "taper": {"to": "1 in", "over": "16 in"}},
    "ends": {"head": {"kind": "buckle"}, "foot": {"kind": "plain"}},
    "ornaments": {"item": "bell_25", "count": 24},
    "keepers_between": {"width": "3/8 in"},
}


def kept(**more):
    pattern = solve(read_spec(SPEC | more, "in"), SHOP)
    return pattern, [piece for piece in pattern.pieces if piece.name in BETWEEN_KEEPERS]


def wide_at(body, x, along):
    """By shapely: how wide the body's real outline is at most under a keeper."""
    outline = polygon(body.outline, steps=40, scale=MM)
    low, high = x - along / 2, x + along / 2
    part = outline.intersection(shapely.box(low, -body.width, high, body.width))
    return part.bounds[3] - part.bounds[1]


@pytest.mark.parametrize(
    "body",
    [
        SPEC["body"],
        {"width": "2 in", "taper": {"to": "1 in", "over": "16 in", "line": "eased"}},
        {"width": "2 in", "taper": {"head": {"to": "1 in", "over": "20 in"}}},
        {"width": "4 in", "taper": {"to": "1 in", "over": "24 in"}},
    ],
)
def test_each_goes_round_what_is_there_and_is_not_much_longer(body):
    """Once round the inside is 2 (width + stack), and the neutral line of four square corners lies t / 2 outside it:
    4 (pi / 2) (t / 2) = pi t (geometry); lap and ease are the shop's. Longer by no more than a twelfth of what the
    strap loses in width at its ends, to a graduation above (twice, above and below), and a graduation."""
    pattern, keepers = kept(body=body)
    strap, rules = pattern.pieces[0], SHOP.rules
    marks = {each.id: each.x for each in strap.features if each.purpose == "keeper_place"}
    assert sorted(mark for keeper in keepers for mark in keeper.at) == sorted(marks)
    most = 4 * (strap.width - min(strap.outline.end_widths)) // 12 + INCH // 16
    assert 1 < len(keepers) <= 12
    for keeper in keepers:
        assert keeper.count == len(keeper.at)
        wanted = [
            2 * (wide_at(strap, marks[mark], keeper.width) + strap.thickness)
            + pi * keeper.skived + rules.keeper_lap + rules.keeper_ease
            for mark in keeper.at
        ]  # fmt: skip
        assert all(-0.02 * MM <= keeper.length - each <= most for each in wanted)
    judge_loops(pattern, SHOP)


def test_by_hand_at_two_places():
    """Full width 2 in: 2 (50.8 + 3.373) + pi 1.687 + 12.7 + 1 mm are 127.3 mm, on sixteenths 5 1/16 in. Each sixteenth
    that the strap is narrower is an eighth of an inch of blank; at 18 3/8 in it is 1 13/16 in wide: 4 11/16 in."""
    _, keepers = kept()
    assert [(keeper.count, keeper.length * 16 // INCH) for keeper in keepers[:3]] == [(11, 81), (1, 79), (2, 75)]


def test_without_a_taper_they_are_all_alike():
    _, keepers = kept(body={"width": "2 in"})
    assert [(keeper.name, keeper.count) for keeper in keepers] == [("keeper_between", 23)]


def test_steps_materials_and_the_answer_tell_each_length_and_where_it_goes():
    pattern, keepers = kept()
    told = [step.do for step in steps(pattern, SHOP)]
    assert any("Cut the 2 keepers between ornaments (length 3) to 4 11/16 in." in each for each in told)
    assert any("(length 3) round the strap, over its mark at 18 3/8 in and 46 in" in each for each in told)
    used = materials_of([Order(pattern=pattern, quantity=3)], SHOP)
    rows = {each.name: (each.count, each.length) for each in used.pieces if each.name in BETWEEN_KEEPERS}
    assert rows == {keeper.name: (3 * keeper.count, keeper.length) for keeper in keepers}
    answer = answer_for(read_spec(SPEC, "in"))
    assert {each["name"]: each["at"] for each in answer["pieces"] if "at" in each} == {
        keeper.name: list(keeper.at) for keeper in keepers
    }
    Bench(answer).make()


def test_an_end_is_turned_back_only_once_every_keeper_of_every_length_is_closed():
    """As early as the steps let it: whoever makes the strap may take any order that `after` allows."""
    answer = answer_for(read_spec(SPEC, "in"))
    wanted = next(step for step in answer["steps"] if step["op"] == "fold")
    before = {wanted["n"]}
    for step in reversed(answer["steps"]):
        before |= set(step["after"]) if step["n"] in before else set()
    steps_of = [[step for step in answer["steps"] if (step["n"] in before) is early] for early in (True, False)]
    Bench(answer | {"steps": [*steps_of[0], *steps_of[1]]}).make()
