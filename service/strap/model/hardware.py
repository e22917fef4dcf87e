"""Choosing tools and hardware: which punch passes what, which fastener holds which stack."""

from collections.abc import Iterable
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from service.shop.fixings import Fixing, Opening
from service.shop.goods import Buckle, Fastener, Leather, Nm, RoundPunch
from service.shop.ornaments import Ornament
from service.shop.shop import Shop
from service.strap.model.pattern import Method
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Thickness of all plies at a rivet, over the leather's whole range."""

    thin: Nm
    thick: Nm


_SHARES = tuple(Decimal(n) / 20 for n in range(1, 21))


def keeper_share(leather: Leather, shop: Shop) -> Decimal:
    """What skiving leaves of a keeper's thickness: the shop's share, or as little more as a rivet's grip asks for.

    It grows by twentieths. Where no fastener holds any of them, it stays the shop's share.
    """
    usual, like = shop.rules.keeper_skive, shop.fasteners.get(shop.defaults.keeper_fastener)
    if like is None or holds(like, keeper_stack(leather, usual)):
        return usual
    grips = tuple([(each.grip_min, each.grip_max) for each in shop.fasteners.values() if is_like(each, like)])
    return _share_held(leather.thin, leather.thick, usual, grips)


@lru_cache(maxsize=256)
def _share_held(thin: Nm, thick: Nm, usual: Decimal, grips: tuple[tuple[Nm, Nm], ...]) -> Decimal:
    """The least share of a leather that one of the grips holds twice: worked out once for each leather."""
    for share in (usual, *(each for each in _SHARES if each > usual)):
        lap = _lap(thin, thick, share)
        if any(_is_gripped(lap, low, high) for low, high in grips):
            return share
    return usual


def keeper_stack(leather: Leather, share: Decimal) -> Stack:
    """The two plies of a keeper's lap, skived to this share."""
    return _lap(leather.thin, leather.thick, share)


def _lap(thin: Nm, thick: Nm, share: Decimal) -> Stack:
    return Stack(thin=round(2 * thin * share), thick=round(2 * thick * share))


def is_like(fastener: Fastener, other: Fastener) -> bool:
    """Whether both are rivets, or both screw posts."""
    return (fastener.barrel is None) is (other.barrel is None)


def holds(fastener: Fastener, stack: Stack) -> bool:
    """Whether the fastener's grip range contains the stack's whole thickness range."""
    return _is_gripped(stack, fastener.grip_min, fastener.grip_max)


def _is_gripped(stack: Stack, low: Nm, high: Nm) -> bool:
    return low <= stack.thin and stack.thick <= high


def held_on(item: Ornament, leather: Stack, shop: Shop) -> Fixing:
    """How an ornament is fixed on this leather: with the fastener of the shop's that holds it, where it takes one."""
    return item.fixing.held_through(leather.thin, leather.thick, shop.fasteners.values())


def fitting_fasteners(stack: Stack, shop: Shop, like: Fastener) -> tuple[Fastener, ...]:
    """Fasteners that hold the stack: first the one asked for, then those of its kind with the nearest post to it."""
    fitting = [fastener for fastener in shop.fasteners.values() if holds(fastener, stack)]
    return tuple(sorted(fitting, key=lambda other: _unlike(other, like)))


def _unlike(other: Fastener, like: Fastener) -> tuple[bool, bool, Nm, Nm]:
    apart = abs(other.post_diameter - like.post_diameter)
    return other.id != like.id, not is_like(other, like), apart, other.cap_diameter


def likest_fastener(stack: Stack, shop: Shop, like: Fastener) -> Fastener:
    """The one that is meant where nothing is said: that holds the stack, or else itself. A rivet stands for rivets."""
    if holds(like, stack):
        return like
    return next((each for each in fitting_fasteners(stack, shop, like) if is_like(each, like)), like)


def round_punch(passes: Nm, ease: Nm, slack: Nm, punches: Iterable[RoundPunch]) -> RoundPunch | None:
    """The smallest punch whose hole clears what passes it by at least `ease` and at most `slack`."""
    least, most, best = passes + ease, passes + slack, None
    for punch in punches:
        if least <= punch.diameter <= most and (best is None or punch.diameter < best.diameter):
            best = punch
    return best


class Cut(NamedTuple):
    """How one hole or slot is cut: its size, the tool (`None` where the shop lacks it) and the way."""

    length: Nm
    width: Nm
    tool: str | None
    method: Method = "one_punch"


def hole_for(passes: Nm, ease: Nm, shop: Shop) -> Cut:
    """A round hole that passes something `passes` thick. Without a fitting punch it has the least size and no tool."""
    slack = ease + shop.rules.hole_slack
    punch = round_punch(passes, ease, slack, shop.round_punches.values())
    size = punch.diameter if punch else passes + ease
    return Cut(length=size, width=size, tool=punch.id if punch else None)


def slot_for(length: Nm, passes: Nm, slack: Nm, shop: Shop) -> Cut:
    """A slot at least `length` long, and at most `slack` longer, that passes something `passes` thick.

    Where the shop lacks the slot punch it is made of two round holes at its ends and two knife cuts
    between, with the smallest round punch that passes it.
    """
    least = passes + shop.rules.hole_ease
    fitting = (p for p in shop.slot_punches.values() if length <= p.length <= length + slack and p.width >= least)
    punch = min(fitting, key=lambda p: (p.length, p.width), default=None)
    if punch:
        return Cut(length=punch.length, width=punch.width, tool=punch.id)
    hole = hole_for(passes, shop.rules.hole_ease, shop)
    return Cut(length=length, width=hole.width, tool=hole.tool, method="holes_and_cuts")


def opening_cut(opening: Opening, shop: Shop) -> Cut:
    """What is punched for a fixing: a round hole, or a slot as long as the fixing is wide, with the shop's ease."""
    rules = shop.rules
    if opening.length is None:
        return hole_for(opening.thick, rules.hole_ease, shop)
    return slot_for(opening.length + rules.slot_ease, opening.thick, rules.slot_slack, shop)


def prong_slot(buckle: Buckle, strap_width: Nm, shop: Shop, asked: Nm | None = None) -> Cut:
    """The slot for a buckle's prong: the strap's width and about a quarter more (common practice).

    A punch within a sixteenth part of that length will do; a length that was asked for is kept to.
    """
    if asked is not None:
        return slot_for(asked, buckle.prong_width, 0, shop)
    length = strap_width + shop.rules.prong_slot_over_width
    return slot_for(length, buckle.prong_width, length // 16, shop)


def size_hole(buckle: Buckle, shop: Shop, asked: Nm | None = None) -> Cut:
    """The hole for a buckle's prong, a size looser than a rivet's, or of just the diameter that was asked for."""
    if asked is not None:
        punch = round_punch(asked, 0, 0, shop.round_punches.values())
        return Cut(length=asked, width=asked, tool=punch.id if punch else None)
    return hole_for(buckle.prong_width, shop.rules.size_hole_over_prong, shop)
