"""The work on a batch of one strap, counted from its pattern: how many tools to set up, how many things to do.

A batch is made operation by operation, so each tool is set up once for the batch, however many straps it has.
"""

from collections import defaultdict
from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from service.shop.pricing import Operations
from service.shop.shop import Shop
from service.strap.pattern import Pattern
from service.workshop.materials import Order, edge_length, metres
from service.workshop.setting import setting_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LabourUse:
    """One operation of a batch: `tools` set up, `count` things (or metres) done, in so many minutes."""

    operation: str
    tools: int
    count: Decimal
    unit: str
    minutes: Decimal


_Work = tuple[str, Hashable, int]
"""An operation, the tool, and how many things (or nanometres) are done with it on one strap."""
_BY_METRE = ("cut_strip", "finish_edge")


def labour_of(order: Order, operations: Operations, shop: Shop) -> tuple[LabourUse, ...]:
    """Every operation that the batch needs, in the order of the bench."""
    tools: dict[str, set[Hashable]] = defaultdict(set)
    counts: dict[str, int] = defaultdict(int)
    for operation, tool, count in _work(order.pattern, shop):
        tools[operation].add(tool)
        counts[operation] += count * order.quantity
    return tuple(
        _use(name, len(tools[name]), counts[name], each.setup, each.each)
        for name, each in operations.by_name().items()
        if counts[name]
    )


def _use(name: str, tools: int, count: int, setup: Decimal, each: Decimal) -> LabourUse:
    done = metres(count) if name in _BY_METRE else Decimal(count)
    unit = "m" if name in _BY_METRE else "piece"
    return LabourUse(operation=name, tools=tools, count=done, unit=unit, minutes=setup * tools + each * done)


def _work(pattern: Pattern, shop: Shop) -> Iterator[_Work]:
    """All work on one strap."""
    yield from _leather_work(pattern)
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.action == "mark":
                yield "mark", "", 1
            elif feature.action == "fold":
                yield "fold", "", 1
            elif feature.method == "one_punch":
                yield "punch", feature.tool, 1
            else:
                yield "cut_slot", feature.tool, 1
    for line in pattern.hardware:
        if line.item in shop.fasteners:
            yield "rivet", line.item, line.count
        elif line.item in shop.ornaments:
            yield setting_of(shop.ornaments[line.item].fixing).operation, line.item, line.count
        elif line.item == "lace":
            yield "lace", "", line.count
    yield "inspect", "", 1


def _leather_work(pattern: Pattern) -> Iterator[_Work]:
    for piece in pattern.pieces:
        yield "cut_strip", (piece.leather.id, piece.width), piece.length
        yield "cut_length", "", 1
        for shape, depth in (piece.outline.head, piece.outline.foot):
            if shape != "square":
                yield "shape_end", (shape, piece.width, depth), 1
        if piece.skived < piece.thickness:
            yield "skive", "", 1
        if piece.name == "lining":
            yield "glue_lining", "", 1
        for line in piece.stitch_lines:
            yield "stitch", "", line.stitches
    yield "finish_edge", "", edge_length(pattern)
