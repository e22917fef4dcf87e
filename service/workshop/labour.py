"""The work on a batch of one strap, counted from its steps: how many tools to set up, how many things to do.

A batch is made operation by operation, so each tool is set up once for the batch, however many straps it has.
"""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from service.shop.pricing import Operations
from service.shop.shop import Shop
from service.workshop.bench.order import work_on
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


def labour_of(order: Order, operations: Operations, shop: Shop) -> tuple[LabourUse, ...]:
    """Every operation that the batch needs, in the order of the bench: what its steps say, and nothing else."""
    tools: dict[str, set[object]] = defaultdict(set)
    counts: dict[str, int] = defaultdict(int)
    for work in (step.work for step in work_on(order.pattern, shop) if step.work.amount):
        tools[work.operation].add(work.tool)
        counts[work.operation] += work.amount * order.quantity
    return tuple(
        _use(name, len(tools[name]), counts[name], each.setup, each.each)
        for name, each in operations.by_name().items()
        if counts[name]
    )


def _use(name: str, tools: int, count: int, setup: Decimal, each: Decimal) -> LabourUse:
    done = metres(count) if name in _BY_METRE else Decimal(count)
    unit = "m" if name in _BY_METRE else "piece"
    return LabourUse(operation=name, tools=tools, count=done, unit=unit, minutes=setup * tools + each * done)
