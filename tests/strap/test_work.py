"""What one spec can make the solver do: counted here and never timed, so that a busy machine fails nothing.

The straps are those that took seconds once: things piled on one place, spread finely, or in twelve rows.
"""

from contextlib import suppress

import pytest

from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.model.work import REQUEST, SOLVE, Work
from service.strap.remedies.remedies import find_remedies
from service.strap.rules import sweep
from service.strap.solve import solve
from tests.attacks.growth import lines_run
from tests.support.random_straps import random_strap
from tests.support.straps import SHOP

WIDE = {"construction": "open", "size": {"body_length": "84 in"}, "body": {"width": "6 in"}}
PILES = {
    "on one place": {"spacing": {"pitch": "0.0001 in"}, "rows": {"count": 12, "distance": "0.01 in"}},
    "spread finely": {"spacing": {"pitch": "1/8 in"}, "rows": {"count": 12, "distance": "0.01 in"}},
    "in crowded rows": {"spacing": "even", "rows": {"count": 12, "distance": "0.4 in"}},
    "half overlapping": {"spacing": {"pitch": "0.77 in"}, "rows": {"count": 7, "distance": "0.77 in"}},
}


def spec_of(document):
    return read_spec(document, "in")


def pile(name, item, count):
    return spec_of(WIDE | {"ornaments": {"item": item, "count": count, **PILES[name]}})


@pytest.fixture
def pairs(monkeypatch):
    """Every pair of things whose distance is measured."""
    seen = []
    measure = sweep.gap
    monkeypatch.setattr(sweep, "gap", lambda a, b: seen.append(1) or measure(a, b))
    return seen


def refusal_of(spec, work=None):
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP, work)
    return refusal.value


@pytest.mark.parametrize("item", ["bell_38", "spot_6"])
@pytest.mark.parametrize("name", PILES)
@pytest.mark.parametrize("count", [50, 100, 200])
def test_pairs_measured_grow_with_the_things_and_not_with_their_square(count, name, item, pairs):
    """In the worst of these a thing is held against a handful of others; against all of them it would be hundreds."""
    spec = pile(name, item, count)
    with suppress(Refusal):
        solve(spec, SHOP)
    things = count * PILES[name]["rows"]["count"]
    assert len(pairs) <= 12 * things


@pytest.mark.parametrize("count", [50, 100, 200])
def test_keepers_round_a_pile_are_measured_against_what_may_be_nearest(count, pairs):
    """Once each was held against all of the pile: 480,000 pairs, of 200 places in twelve rows."""
    row = {"item": "bell_38", "count": count, **PILES["on one place"]}
    with suppress(Refusal):
        solve(spec_of(WIDE | {"ornaments": row, "keepers_between": {"width": "3/8"}}), SHOP)
    assert len(pairs) <= 4 * count * 12


@pytest.mark.parametrize("per_gap", [20, 80])
def test_laps_among_very_many_things_take_lines_in_proportion(per_gap):
    """Once every lap of every length was held against each thing: two seconds of one refusal."""
    whole = {
        "construction": "one_piece",
        "worn_by": "animal",
        "size": {"body_length": "1184 in"},
        "body": {"width": "1 1/2 in", "splices": {"stitch_lines": 3}},
        "billet": {"buckle": "heel_bar_38"},
        "ornaments": {"item": "bell_38", "count": 17},
        "between": {"item": "spot_10", "per_gap": per_gap},
    }
    assert lines_run(refusal_of, spec_of(whole)) <= 60_000 + 4_000 * per_gap


@pytest.mark.parametrize("name", PILES)
def test_a_pile_is_told_to_its_count(name):
    faults = {(fault.code, fault.path) for fault in refusal_of(pile(name, "bell_38", 150)).faults}
    assert ("ornaments_crowded", ("ornaments", "count")) in faults


