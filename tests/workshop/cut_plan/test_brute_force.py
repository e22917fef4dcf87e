"""Tiny batches against trying everything."""

import random

import pytest

from service.workshop.cut_plan.bars import Bars, best_fit, covers, lower_bound
from service.workshop.cut_plan.one_size import pack
from tests.workshop.cut_plan.brute_force import least_area, least_bars
from tests.workshop.cut_plan.support import assert_valid, hides, pieces, plan, unhurried


def tiny(seed):
    """Two to seven pieces of at most three widths, one to three sizes of hide, sometimes a kerf."""
    chance = random.Random(seed)
    widths = [chance.randrange(2, 7) for _ in range(chance.choice([1, 2, 3]))]
    sizes = [(chance.randrange(3, 12), chance.choice(widths)) for _ in range(chance.randrange(2, 8))]
    stock = [
        (chance.randrange(8, 20), chance.randrange(5, 14), chance.randrange(1, 3))
        for _ in range(chance.randrange(1, 4))
    ]
    return sizes, stock, chance.choice([0, 0, 1])


@pytest.mark.parametrize("block", range(4))
def test_the_plan_uses_the_least_area_and_never_claims_a_proof_that_is_none(block, shop):
    proven = 0
    for seed in range(block * 250, (block + 1) * 250):
        sizes, stock, kerf = tiny(seed)
        wanted, entries = pieces(sizes), hides(*stock)
        best = least_area(sizes, stock, kerf)
        found = plan(wanted, entries, shop, kerf)
        assert_valid(found, wanted, entries, kerf)
        proven += found.proven
        if best is None:
            assert found.missing
            continue
        assert found.lower_bound.area <= best <= found.used.area
        assert not found.missing
        assert found.used.area == best
        assert not found.proven or found.lower_bound.area == best
    assert proven >= 240


def test_presolve_of_the_solver_stays_off(shop):
    """With presolve HiGHS 1.16 calls 312 optimal here; by trying everything it is 268 (seed 1177 of 20,000)."""
    sizes, stock, kerf = tiny(1177)
    found = plan(pieces(sizes), hides(*stock), shop, kerf)
    assert (least_area(sizes, stock, kerf), found.used.area) == (268, 268)


def test_bars_are_as_few_as_can_be_and_bounds_hold():
    for seed in range(400):
        chance = random.Random(seed)
        capacity = chance.randrange(10, 40)
        things = [chance.randrange(2, capacity + 1) for _ in range(chance.randrange(1, 10))]
        sizes = tuple(sorted(set(things), reverse=True))
        bars = Bars(sizes, tuple(things.count(size) for size in sizes), capacity)
        best = least_bars(things, capacity)
        packed = pack(bars, unhurried())
        assert lower_bound(bars) <= packed.bound <= best <= len(best_fit(bars))
        assert len(packed.patterns) == best
        assert covers(packed.patterns, bars.counts)
        assert all(bars.used(pattern) <= capacity for pattern in packed.patterns)
