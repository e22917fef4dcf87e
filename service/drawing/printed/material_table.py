"""What a strap takes off the shelf, as a table of the bench sheet: strips, leather, what is used up."""

from collections.abc import Iterator
from decimal import Decimal

from service.drawing.printed.flow import Column, Table
from service.shop.shop import Shop, Units
from service.strap.lengths import reading
from service.strap.pattern import Pattern
from service.workshop.materials import Materials, Order, materials_of, square_metres

Row = tuple[str, str, str]


def material_table(pattern: Pattern, shop: Shop, units: Units) -> Table:
    """Everything that one strap takes, hardware apart, which has a table of its own."""
    materials = materials_of([Order(pattern=pattern)], shop)
    columns = (Column("", weight="bold"), Column("What", rest=True), Column("How much"))
    return Table(columns, (*_strips(materials, shop, units), *_leathers(materials, shop), *_used_up(materials)))


def _strips(materials: Materials, shop: Shop, units: Units) -> Iterator[Row]:
    for use in materials.strips:
        leather = shop.leathers[use.leather].title
        pieces = f"for {use.pieces} pieces" if use.pieces > 1 else "for one piece"
        yield "Strip", f"{leather}, {reading(use.width, units)} wide, {pieces}", reading(use.length, units)


def _leathers(materials: Materials, shop: Shop) -> Iterator[Row]:
    for use in materials.leathers:
        share = (use.waste * 100).normalize()
        gross = square_metres(use.gross).quantize(Decimal("0.0001"))
        yield "Leather", f"{shop.leathers[use.leather].title}, {share:f} % waste in it", f"{gross} m²"


def _used_up(materials: Materials) -> Iterator[Row]:
    for use in materials.consumables:
        amount = use.amount.quantize(Decimal("0.01")).normalize()
        yield "Used up", use.consumable.title, f"{amount:f} {use.consumable.unit}"
