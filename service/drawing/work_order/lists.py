"""What is laid out and how long it takes, as tables: goods summed and by strap, leather, minutes by operation."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import get_args

from service.drawing import palette
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Item, Text
from service.drawing.parts.wrap import wrap
from service.drawing.printed.boxes import BESIDE, SIDE, box
from service.drawing.printed.flow import Block, Column, Heading, Prose, Strip, Table
from service.drawing.printed.material_table import material_table
from service.drawing.sizes import Sizes
from service.shop.shop import ItemKind, Shop, Units
from service.words import say, say_count
from service.workshop.day.batch import Job
from service.workshop.day.goods import GoodsUse
from service.workshop.labour import LabourUse
from service.workshop.names import item_title, long_reading

_COUNT_WIDE = 14.0


@dataclass(frozen=True, slots=True)
class LaidOutRow:
    """A box, how many, what, and below it how many for each strap."""

    count: str
    item: str
    of: str

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One strip."""
        em, left = sizes.em, BESIDE + _COUNT_WIDE
        first = SIDE / 2 + CAP_HEIGHT * em / 2
        items: list[Item] = [box(), Text(left - 3.0, first, self.count, em, "end", weight="bold", colour=palette.INK)]
        items.append(Text(left, first, self.item, em, weight="bold", colour=palette.INK))
        told = wrap(self.of, width - left, em)
        items += [Text(left, first + (n + 1) * sizes.line, line, em, colour=palette.INK) for n, line in enumerate(told)]
        yield Strip(tuple(items), first + len(told) * sizes.line + 0.9 * em)


def goods_blocks(goods: Sequence[GoodsUse], shop: Shop, units: Units) -> Iterator[Block]:
    """All that is laid out before the first step, things of one kind together."""
    yield Heading(say("Goods to lay out"))
    yield Prose(say("All straps together; below, for which strap how many of it are meant."))
    if not goods:
        yield Prose(say("Nothing but leather."))
    kinds = list(get_args(ItemKind))
    yield from (
        _row(use, shop, units)
        for use in sorted(goods, key=lambda use: kinds.index(use.kind) if use.kind in kinds else len(kinds))
    )
    yield Prose(say("Beside these: a spare of each for the try on the offcut; glue, edge dye, needles and wax."))


def stock_blocks(jobs: Sequence[Job], shop: Shop, units: Units) -> Iterator[Block]:
    """Leather, and what is used up."""
    yield Heading(say("Leather and stock"))
    yield material_table([job.order for job in jobs], shop, units)


def _row(use: GoodsUse, shop: Shop, units: Units) -> LaidOutRow:
    length = f", {long_reading(use.length, units)}" if use.length is not None else ""
    each = say(" each") if use.length is not None and use.count > 1 else ""
    of = ", ".join(say("strap {n}: {count}", n=part.job.number, count=part.count) for part in use.of)
    return LaidOutRow(str(use.count), item_title(use.item, shop) + length + each, of)


_OPERATIONS = {
    "try_out": "trying out",
    "cut_strip": "cutting strip",
    "cut_length": "cutting to length",
    "shape_end": "shaping ends and tapers",
    "skive": "skiving",
    "finish_edge": "edges",
    "punch": "punching",
    "cut_slot": "slots and edges with the knife",
    "mark": "marking",
    "glue_lining": "gluing linings",
    "stitch": "sewing",
    "set_bell": "setting what has a shank",
    "set_spot": "setting what has prongs",
    "set_concho": "setting what has a screw post",
    "lace": "lacing",
    "fold": "folding",
    "rivet": "riveting",
    "inspect": "measuring and looking over",
}


def operation_title(name: str) -> str:
    """What an operation is called where it is paid for."""
    return say(_OPERATIONS.get(name, name.replace("_", " ")))


def minutes_blocks(uses: Sequence[LabourUse]) -> Iterator[Block]:
    """Minutes by operation, and together."""
    if not uses:
        return
    yield Heading(say("Minutes"))
    yield Prose(say("Each tool is set up once for the whole day."))
    columns = (
        Column(say("Work"), most=0.5, weight="bold"),
        Column(say("Set up")),
        Column(say("Done")),
        Column(say("Minutes")),
    )
    rows = [
        (operation_title(use.operation), _tools(use.tools), _done(use), _minutes(use.minutes))
        for use in uses
        if use.minutes
    ]
    total = sum((use.minutes for use in uses), Decimal(0))
    rows.append((say("together"), "", "", say("{minutes}, {hours}", minutes=_minutes(total), hours=_hours(total))))
    yield Table(columns, tuple(rows))


def _tools(count: int) -> str:
    return say_count("{count} tool", "{count} tools", count)


def _done(use: LabourUse) -> str:
    if use.unit == "m":
        return say("{metres:.1f} m", metres=use.count)
    return f"{use.count:f}"


def _minutes(minutes: Decimal) -> str:
    return f"{minutes:.0f}"


def _hours(minutes: Decimal) -> str:
    hours, rest = divmod(round(minutes), 60)
    return say("{hours} h {minutes} min", hours=hours, minutes=rest)
