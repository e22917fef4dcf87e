"""What of a design is not offered and why, as a buyer sees it: by what can be had beside it, not by a bench rule.

Here are reasons as data; `service.schemas.withheld` has the words.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from service.shop.designs import Choice, Chosen, Design, Value, counts_of
from service.shop.goods import Nm
from service.workshop.offers import Line, Offers

Why = Literal["most", "least", "beside", "short", "long", "never"]
"""There is room for at most so many; it takes at least so many; it comes out with fewer or more; no count can be had,
as the strap is too short, or too long, or whatever its length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Withheld:
    """Counts, first and last, that cannot be had at one length, and the nearest ones that can."""

    counts: tuple[int, int]
    why: Why
    nearest: tuple[int, ...] = ()

    def holds(self, count: int) -> bool:
        """Whether a count is one of these."""
        return self.counts[0] <= count <= self.counts[1]


def withheld(line: Line, counts: Iterable[int], lengths: Iterable[Nm]) -> Iterator[Withheld]:
    """Of these ascending counts the ones that a line lacks. `lengths` are those at which any of them can be had."""
    asked = tuple(counts)
    if not line.counts:
        yield Withheld(counts=(asked[0], asked[-1]), why=_of_length(line.length, tuple(lengths)))
        return
    missing = [each for each in asked if not any(low <= each <= high for low, high in line.counts)]
    for (below, above), group in groupby(missing, key=lambda count: _beside(line, count)):
        found = tuple(group)
        why: Why = "least" if below is None else "most" if above is None else "beside"
        nearest = tuple(each for each in (below, above) if each is not None)
        yield Withheld(counts=(found[0], found[-1]), why=why, nearest=nearest)


def why_not(chosen: Chosen, design: Design, offers: Offers) -> Withheld:
    """Why what is chosen cannot be made: by its count, else by its length, else by whatever else is chosen."""
    length = int(chosen[design.length.name])
    counts = counts_of(design)
    count = int(chosen[design.count.name]) if design.count else 0
    line = offers.lines(chosen, (length,), counts)[0]
    lengths = () if line.counts else offers.lengths(chosen)
    found = withheld(line, counts, lengths)
    return next(each for each in found if each.holds(count))


def values_withheld(
    chosen: Chosen, choice: Choice, design: Design, offers: Offers, offered: Iterable[Value]
) -> dict[Value, Choice | None]:
    """The values of a choice that are not offered, each with the one other choice that is in its way, if one is."""
    given = tuple(offered)
    return {value: _in_the_way(chosen, choice, value, design, offers) for value in choice.offer if value not in given}


def _of_length(length: Nm, lengths: tuple[Nm, ...]) -> Why:
    """Between lengths that can be had it is neither too short nor too long."""
    if lengths and length < min(lengths):
        return "short"
    return "long" if lengths and length > max(lengths) else "never"


def _beside(line: Line, count: int) -> tuple[int | None, int | None]:
    below = max((high for _, high in line.counts if high < count), default=None)
    above = min((low for low, _ in line.counts if low > count), default=None)
    return below, above


def _in_the_way(chosen: Chosen, choice: Choice, value: Value, design: Design, offers: Offers) -> Choice | None:
    """The other choice that has only to be another for this value to be had."""
    wanted = {**chosen, choice.name: value}
    if offers.has_any(wanted):
        line = offers.lines(wanted, (int(chosen[design.length.name]),), counts_of(design))
        return design.count if design.count and line[0].counts else design.length
    for other in design.others:
        if other is not choice and any(offers.has_any({**wanted, other.name: each}) for each in other.offer):
            return other
    return None
