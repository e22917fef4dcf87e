"""The cutting order of a plan: hide by hide, each setting of the strap cutter, then the pieces of each strip."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from service.shop.shop import Shop, Units
from service.strap.lengths import reading
from service.workshop.cut_plan.model import CutPlan, Offcut, Sheet, Strip
from service.workshop.names import called


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """One thing to do and tick off, on the `sheet`th hide of a stock."""

    n: int
    stock: str
    sheet: int
    do: str


def cutting_order(plan: CutPlan, shop: Shop, units: Units) -> tuple[CutStep, ...]:
    """Every cut of the plan, numbered from 1."""
    drafts = [(sheet, do) for sheet in plan.sheets for do in _hide(sheet, shop, units)]
    return tuple(
        CutStep(n=n, stock=sheet.stock.id, sheet=sheet.n, do=do) for n, (sheet, do) in enumerate(drafts, start=1)
    )


def _hide(sheet: Sheet, shop: Shop, units: Units) -> Iterator[str]:
    stock = sheet.stock
    yield (
        f"Lay out hide {sheet.n} of {stock.id}: {shop.leathers[stock.leather].title}, "
        f"{reading(stock.length, units)} by {reading(stock.width, units)}."
    )
    if stock.straighten:
        yield f"Straighten one long edge: cut off {reading(stock.straighten, units)}."
    for width, group in groupby(sheet.strips, key=lambda strip: strip.width):
        strips = list(group)
        many = f"{len(strips)} strips" if len(strips) > 1 else "1 strip"
        yield f"Set the strap cutter to {reading(width, units)} and cut {many}: {_numbers(strips)}."
    trim = f" after trimming {reading(stock.end_trim, units)} off its end" if stock.end_trim else ""
    for strip in sheet.strips:
        yield f"Strip {strip.n}, {reading(strip.width, units)} wide: cut{trim} {_pieces(strip, units)}."
    for offcut in sheet.offcuts:
        yield _kept(offcut, units)


def _numbers(strips: list[Strip]) -> str:
    first, last = strips[0].n, strips[-1].n
    return f"number {first}" if first == last else f"numbers {first} to {last}"


def _pieces(strip: Strip, units: Units) -> str:
    return ", ".join(
        f"{piece.wanted.ref}/{piece.wanted.copy} {called(piece.wanted.piece)} {reading(piece.wanted.length, units)}"
        for piece in strip.pieces
    )


def _kept(offcut: Offcut, units: Units) -> str:
    what = "the rest of the hide" if offcut.of == "hide" else "the rest of a strip"
    return f"Keep {what}: {reading(offcut.length, units)} by {reading(offcut.width, units)}."
