"""The whole work on one strap in the order of the bench, numbered, each step with what it comes after.

Try, cut, shape, skive, line, work the edges, prick, punch, mark, sew, set, lace, fold, join, measure. A lining that
covers what is set comes after the laces, and the edges of what it lines with it.
"""

from collections import defaultdict
from collections.abc import Callable

from service.shop.shop import Shop
from service.strap.model.pattern import Pattern
from service.workshop.bench.closing import closing_steps
from service.workshop.bench.covering import covering_steps
from service.workshop.bench.holes import hole_steps
from service.workshop.bench.leather import leather_steps
from service.workshop.bench.setting import setting_steps
from service.workshop.bench.step import Deed, Draft, State, Step, Work
from service.workshop.bench.strap import Strap
from service.workshop.bench.trying import trying_steps


def work_on(pattern: Pattern, shop: Shop, tell: Callable[[Deed], str] = lambda _: "") -> tuple[Step, ...]:
    """Every step of making the strap, numbered from 1. `tell` gives a step its sentence."""
    strap = Strap(pattern, shop)
    parts = (trying_steps, leather_steps, hole_steps, setting_steps, covering_steps, closing_steps)
    drafts = [draft for part in parts for draft in part(strap)]
    given: dict[State, list[int]] = defaultdict(list)
    for n, draft in enumerate(drafts, 1):
        for state in draft.gives:
            given[state].append(n)
    done = [_step(n, draft, _after(draft, given), tell(draft)) for n, draft in enumerate(drafts, 1)]
    last = _last(strap)
    return (*done, _step(len(done) + 1, last, _open(done), tell(last)))


def _after(draft: Draft, given: dict[State, list[int]]) -> tuple[int, ...]:
    """A state that no step of this strap gives is there from the beginning."""
    return tuple(sorted({n for state in draft.needs for n in given.get(state, ())}))


def _open(done: list[Step]) -> tuple[int, ...]:
    """The steps that no other one comes after."""
    followed = {n for step in done for n in step.after}
    return tuple(step.n for step in done if step.n not in followed)


def _last(strap: Strap) -> Draft:
    """The strap is measured once nothing else is left to do."""
    names = tuple(piece.name for piece in strap.pattern.pieces)
    return Draft(op="measure", work=Work("inspect", 1), pieces=names, tool="ruler")


def _step(n: int, draft: Draft, after: tuple[int, ...], do: str) -> Step:
    return Step(
        n=n,
        op=draft.op,
        work=draft.work,
        pieces=draft.pieces,
        plies=draft.plies,
        tool=draft.tool,
        features=draft.features,
        uses=draft.uses,
        after=after,
        do=do,
    )
