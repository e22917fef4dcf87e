"""The cutting order of a plan: hide by hide, each setting of the strap cutter, then the pieces of each strip."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.plane.lengths import reading
from service.words import say, say_count
from service.workshop.cut_plan.model import CutPlan, Offcut, PlacedPiece, Sheet, Strip
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
        say(
            "Lay out hide {sheet} of {stock}: {leather}, {length} by {width}.",
            sheet=sheet.n,
            stock=stock.id,
            leather=shop.leathers[stock.leather].title,
            length=reading(stock.length, units),
            width=reading(stock.width, units),
        )
    )
    if stock.straighten:
        yield say("Straighten one long edge: cut off {straighten}.", straighten=reading(stock.straighten, units))
    for width, group in groupby(sheet.strips, key=lambda strip: strip.width):
        strips = list(group)
        many = say_count("{count} strip", "{count} strips", len(strips))
        yield say(
            "Set the strap cutter to {width} and cut {many}: {numbers}.",
            width=reading(width, units),
            many=many,
            numbers=_numbers(strips),
        )
    trim = (
        say(" after trimming {end_trim} off its end", end_trim=reading(stock.end_trim, units)) if stock.end_trim else ""
    )
    for strip in sheet.strips:
        yield say(
            "Strip {strip}, {width} wide: cut{trim} {pieces}.",
            strip=strip.n,
            width=reading(strip.width, units),
            trim=trim,
            pieces=_pieces(strip, units),
        )
    for (of, length, width), rests in groupby(sheet.offcuts, key=_kind):
        yield _kept(
            of, len(list(rests)), say("{length} by {width}", length=reading(length, units), width=reading(width, units))
        )


def _numbers(strips: list[Strip]) -> str:
    first, last = strips[0].n, strips[-1].n
    return (
        say("number {first}", first=first)
        if first == last
        else say("numbers {first} to {last}", first=first, last=last)
    )


def _pieces(strip: Strip, units: Units) -> str:
    """The pieces in their order; copies of one piece that follow one another are told together."""
    return ", ".join(_run(list(group), units) for _, group in groupby(enumerate(strip.pieces), key=_follows))


def _follows(place: tuple[int, PlacedPiece]) -> tuple[str, str, Nm, int]:
    """Equal for copies of one piece of which each is the next after the one before."""
    n, wanted = place[0], place[1].wanted
    return wanted.tag, wanted.piece, wanted.length, wanted.copy - n


def _run(places: list[tuple[int, PlacedPiece]], units: Units) -> str:
    first, last = places[0][1].wanted, places[-1][1].wanted
    copies = f"{first.tag}/{first.copy}" + (say(" to {copy}", copy=last.copy) if len(places) > 1 else "")
    each = " each" if len(places) > 1 else ""
    return f"{copies} {called(first.piece)} {reading(first.length, units)}{each}"


def _kind(offcut: Offcut) -> tuple[str, Nm, Nm]:
    return offcut.of, offcut.length, offcut.width


def _kept(of: str, count: int, size: str) -> str:
    if of == "hide":
        return say("Keep the rest of the hide: {size}.", size=size)
    return say_count(
        "Keep the rest of a strip: {size}.", "Keep the rests of {count} strips: {size} each.", count, size=size
    )
