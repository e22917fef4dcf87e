"""The work on a batch of one strap, counted from its steps: how many tools to set up, how many things to do.

A batch is made operation by operation, so each tool is set up once for the batch, however many straps it has.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.shop.pricing import Operations
from service.shop.shop import Shop
from service.strap.model.pattern import Pattern
from service.workshop.bench.order import work_on
from service.workshop.bench.step import Step
from service.workshop.materials import Order, metres


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourUse:
    """One operation of a batch: `tools` set up, `count` things (or metres) done, in so many minutes."""

    operation: str
    tools: int
    count: Decimal
    unit: str
    minutes: Decimal


_BY_METRE = ("cut_strip", "finish_edge")


Done = Mapping[str, tuple[int, int]]
"""By operation, how many tools are set up for one strap, and how many things (or nanometres) are done."""


class Labour:
    """The work on straps of one shop: the steps of each pattern are counted once, however many are asked about."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._known: dict[int, tuple[Pattern, Done]] = {}

    def of(self, order: Order, operations: Operations) -> tuple[LabourUse, ...]:
        """Every operation that the batch needs, in the order of the bench: what its steps say, and nothing else."""
        done = self._done(order.pattern)
        return tuple(
            _use(name, done[name][0], done[name][1] * order.quantity, each.setup, each.each)
            for name, each in operations.by_name().items()
            if name in done
        )

    def _done(self, pattern: Pattern) -> Done:
        if id(pattern) not in self._known:
            self._known[id(pattern)] = (pattern, _counted(pattern, self._shop))
        return self._known[id(pattern)][1]


def labour_together(batches: Iterable[tuple[Order, Sequence[Step]]], operations: Operations) -> tuple[LabourUse, ...]:
    """Every operation that several straps need on one day: what two of them are set up for alike is set up once."""
    tools: dict[str, set[object]] = defaultdict(set)
    counts: dict[str, int] = defaultdict(int)
    for order, steps in batches:
        own, done = _tools_and_counts(steps)
        for name, count in done.items():
            tools[name] |= own[name]
            counts[name] += count * order.quantity
    return tuple(
        _use(name, len(tools[name]), counts[name], each.setup, each.each)
        for name, each in operations.by_name().items()
        if name in counts
    )


def _counted(pattern: Pattern, shop: Shop) -> Done:
    tools, counts = _tools_and_counts(work_on(pattern, shop))
    return {name: (len(tools[name]), count) for name, count in counts.items()}


def _tools_and_counts(steps: Iterable[Step]) -> tuple[dict[str, set[object]], dict[str, int]]:
    """By operation, what is set up for it, and how many things (or nanometres) are done."""
    tools: dict[str, set[object]] = defaultdict(set)
    counts: dict[str, int] = defaultdict(int)
    for work in (step.work for step in steps if step.work.amount):
        tools[work.operation].add(work.tool)
        counts[work.operation] += work.amount
    return tools, counts


def _use(name: str, tools: int, count: int, setup: Decimal, each: Decimal) -> LabourUse:
    done = metres(count) if name in _BY_METRE else Decimal(count)
    unit = "m" if name in _BY_METRE else "piece"
    return LabourUse(operation=name, tools=tools, count=done, unit=unit, minutes=setup * tools + each * done)
