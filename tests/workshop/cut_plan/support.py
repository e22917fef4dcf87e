"""Batches and hides in whatever units a test likes, and a check of plans that shares nothing with the planner."""

from collections import Counter
from itertools import pairwise

from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.model import Habits, Stock, Wanted
from service.workshop.cut_plan.plan import plan_cuts

LEATHER = "harness_8_9"
IN = 25_400_000


def unhurried():
    """An effort that no clock ends: the counts of work alone do."""
    return Effort(lambda: 3600.0)


def pieces(sizes, leather=LEATHER):
    """One order's pieces from pairs of length and width."""
    return [
        Wanted(ref="A", copy=copy, piece="p", leather=leather, length=length, width=width)
        for copy, (length, width) in enumerate(sizes, 1)
    ]


def hides(*sizes, leather=LEATHER, **more):
    """Stock s0, s1 and so on from length, width and count."""
    return [
        Stock(id=f"s{n}", leather=leather, length=length, width=width, count=count, **more)
        for n, (length, width, count) in enumerate(sizes)
    ]


def habits(kerf=0, least=(1, 1)):
    return Habits(kerf=kerf, offcut_length=least[0], offcut_width=least[1])


def plan(wanted, stock, shop, kerf=0, effort=None, least=(1, 1)):
    return plan_cuts(wanted, stock, habits(kerf, least), shop.leathers, effort or unhurried())


def rectangles(sheet):
    """Every piece of a hide as (x0, y0, x1, y1)."""
    return [
        (piece.from_x, strip.from_y, piece.from_x + piece.wanted.length, strip.from_y + strip.width)
        for strip in sheet.strips
        for piece in strip.pieces
    ]


def assert_valid(plan, wanted, stock, kerf=0):
    """Every piece once, each within its hide's trims, none nearer than a kerf to another, no hide used twice."""
    placed = [piece.wanted for sheet in plan.sheets for strip in sheet.strips for piece in strip.pieces]
    assert Counter(placed) + Counter(missing.wanted for missing in plan.missing) == Counter(wanted)
    assert len({(sheet.stock.id, sheet.n) for sheet in plan.sheets}) == len(plan.sheets)
    counts = {each.id: each.count for each in stock}
    for sheet in plan.sheets:
        assert 1 <= sheet.n <= counts[sheet.stock.id]
        assert sheet.strips
        _assert_inside(sheet)
        _assert_apart(sheet, kerf)
        _assert_offcuts_free(sheet)


def _assert_inside(sheet):
    stock = sheet.stock
    for x0, y0, x1, y1 in rectangles(sheet):
        assert stock.end_trim <= x0 < x1 <= stock.length - stock.end_trim
        assert stock.straighten <= y0 < y1 <= stock.width
    for strip in sheet.strips:
        assert strip.pieces
        for piece in strip.pieces:
            assert piece.wanted.width == strip.width
            assert piece.wanted.leather == stock.leather


def _assert_apart(sheet, kerf):
    """Strips lie one after another across the hide, pieces one after another along a strip: a guillotine can cut it."""
    for above, below in pairwise(sheet.strips):
        assert below.from_y >= above.from_y + above.width + kerf
    for strip in sheet.strips:
        for left, right in pairwise(strip.pieces):
            assert right.from_x >= left.from_x + left.wanted.length + kerf


def _assert_offcuts_free(sheet):
    """No offcut covers a piece or another offcut, or sticks out of the hide."""
    taken = rectangles(sheet)
    for offcut in sheet.offcuts:
        x0, y0 = offcut.from_x, offcut.from_y
        x1, y1 = x0 + offcut.length, y0 + offcut.width
        assert x0 >= 0
        assert y0 >= 0
        assert x1 <= sheet.stock.length
        assert y1 <= sheet.stock.width
        assert not any(a0 < x1 and x0 < a1 and b0 < y1 and y0 < b1 for a0, b0, a1, b1 in taken)
        taken.append((x0, y0, x1, y1))
