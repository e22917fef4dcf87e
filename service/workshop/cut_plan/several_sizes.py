"""A batch out of hides of several sizes: a first plan, then strips and hides together by column generation."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import gcd

from service.workshop.cut_plan.bars import ceil_div, trimmed
from service.workshop.cut_plan.batch import Hide, HideCut, Solved, StripCut, Wanted, piece_count, strip_of
from service.workshop.cut_plan.effort import (
    COMBINATIONS,
    PRICING_ROUNDS,
    ROWS,
    WAYS_LISTED,
    WAYS_SOLVED,
    Effort,
)
from service.workshop.cut_plan.in_turn import ENDLESS, cheapest_in_turn, cost_of
from service.workshop.cut_plan.linear import Program
from service.workshop.cut_plan.mixed_program import HideWay, MixedProgram, StripWay, Way, row_count


def solve_several_sizes(wanted: Wanted, hides: Sequence[Hide], spare: Hide, effort: Effort) -> Solved:
    """The cheapest hides that the effort finds. `spare` stands for hides that would have to be bought, at any cost.

    Every piece has to fit `spare`. The spare's cost is replaced by one above all others together, so that a plan
    first needs as few of them as can be.
    """
    most = piece_count(wanted)
    hides = [replace(hide, count=min(hide.count, most)) for hide in hides]
    dear = replace(spare, count=ENDLESS, cost=1 + sum(hide.cost * hide.count for hide in hides))
    bound = attainable(_by_area(wanted, hides, dear), hides, dear)
    cuts = cheapest_in_turn(wanted, hides, dear, bound, effort)
    if cost_of(cuts) > bound and not effort.over():
        cuts, bound = _by_solver(wanted, hides, dear, cuts, bound, effort)
    return Solved(tuple(cuts), bound)


def _by_area(wanted: Wanted, hides: Sequence[Hide], spare: Hide) -> int:
    """The least cost of enough area, the cheapest area first and the last hide in part."""
    need = sum(width * length * count for width, lengths in wanted.items() for length, count in lengths.items())
    cost = 0
    for hide in [*sorted(hides, key=lambda hide: hide.cost / (hide.length * hide.width)), spare]:
        area = hide.length * hide.width
        room = area * hide.count if hide is not spare else need
        if room >= need:
            return cost + ceil_div(need * hide.cost, area)
        cost += hide.cost * hide.count
        need -= room
    return cost


def attainable(bound: int, hides: Sequence[Hide], spare: Hide) -> int:
    """The least cost of any number of these hides, and of spares, that is not below `bound`."""
    spares, rest = divmod(max(0, bound), spare.cost)
    if rest == 0:
        return spares * spare.cost
    return spares * spare.cost + min(spare.cost, _sum_from(rest, hides) or spare.cost)


def _sum_from(least: int, hides: Sequence[Hide]) -> int | None:
    """The least sum of hides from `least` on; a multiple of their common measure where there are too many sums."""
    sums = {0}
    for hide in hides:
        if len(sums) * (hide.count + 1) > COMBINATIONS:
            measure = gcd(*(each.cost for each in hides))
            return ceil_div(least, measure) * measure
        sums = {have + times * hide.cost for have in sums for times in range(hide.count + 1)}
    return min((each for each in sums if each >= least), default=None)


def _by_solver(
    wanted: Wanted, hides: Sequence[Hide], spare: Hide, cuts: list[HideCut], bound: int, effort: Effort
) -> tuple[list[HideCut], int]:
    """All ways of cutting at once where they are few, else those that column generation finds worth having."""
    if row_count(wanted, hides) > ROWS:
        return cuts, bound
    model = MixedProgram(wanted, hides, spare)
    listed = model.every_way(WAYS_LISTED)
    ways = list(dict.fromkeys([*_ways_of(cuts, model), *(listed or ())]))
    program = Program(model.least, [model.column(way) for way in ways])
    bound = max(bound, attainable(_generate(model, program, ways, effort), hides, spare))
    if cost_of(cuts) <= bound or len(ways) > (2 * WAYS_LISTED if listed else WAYS_SOLVED) or effort.over():
        return cuts, bound
    found = program.whole(effort)
    if found.uses is not None:
        uses = zip(ways, found.uses, strict=True)
        better = _cuts_of([way for way, count in uses for _ in range(count)], model)
        cuts = min(cuts, better, key=cost_of)
    if listed is not None and abs(found.bound) < 1e15:
        slack = model.unit * max(1e-9, abs(found.bound) * 1e-9)
        proven = attainable(int(found.bound * model.unit - slack), hides, spare)
        bound = max(bound, min(proven, cost_of(cuts)))
    return cuts, bound


def _generate(model: MixedProgram, program: Program, ways: list[Way], effort: Effort) -> int:
    """Add ways to the program, and to `ways`, until none gains; the best bound seen at its end."""
    prices: Sequence[float] = ()
    for _ in range(PRICING_ROUNDS):
        relaxed = None if effort.over() else program.relax(effort)
        if relaxed is None:
            break
        prices = relaxed.prices
        known = set(ways)
        added = [way for way in model.worth_adding(prices) if way not in known]
        for way in added:
            program.add(model.column(way))
            ways.append(way)
        if not added:
            break
    return model.bound(prices) if prices else 0


def _ways_of(cuts: Iterable[HideCut], model: MixedProgram) -> list[Way]:
    """The ways that a plan uses."""
    ways: list[Way] = []
    for cut in cuts:
        hide = next(hide for hide in model.hides if hide.key == cut.hide.key)
        ways.append(HideWay(hide, _counts(model.widths, [strip.width for strip in cut.strips])))
        for strip in cut.strips:
            pattern = _counts(model.sizes[strip.width], strip.lengths)
            ways.append(StripWay(hide.length, strip.width, pattern))
    return ways


def _counts(names: Sequence[int], things: Sequence[int]) -> tuple[int, ...]:
    return tuple(things.count(name) for name in names)


def _cuts_of(ways: Sequence[Way], model: MixedProgram) -> list[HideCut]:
    """A plan from ways: what is made too much of is left out, and hides that nothing comes from."""
    strips = {key: list(found) for key, found in _strips_of(ways, model).items()}
    cuts = []
    for way in sorted((way for way in ways if isinstance(way, HideWay)), key=lambda way: way.hide.cost):
        taken: list[StripCut] = []
        for width, count in zip(model.widths, way.pattern, strict=True):
            waiting = strips.get((way.hide.length, width), [])
            taken += [waiting.pop(0) for _ in range(min(count, len(waiting)))]
        if taken:
            cuts.append(HideCut(way.hide, tuple(taken)))
    return cuts


def _strips_of(ways: Sequence[Way], model: MixedProgram) -> dict[tuple[int, int], list[StripCut]]:
    """The strips that come out of ways, by length and width, without pieces that nobody wants."""
    strips: dict[tuple[int, int], list[StripCut]] = {}
    for width in model.widths:
        of_width = [way for way in ways if isinstance(way, StripWay) and way.width == width]
        wanted = [model.wanted[width][size] for size in model.sizes[width]]
        for way in of_width:
            for taken in trimmed([way.pattern], wanted):
                wanted = [have - count for have, count in zip(wanted, taken, strict=True)]
                strip = strip_of(width, model.sizes[width], taken)
                strips.setdefault((way.length, width), []).append(strip)
    return strips