def test_a_pile_hides_nothing_of_another_kind():
    """Spots piled between the bells, and a border that runs into itself: each is told at its own place."""
    strap = spec_of(
        WIDE
        | {
            "ornaments": {"item": "bell_25", "count": 12},
            "between": {"item": "spot_10", "per_gap": 40},
            "border": {"item": "spot_10", "inset": "1/2 in", "step": "3/8 in"},
        }
    )
    paths = {fault.path[0] for fault in refusal_of(strap).faults if fault.code.endswith("_crowded")}
    assert paths == {"between", "border"}


def test_remedies_of_the_worst_refusals_stay_within_the_request():
    """What is overdrawn is one strap of the most features that a shop takes, and the bluntest way after it."""
    for name in PILES:
        work = Work()
        spec = pile(name, "bell_38", 200)
        remedies = find_remedies(spec, SHOP, refusal_of(spec, work).faults, work)
        assert work.left >= REQUEST - 3 * (SHOP.limits.features_max + SOLVE)
        assert remedies
        for remedy in remedies:
            solve(apply(spec, remedy.changes), SHOP)


def test_remedies_of_odd_straps_stay_within_the_request():
    for seed in range(150):
        work = Work()
        try:
            spec = spec_of(random_strap(seed))
            solve(spec, SHOP, work)
        except Refusal as refusal:
            find_remedies(spec, SHOP, refusal.faults, work)
        except ValueError:
            continue
        assert work.left >= -SHOP.limits.features_max, seed


def test_the_same_work_gives_the_same_remedies():
    spec = pile("in crowded rows", "bell_25", 120)
    faults = refusal_of(spec).faults
    assert find_remedies(spec, SHOP, faults) == find_remedies(spec, SHOP, faults)


def test_with_hardly_any_work_left_the_bluntest_way_is_offered():
    spec = pile("on one place", "bell_38", 40)
    remedies = find_remedies(spec, SHOP, refusal_of(spec).faults, Work(1))
    assert [change.path for change in remedies[0].changes] == [("ornaments",)]


def test_as_many_between_as_the_gap_holds_are_offered_at_once():
    """Worked by hand: how many spots of 10 mm, 1.5 mm from each other, stand between bells of 25 mm, 150 mm apart."""
    strap = spec_of(
        {
            "construction": "open",
            "size": {"body_length": "24 in"},
            "body": {"width": "2 in"},
            "ornaments": {"item": "bell_25", "count": 2, "spacing": {"pitch": "150 mm"}},
            "between": {"item": "spot_10", "per_gap": 60},
        }
    )
    remedies = find_remedies(strap, SHOP, refusal_of(strap).faults)
    found = [change.value for remedy in remedies for change in remedy.changes if change.path == ("between", "per_gap")]
    # clear gap 150 - 25 = 125 mm; n spots of 10 mm and n + 1 gaps of 1.5 mm: 11.5 n + 1.5 <= 125, so n = 10
    assert found == [10]


def test_a_border_along_a_row_that_is_longer_than_its_strap_is_counted_before_it_is_laid_out():
    """14 spots 2 m apart are a row of 26 m: its border spots, 1 mm apart along both edges, would be 52,000."""
    spec = spec_of(
        {
            "construction": "open",
            "size": {"body_length": "12 in"},
            "body": {"width": "3 in"},
            "ornaments": {"item": "spot_10", "count": 14, "spacing": {"pitch": "2000 mm"}},
            "border": {"item": "spot_6", "step": "1 mm"},
        }
    )
    work = Work()
    assert [fault.code for fault in refusal_of(spec, work).faults] == ["too_many_features"]
    assert work.left == REQUEST - SOLVE


def test_no_more_is_laid_out_than_a_shop_takes(monkeypatch):
    """Fold lines, keepers and slots are not counted before: a handful."""
    laid_out = []
    spend = Work.spend
    monkeypatch.setattr(Work, "spend", lambda self, features: laid_out.append(features) or spend(self, features))
    for seed in range(0, 600, 4):
        work = Work()
        try:
            spec = spec_of(random_strap(seed))
            solve(spec, SHOP, work)
        except Refusal as refusal:
            find_remedies(spec, SHOP, refusal.faults, work)
        except ValueError:
            continue
    assert SOLVE < max(laid_out) <= SHOP.limits.features_max + 20
