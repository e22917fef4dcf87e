"""One leather's part of a batch: which pieces fit which hides, the solving, and what is missing."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from service.shop.goods import Nm
from service.workshop.cut_plan.batch import Hide, HideCut, Lengths, Solved
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.model import Habits, Stock, Wanted
from service.workshop.cut_plan.one_hide import solve_one_size
from service.workshop.cut_plan.several_sizes import solve_several_sizes

Size = tuple[Nm, Nm]
"""Length and width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A solved leather: hides cut from stock, hides that would have to be bought, and the bounds on both."""

    cuts: tuple[HideCut, ...]
    more: int
    more_at_least: int
    spare: Hide | None
    area_bound: int
    proven: bool


def sizes_in_stock(stock: Sequence[Stock], kerf: Nm) -> dict[Hide, list[Stock]]:
    """The stock by net size and whole area; each size is a `Hide`, and `key` its place in this order."""
    found: dict[tuple[Nm, Nm, int], list[Stock]] = {}
    for each in stock:
        length, width = each.length - 2 * each.end_trim, each.width - each.straighten
        if length > 0 and width > 0 and each.count > 0:
            found.setdefault((length + kerf, width + kerf, each.length * each.width), []).append(each)
    return {
        Hide(length, width, sum(each.count for each in entries), cost, key): entries
        for key, ((length, width, cost), entries) in enumerate(found.items())
    }


def fits(piece: Wanted, hide: Hide, kerf: Nm) -> bool:
    """Whether a hide of this net size holds the piece."""
    return piece.length + kerf <= hide.length and piece.width + kerf <= hide.width


def wanted_sizes(pieces: Iterable[Wanted], habits: Habits) -> dict[int, Lengths]:
    """The pieces as widths and lengths with their kerf."""
    found: dict[int, Counter[int]] = {}
    for piece in pieces:
        found.setdefault(piece.width + habits.kerf, Counter())[piece.length + habits.kerf] += 1
    return dict(found)


def split(pieces: Sequence[Wanted], hides: Sequence[Hide], habits: Habits, effort: Effort) -> Split:
    """Solve for pieces that each fit some hide."""
    if not pieces:
        return Split(cuts=(), more=0, more_at_least=0, spare=None, area_bound=0, proven=True)
    wanted = wanted_sizes(pieces, habits)
    hides = [replace(hide, count=min(hide.count, len(pieces))) for hide in hides]
    if len(hides) == 1:
        return _by_count(solve_one_size(wanted, hides[0], effort), hides[0])
    spare = _spare(wanted, hides)
    return _by_key(solve_several_sizes(wanted, hides, spare, effort), spare, hides)


def _spare(wanted: dict[int, Lengths], hides: Sequence[Hide]) -> Hide:
    """The largest hide that holds every piece; where none does, a size that is as long and as wide as any."""
    length = max(max(lengths) for lengths in wanted.values())
    width = max(wanted)
    able = [hide for hide in hides if hide.length >= length and hide.width >= width]
    key = max(hide.key for hide in hides) + 1
    if able:
        return replace(max(able, key=lambda hide: (hide.cost, -hide.key)), key=key)
    longest, widest = max(hide.length for hide in hides), max(hide.width for hide in hides)
    return Hide(longest, widest, 0, longest * widest, key)


def _by_count(solved: Solved, hide: Hide) -> Split:
    """Of more hides than there are the worst used are missing."""
    cuts = sorted(solved.cuts, key=lambda cut: -sum(strip.used * strip.width for strip in cut.strips))
    least = solved.bound // hide.cost
    return Split(
        cuts=tuple(cuts[: hide.count]),
        more=max(0, len(cuts) - hide.count),
        more_at_least=max(0, least - hide.count),
        spare=hide,
        area_bound=min(least, hide.count) * hide.cost,
        proven=len(cuts) == least,
    )


def _by_key(solved: Solved, spare: Hide, hides: Sequence[Hide]) -> Split:
    dear = 1 + sum(hide.cost * hide.count for hide in hides)
    cuts = tuple(cut for cut in solved.cuts if cut.hide.key != spare.key)
    more = len(solved.cuts) - len(cuts)
    more_at_least, area_bound = divmod(solved.bound, dear)
    return Split(
        cuts=cuts,
        more=more,
        more_at_least=more_at_least,
        spare=spare,
        area_bound=area_bound,
        proven=solved.cost == solved.bound,
    )
