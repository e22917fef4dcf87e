"""How the price of each strap comes about: the maker's own copy of an offer. Nothing of it is for the customer."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from service.drawing.offer.blocks import money
from service.drawing.printed.flow import Block, Column, Heading, Prose, Table
from service.drawing.work_order.lists import operation_title
from service.shop.pricing import Margin
from service.shop.shop import Shop
from service.words import say
from service.workshop.names import item_title
from service.workshop.offer import Offer, OfferLine
from service.workshop.quote import PricedLine, PricePart

_KINDS = {
    "leather": "Leather",
    "labour": "Work",
    "consumable": "Used up",
    "overhead": "Overhead",
    "margin": "Margin",
    "markup": "Markup",
    "discount": "Discount",
}
_FINEST = Decimal("0.0001")


def reckoning_blocks(offer: Offer, shop: Shop) -> Iterator[Block]:
    """Every part of every line, which add up to what the customer is charged."""
    yield Heading(say("How it comes about"))
    profit = offer.quote.profit
    told = "margin of {share} % of the price" if isinstance(profit, Margin) else "markup of {share} % on the cost"
    share = say(told, share=_plain(profit.share * 100))
    yield Prose(say("Not for the customer. All amounts in {currency}; {share}.", currency=shop.currency, share=share))
    for row in offer.rows:
        for line in row.lines:
            yield from _line(line, shop)
    yield from _sums(offer)


def _line(line: OfferLine, shop: Shop) -> Iterator[Block]:
    priced = line.priced
    mark = f"{priced.ref} {priced.strap}".rstrip()
    yield Heading(say("{mark}: {quantity} × {title}", mark=mark, quantity=priced.quantity, title=line.title))
    columns = (
        Column(say("Part"), weight="bold"),
        Column(say("What"), rest=True),
        Column(say("Quantity"), is_amount=True),
        Column(say("Each"), is_amount=True),
        Column(say("Amount"), is_amount=True),
    )
    yield Table(columns, tuple(_part(part, shop) for part in priced.parts))
    yield Prose(_told(priced))


def _told(priced: PricedLine) -> str:
    return say(
        "Cost {cost}, {each} each; {minutes} minutes. Charged {quantity} × {price} = {total}.",
        cost=money(priced.cost),
        each=money((priced.cost / priced.quantity).quantize(Decimal("0.01"), ROUND_HALF_UP)),
        minutes=_plain(priced.minutes.quantize(Decimal(1), ROUND_HALF_UP)),
        quantity=priced.quantity,
        price=money(priced.unit_price),
        total=money(priced.total),
    )


def _part(part: PricePart, shop: Shop) -> tuple[str, ...]:
    kind = say(_KINDS.get(part.kind, part.kind.replace("_", " ").capitalize()))
    what = _what(part, shop)
    told = say("{what}: {detail}", what=what, detail=part.detail) if what and part.detail else what or part.detail
    if part.unit == "share":
        quantity = say("{share} %", share=_plain(part.quantity * 100))
    elif part.unit == "piece":
        quantity = _plain(part.quantity)
    else:
        quantity = say("{count} {unit}", count=_plain(part.quantity), unit=part.unit)
    each = _price(part.unit_price) if part.unit_price is not None else ""
    return kind, told, quantity, each, money(part.amount)


def _what(part: PricePart, shop: Shop) -> str:
    if part.kind == "leather":
        return shop.leathers[part.item].title
    if part.kind == "labour":
        return operation_title(part.item)
    if part.kind == "consumable" and shop.pricing:
        return shop.pricing.consumables[part.item].title
    return "" if part.kind == part.item else item_title(part.item, shop)


def _sums(offer: Offer) -> Iterator[Block]:
    """What is taken, what of it is cost, what is left; and the hours that it takes."""
    quote = offer.quote
    cost = sum((line.cost for line in quote.lines), Decimal(0))
    minutes = sum((line.minutes for line in quote.lines), Decimal(0))
    hours, rest = divmod(round(minutes), 60)
    yield Heading(say("All lines together"))
    columns = (Column("", weight="bold"), Column(say("Amount"), is_amount=True))
    rows = (
        (say("cost"), money(cost)),
        (say("left for the shop"), money(quote.net - cost)),
        (say("without tax"), money(quote.net)),
        (quote.tax_title, money(quote.tax)),
        (say("total"), money(quote.total)),
    )
    yield Table(columns, rows)
    yield Prose(say("Work: {hours} h {minutes} min.", hours=hours, minutes=rest))


def _price(amount: Decimal) -> str:
    """To four decimals, and at least two."""
    whole, _, rest = _plain(amount).partition(".")
    return f"{whole}.{rest.ljust(2, '0')}"


def _plain(number: Decimal) -> str:
    """To four decimals, without zeros that say nothing."""
    text = f"{number.quantize(_FINEST, ROUND_HALF_UP):f}"
    return text.rstrip("0").rstrip(".")
