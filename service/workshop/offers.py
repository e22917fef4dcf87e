"""What may be offered of a design: the pairs of length and count that can be made, and ways out of those that cannot.

Every answer is the solver's own: what is offered is accepted, what is withheld is refused.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from service.shop.designs import Choice, Chosen, Design, Range, Value, range_of
from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.spec import Spec
from service.strap.offers.makeable import Accepted, Makeable

SpecOf = Callable[[Chosen], Spec]
"""The spec of a design for choices that are all given."""

_MOST_WAYS_OUT = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The counts that can be made at one length, as closed ranges in the steps of the choice of count."""

    length: Nm
    counts: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """Choices which, changed together, make one that can be made."""

    changes: dict[str, Value]


class Offers:
    """What can be made of one design. `spec_of` reads its spec; grids are kept for as long as this lives."""

    def __init__(self, design: Design, shop: Shop, spec_of: SpecOf) -> None:
        self._design = design
        self._spec_of = spec_of
        self._accepted = Accepted(shop)
        self._grids: dict[tuple[Value, ...], Makeable] = {}

    def lines(self, chosen: Chosen, lengths: Iterable[Nm], counts: Iterable[int]) -> tuple[Line, ...]:
        """For each length the counts that can be made with everything else as chosen."""
        makeable, counts = self._grid(chosen), tuple(counts)
        step = self._counts.step
        found = []
        for length in lengths:
            passing = (count for count in counts if makeable(length, self._said(count)))
            found.append(Line(length=length, counts=ranges(passing, step)))
        return tuple(found)

    def lengths(self, chosen: Chosen) -> tuple[Nm, ...]:
        """The lengths at which any count can be made, everything else as chosen."""
        makeable, (_, count) = self._grid(chosen), self._pair(chosen)
        counts = (count, *(each for each in self._counts if each != count))
        return tuple(length for length in self._lengths if any(makeable(length, self._said(each)) for each in counts))

    def values(self, chosen: Chosen, choice: Choice, lengths: Iterable[Nm], counts: Iterable[int]) -> tuple[Value, ...]:
        """The values of a choice with which any of these pairs can be made, everything else as chosen."""
        lengths, counts = tuple(lengths), tuple(counts)
        return tuple(value for value in choice.offer if self._any({**chosen, choice.name: value}, lengths, counts))

    def has_any(self, chosen: Chosen) -> bool:
        """Whether any pair of length and count can be made, everything else as chosen."""
        return self._any(chosen, tuple(self._lengths), tuple(self._counts))

    def ways_out(self, chosen: Chosen) -> tuple[WayOut, ...]:
        """Small changes that lead to something that can be made, the least first; none where nothing can.

        One choice is changed if that helps: count, length, or another; else length and count together; else
        another choice with them.
        """
        single = [*self._other_counts(chosen), *self._other_lengths(chosen), *self._other_values(chosen)]
        ways = single or list(self._other_pairs(chosen)) or list(self._anything(chosen))
        return tuple(ways[:_MOST_WAYS_OUT])

    def remember(self, spec: Spec, *, is_made: bool) -> None:
        """Take note of what the solver says of one strap, so that it is not solved again."""
        self._accepted.remember(spec, is_made=is_made)

    @property
    def _counts(self) -> Range:
        """The counts that may be chosen: only one, and never read, where there is no such choice."""
        choice = self._design.count
        return range_of(choice) if choice else Range(least=0, most=0, step=1, default=0)

    @property
    def _lengths(self) -> Range:
        return range_of(self._design.length)

    def _said(self, count: int) -> int | None:
        return count if self._design.count else None

    def _grid(self, chosen: Chosen) -> Makeable:
        key = tuple(chosen[each.name] for each in self._design.others)
        if key not in self._grids:
            self._grids[key] = Makeable(self._spec_of(chosen), self._accepted)
        return self._grids[key]

    def _pair(self, chosen: Chosen) -> tuple[Nm, int]:
        count = self._design.count
        return int(chosen[self._design.length.name]), int(chosen[count.name]) if count else 0

    def _at(self, chosen: Chosen) -> bool:
        length, count = self._pair(chosen)
        return self._grid(chosen)(length, self._said(count))

    def _any(self, chosen: Chosen, lengths: tuple[Nm, ...], counts: tuple[int, ...]) -> bool:
        """Whether any pair can be made; the chosen one, the likeliest, is tried first."""
        makeable, (length, count) = self._grid(chosen), self._pair(chosen)
        if length in lengths and count in counts and makeable.solved(length, self._said(count)):
            return True
        return any(makeable(length, self._said(count)) for count in counts for length in reversed(lengths))

    def _other_counts(self, chosen: Chosen) -> Iterator[WayOut]:
        """The nearest count below, and above."""
        choice = self._design.count
        if choice:
            yield from self._nearest(chosen, choice, self._counts)

    def _other_lengths(self, chosen: Chosen) -> Iterator[WayOut]:
        """The nearest length above, and below."""
        yield from self._nearest(chosen, self._design.length, self._lengths, upwards_first=True)

    def _nearest(
        self, chosen: Chosen, choice: Choice, values: Range, *, upwards_first: bool = False
    ) -> Iterator[WayOut]:
        here = int(chosen[choice.name])
        up, down = (range(here + step, end + step, step) for step, end in _both_ways(values))
        for side in (up, down) if upwards_first else (down, up):
            found = next((value for value in side if self._at({**chosen, choice.name: value})), None)
            if found is not None:
                yield WayOut(changes={choice.name: found})

    def _other_values(self, chosen: Chosen) -> Iterator[WayOut]:
        """Other values of each other choice, at the same length and count."""
        for choice in self._design.others:
            for value in choice.offer:
                if value != chosen[choice.name] and self._at({**chosen, choice.name: value}):
                    yield WayOut(changes={choice.name: value})

    def _other_pairs(self, chosen: Chosen) -> Iterator[WayOut]:
        """The nearest pair of length and count, in steps of each."""
        length, count = self._pair(chosen)
        pairs = [(abs(a - length) // self._lengths.step + abs(b - count) // self._counts.step, a, b)
                 for a in self._lengths for b in self._counts]  # fmt: skip
        makeable = self._grid(chosen)
        found = next(((a, b) for _, a, b in sorted(pairs) if makeable(a, self._said(b))), None)
        if found and self._design.count:
            yield WayOut(changes={self._design.length.name: found[0], self._design.count.name: found[1]})

    def _anything(self, chosen: Chosen) -> Iterator[WayOut]:
        """Another value of one choice with the length and count that it needs."""
        for choice in self._design.others:
            for value in choice.offer:
                other = {**chosen, choice.name: value}
                ways = [*self._other_counts(other), *self._other_lengths(other)] or list(self._other_pairs(other))
                yield from (WayOut(changes={choice.name: value, **way.changes}) for way in ways[:1])


def _both_ways(values: Range) -> tuple[tuple[int, int], tuple[int, int]]:
    """Step and last value upwards, and downwards."""
    return (values.step, values.most), (-values.step, values.least)


def ranges(values: Iterable[int], step: int) -> tuple[tuple[int, int], ...]:
    """Ascending values as closed ranges in which each follows the last by `step`."""
    found: list[tuple[int, int]] = []
    for value in values:
        if found and found[-1][1] + step == value:
            found[-1] = (found[-1][0], value)
        else:
            found.append((value, value))
    return tuple(found)
