"""What a strap takes off the shelf, as a table of the bench sheet: strips, leather, what is used up."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_UP, Decimal

from service.drawing.printed.flow import Column, Table
from service.shop.shop import Shop, Units
from service.strap.plane.lengths import reading
from service.words import say
from service.workshop.materials import Materials, Order, materials_of, square_metres

Row = tuple[str, str, str]


def material_table(orders: Sequence[Order], shop: Shop, units: Units) -> Table:
    """Everything that these straps take, hardware apart, which has a table of its own."""
    materials = materials_of(orders, shop)
    columns = (Column("", weight="bold"), Column("What", rest=True), Column(say("How much")))
    return Table(columns, (*_strips(materials, shop, units), *_leathers(materials, shop, units), *_used_up(materials)))


def _strips(materials: Materials, shop: Shop, units: Units) -> Iterator[Row]:
    for use in materials.strips:
        leather = shop.leathers[use.leather].title
        pieces = say("for {pieces} pieces", pieces=use.pieces) if use.pieces > 1 else say("for one piece")
        yield (
            "Strip",
            say("{leather}, {width} wide, {pieces}", leather=leather, width=reading(use.width, units), pieces=pieces),
            reading(use.length, units),
        )


def _leathers(materials: Materials, shop: Shop, units: Units) -> Iterator[Row]:
    for use in materials.leathers:
        share = (use.waste * 100).normalize()
        gross = square_metres(use.gross).quantize(Decimal("0.0001"))
        yield (
            "Leather",
            say("{leather}, {share:f} % waste in it", leather=shop.leathers[use.leather].title, share=share),
            _area(gross, units),
        )


def _area(gross: Decimal, units: Units) -> str:
    """Square metres, and in a job in inches square feet, as hides are sold; 1 ft² is 0.09290304 m² exactly."""
    feet = (gross / Decimal("0.09290304")).quantize(Decimal("0.01"), ROUND_UP)
    return say("{feet} ft²", feet=feet) if units == "in" else say("{gross} m²", gross=gross)


def _used_up(materials: Materials) -> Iterator[Row]:
    for use in materials.consumables:
        yield "Stock", use.consumable.title, f"{_two_figures(use.amount):f} {use.consumable.unit}"


def _two_figures(amount: Decimal) -> Decimal:
    """Rounded up to two figures: nobody measures balm to a hundredth of a gram."""
    step = Decimal(1).scaleb(amount.adjusted() - 1)
    return (amount / step).to_integral_value(ROUND_UP) * step
