"""Random batches: every plan can be cut, holds every piece once, and keeps its word."""

import random
import time
from itertools import pairwise

import pytest

from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.grouping import settings
from service.workshop.cut_plan.model import Stock, Wanted
from tests.support.thorough import few_or
from tests.workshop.cut_plan.support import IN, LEATHER, assert_valid, hides, pieces, plan, unhurried

MM = 10**6
LEATHERS = ("harness_8_9", "bridle_10_11", "latigo_6_7")


def batch(seed):
    """Up to 60 pieces in up to two leathers, up to four kinds of hide, with trims and kerfs or without."""
    chance = random.Random(seed)
    leathers = chance.sample(LEATHERS, chance.randrange(1, 3))
    widths = [chance.randrange(10, 80) * MM for _ in range(chance.randrange(1, 6))]
    lengths = [chance.randrange(50, 900) * MM + chance.choice([0, chance.randrange(MM)]) for _ in range(11)]
    wanted = [
        Wanted(
            ref=f"A{n % 7}",
            copy=n // 7 + 1,
            piece="p",
            leather=chance.choice(leathers),
            width=chance.choice(widths),
            length=chance.choice(lengths),
        )
        for n in range(chance.randrange(1, 60))
    ]
    stock = [
        Stock(
            id=f"s{n}",
            leather=chance.choice(leathers),
            length=chance.randrange(300, 2200) * MM,
            width=chance.randrange(60, 600) * MM,
            count=chance.randrange(6),
            straighten=chance.choice([0, 5 * MM]),
            end_trim=chance.choice([0, 3 * MM]),
        )
        for n in range(chance.randrange(5))
    ]
    return wanted, stock, chance.choice([0, 0, MM // 2])


@pytest.mark.parametrize("block", range(few_or(2, 10)))
def test_random_batches_can_be_cut_as_planned(block, shop):
    for seed in range(block * 50, (block + 1) * 50):
        wanted, stock, kerf = batch(seed)
        started = time.thread_time()
        effort = Effort(lambda started=started: 2 - (time.thread_time() - started))
        found = plan(wanted, stock, shop, kerf, effort, (150 * MM, 10 * MM))
        assert_valid(found, wanted, stock, kerf)
        assert found.lower_bound.sheets <= found.used.sheets
        assert found.lower_bound.area <= found.used.area
        if found.proven and not found.missing:
            assert found.lower_bound.area == found.used.area
        for sheet in found.sheets:
            assert all(o.length >= 150 * MM and o.width >= 10 * MM for o in sheet.offcuts)


def test_pieces_are_found_again_by_their_order(shop):
    wanted, stock, kerf = batch(3)
    found = plan(wanted, stock, shop, kerf)
    placed = [piece.wanted for sheet in found.sheets for strip in sheet.strips for piece in strip.pieces]
    places = [(each.ref, each.copy) for each in placed]
    missing = [(each.wanted.ref, each.wanted.copy) for each in found.missing]
    assert sorted(places + missing) == sorted((piece.ref, piece.copy) for piece in wanted)


def test_who_asked_first_is_served_first(shop):
    """Of ten equal pieces the stock holds six: the first six."""
    found = plan(pieces([(10, 5)] * 10), hides((20, 15, 1)), shop)
    assert [each.wanted.copy for each in found.missing] == [7, 8, 9, 10]
    assert {each.why for each in found.missing} == {"stock_used_up"}


def test_missing_says_how_many_more_hides_would_do(shop):
    """Ten pieces, six to a hide, one hide: one more like it."""
    found = plan(pieces([(10, 5)] * 10), hides((20, 15, 1)), shop)
    (more,) = found.more
    assert (more.stock, more.count, more.at_least) == ("s0", 1, 1)
    assert found.proven


def test_with_as_many_more_as_it_says_nothing_is_missing(shop):
    wanted = pieces([(length * 10, width) for length in (5, 7, 9, 11) for width in (3, 5, 8) for _ in range(9)])
    short = plan(wanted, hides((200, 24, 1), (150, 10, 1)), shop)
    (more,) = short.more
    counts = {"s0": 1, "s1": 1}
    counts[more.stock] += more.count
    enough = plan(wanted, hides((200, 24, counts["s0"]), (150, 10, counts["s1"])), shop)
    assert short.missing
    assert not enough.missing


def test_a_piece_that_fits_no_hide_in_stock_is_told_apart(shop):
    """A piece of 60 in fits no 48 in hide; the shop buys this leather in 84 in."""
    found = plan(pieces([(60 * IN, IN), (40 * IN, IN)]), hides((48 * IN, 20 * IN, 2)), shop)
    assert [(each.wanted.length, each.why) for each in found.missing] == [(60 * IN, "fits_no_sheet")]
    (more,) = found.more
    assert (more.stock, more.count, more.at_least) == (None, 1, 1)
    assert more.length == shop.leathers[LEATHER].strip_length


def test_a_piece_that_no_hide_of_the_shop_holds_is_missing_and_nothing_more_would_do(shop):
    found = plan(pieces([(5000 * IN, IN)]), hides((48 * IN, 20 * IN, 2)), shop)
    assert [each.why for each in found.missing] == ["fits_no_sheet"]
    assert found.more == ()
    assert found.used.sheets == 0


def test_no_stock_at_all_is_no_error(shop):
    found = plan(pieces([(40 * IN, IN)]), [], shop)
    assert len(found.missing) == 1
    assert found.more[0].count == 1


def test_an_offcut_is_used_before_a_hide_is_cut_into(shop):
    found = plan(pieces([(30, 2)]), hides((84, 24, 3), (40, 4, 1)), shop)
    assert [sheet.stock.id for sheet in found.sheets] == ["s1"]
    assert found.proven


def test_trims_come_off_first(shop):
    """24 wide with 1 to straighten holds no two strips of 12; 48 long with 1 off each end no two pieces of 24."""
    straightened = plan(pieces([(10, 12)] * 2), hides((10, 24, 9), straighten=1), shop)
    trimmed = plan(pieces([(24, 5)] * 2), hides((48, 5, 9), end_trim=1), shop)
    assert (straightened.used.sheets, trimmed.used.sheets) == (2, 2)
    assert plan(pieces([(10, 12)] * 2), hides((10, 25, 9), straighten=1), shop).used.sheets == 1


def test_n_pieces_have_n_minus_one_kerfs_between_them(shop):
    """Four pieces of 10 and three cuts of 1 are 43."""
    assert plan(pieces([(10, 5)] * 4), hides((43, 5, 9)), shop, kerf=1).used.sheets == 1
    assert plan(pieces([(10, 5)] * 4), hides((42, 5, 9)), shop, kerf=1).used.sheets == 2


def test_settings_are_as_few_as_there_are_widths_where_that_can_be(shop):
    """Three widths of eight strips each on hides that hold four: six hides, three settings."""
    wanted = pieces([(10, width) for _ in range(8) for width in (5, 4, 3)])
    found = plan(wanted, hides((10, 20, 9)), shop)
    assert found.settings == 3
    assert found.used.sheets == found.lower_bound.sheets == 5


def test_settings_count_changes_in_working_order(shop):
    wanted, stock, kerf = batch(11)
    found = plan(wanted, stock, shop, kerf)
    for leather in found.leathers:
        widths = [strip.width for sheet in leather.sheets for strip in sheet.strips]
        changes = sum(a != b for a, b in pairwise(widths))
        assert leather.settings == (changes + 1 if widths else 0)
    assert settings([]) == 0


def test_the_same_batch_gives_the_same_plan(shop):
    for seed in (1, 7, 20):
        wanted, stock, kerf = batch(seed)
        assert plan(wanted, stock, shop, kerf, unhurried()) == plan(wanted, stock, shop, kerf, unhurried())


def test_no_time_at_all_still_gives_a_whole_plan(shop):
    for seed in range(30):
        wanted, stock, kerf = batch(seed)
        found = plan(wanted, stock, shop, kerf, Effort(lambda: 0.0))
        assert_valid(found, wanted, stock, kerf)


@pytest.mark.slow
@pytest.mark.parametrize(
    "stock",
    [
        [(84, 24, 500)],
        [(84, 24, 40), (72, 20, 40), (40, 11, 20)],
        [(84, 24, 20)],
        [(40 + n, 10 + n // 4, 5) for n in range(44)],
    ],
)
def test_2000_pieces_in_30_widths_and_100_lengths_end_with_a_stated_gap(stock, shop):
    """How long they take stands in `tests/bench cut_plan`."""
    chance = random.Random(5)
    widths = [IN // 2 + IN // 16 * n for n in range(30)]
    lengths = [chance.randrange(16, 160) * IN // 4 + chance.randrange(MM) for _ in range(100)]
    wanted = pieces([(chance.choice(lengths), chance.choice(widths)) for _ in range(2000)])
    entries = hides(*((length * IN, width * IN, count) for length, width, count in stock))
    started = time.thread_time()
    found = plan(wanted, entries, shop, effort=Effort(lambda: 2 - (time.thread_time() - started)))
    assert_valid(found, wanted, entries)
    assert found.lower_bound.area > 0.75 * found.used.area
