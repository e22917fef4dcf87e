"""The price of straps: every line from its parts, every sum from its lines, in exact decimals.

A part's amount is rounded once; everything above it is added up, so that parts, lines, net, tax and total always
agree to the last decimal. A line's unit price is rounded before it is multiplied; what that changes stands in the
part for profit.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.shop.pricing import Margin, Pricing, Profit, Shown
from service.shop.shop import Shop
from service.strap.errors import StrapError
from service.strap.model.pattern import Pattern
from service.words import say
from service.workshop.labour import Labour, LabourUse
from service.workshop.materials import ItemUse, LeatherUse, LengthUse, Materials, Order, materials_of, metres
from service.workshop.materials import square_metres as in_m2
from service.workshop.money import Purse, price_for


class NoPrices(StrapError, ValueError):
    """The shop file has no prices, or not for something that is asked for."""

    def __init__(self, detail: str) -> None:
        super().__init__(detail)
        self.detail = detail


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteLine:
    """So many of one strap; they are made as one batch."""

    ref: str
    pattern: Pattern
    quantity: int
    strap: str = ""
    """Which strap of its order, where there are several."""
    pair: bool = False
    """Whether it is one of a pair: as many of its mirror image are made in the same batch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePart:
    """One part of a line's total. `unit_price` times `quantity` is the amount before rounding, where there is one."""

    kind: str
    item: str
    quantity: Decimal
    unit: str
    amount: Decimal
    unit_price: Decimal | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedLine:
    """A line with its parts, which add up to `total`; so does `unit_price` times `quantity`."""

    ref: str
    strap: str = ""
    quantity: int
    parts: tuple[PricePart, ...]
    cost: Decimal
    unit_price: Decimal
    total: Decimal
    minutes: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """Lines that add up to `net`, and `net` and `tax` that add up to `total`. `tax_share` is a part of 1."""

    currency: str
    profit: Profit
    lines: tuple[PricedLine, ...]
    net: Decimal
    tax: Decimal
    tax_share: Decimal
    tax_title: str
    shown: Shown
    total: Decimal

    @property
    def price(self) -> Decimal:
        """The sum that a buyer is shown: with the tax or without it, as the shop has it."""
        return self.total if self.shown == "gross" else self.net


def quote_of(
    lines: Sequence[QuoteLine],
    shop: Shop,
    profit: Profit | None = None,
    shares: Mapping[str, Decimal] | None = None,
    labour: Labour | None = None,
) -> Quote:
    """The quote of all lines. Raises `NoPrices`.

    `profit` replaces the shop's own. `shares` are, by leather, how much of it is used for each part of blank (a cut
    plan's real figure); without one the shop's waste share stands for it. `labour` is what was counted for other
    quotes of the same straps.
    """
    if shop.pricing is None:
        raise NoPrices(say("this shop has no prices: its file has no [pricing]"))
    pricing = shop.pricing
    pricer = _Pricer(shop, pricing, profit or pricing.profit, shares or {}, labour or Labour(shop))
    priced = tuple(pricer.line(line) for line in lines)
    net = sum((line.total for line in priced), pricer.purse.round(Decimal(0)))
    tax = pricer.purse.round(net * pricing.tax)
    return Quote(
        currency=shop.currency,
        profit=pricer.profit,
        lines=priced,
        net=net,
        tax=tax,
        tax_share=pricing.tax,
        tax_title=pricing.tax_title,
        shown=pricing.shown,
        total=net + tax,
    )


_ON_TOP = ("margin", "markup", "discount")
"""Kinds of parts that are no cost."""


class _Pricer:
    """Makes parts and lines with one shop's prices."""

    def __init__(
        self, shop: Shop, pricing: Pricing, profit: Profit, shares: Mapping[str, Decimal], labour: Labour
    ) -> None:
        self.shop = shop
        self.labour = labour
        self.pricing = pricing
        self.profit = profit
        self.shares = shares
        self.purse = Purse(shop.currency, pricing.rounding)
        self._known: dict[tuple[int, int, bool], PricedLine] = {}

    def line(self, line: QuoteLine) -> PricedLine:
        """One line; as many of the very same pattern are reckoned once."""
        key = (id(line.pattern), line.quantity, line.pair)
        if key not in self._known:
            whole = self._priced(replace(line, quantity=2 * line.quantity) if line.pair else line)
            self._known[key] = self._half(whole, line.quantity) if line.pair else whole
        return replace(self._known[key], ref=line.ref, strap=line.strap)

    def _half(self, whole: PricedLine, quantity: int) -> PricedLine:
        """One hand of pairs that are made as one batch: half of all that goes into them, at the same price each."""
        parts = [
            replace(
                each,
                quantity=each.quantity if each.unit == "share" else each.quantity / 2,
                amount=self.purse.round(each.amount / 2),
            )
            for each in whole.parts
        ]
        cost = sum((each.amount for each in parts if each.kind not in _ON_TOP), Decimal(0))
        total = whole.unit_price * quantity
        off = total - sum((each.amount for each in parts), Decimal(0))
        put_on = next(n for n, each in enumerate(parts) if each.kind in ("margin", "markup"))
        parts[put_on] = replace(parts[put_on], amount=parts[put_on].amount + off)
        return replace(whole, quantity=quantity, parts=tuple(parts), cost=cost, total=total, minutes=whole.minutes / 2)

    def _priced(self, line: QuoteLine) -> PricedLine:
        """What it costs, what is put on, what a larger quantity takes off."""
        order = Order(pattern=line.pattern, quantity=line.quantity)
        labour = self.labour.of(order, self.pricing.operations)
        work = [self._work(use) for use in labour if use.minutes]
        direct = [*self._material_parts(materials_of([order], self.shop)), *work]
        parts = [*direct, self._overhead(direct)]
        cost = sum((part.amount for part in parts), Decimal(0))
        listed = self.purse.round(price_for(cost, self.profit) / line.quantity)
        discount = self.pricing.discount(line.quantity)
        unit = self.purse.round(listed * (1 - discount))
        parts.append(self._profit(listed * line.quantity - cost))
        if discount:
            parts.append(self._discount(discount, (unit - listed) * line.quantity, line.quantity))
        return PricedLine(
            ref=line.ref,
            quantity=line.quantity,
            parts=tuple(parts),
            cost=cost,
            unit_price=unit,
            total=unit * line.quantity,
            minutes=sum((use.minutes for use in labour), Decimal(0)),
        )

    def _material_parts(self, materials: Materials) -> Iterator[PricePart]:
        yield from map(self._leather, materials.leathers)
        yield from map(self._item, materials.items)
        yield from map(self._length, materials.lengths)
        for use in materials.consumables:
            kind, item = "consumable", use.consumable.id
            yield self._part(kind, item, use.amount, use.consumable.unit, use.consumable.price)

    def _leather(self, use: LeatherUse) -> PricePart:
        share = self.shares.get(use.leather)
        gross = in_m2(use.gross) if share is None else (in_m2(use.blank) * share).quantize(Decimal("0.0001"))
        told = (
            "{area} m2 of pieces, and waste"
            if share is None
            else "{area} m2 of pieces, and what the cut plan leaves of it"
        )
        detail = say(told, area=in_m2(use.blank))
        return self._part("leather", use.leather, gross, "m2", self.shop.leathers[use.leather].price_per_m2, detail)

    def _item(self, use: ItemUse) -> PricePart:
        pack, count = self.pricing.packs.get(use.item), Decimal(use.count)
        if pack is None:
            price = next(table[use.item].price for table in self.shop.items.values() if use.item in table)
            return self._part(use.kind, use.item, count, "piece", price)
        detail = say("{count} needed, bought {size} at a time", count=use.count, size=pack.size)
        if pack.charged == "whole":
            return self._part(use.kind, use.item, Decimal(-(-use.count // pack.size)), "pack", pack.price, detail)
        return self._part(use.kind, use.item, count, "piece", pack.price / pack.size, detail)

    def _length(self, use: LengthUse) -> PricePart:
        price = self.pricing.per_metre.get(use.item)
        if price is None:
            raise NoPrices(
                say("this shop has no price for a metre of {item}: its pricing.per_metre has none", item=use.item)
            )
        return self._part(use.item, use.item, metres(use.length), "m", price)

    def _work(self, use: LabourUse) -> PricePart:
        what = say("{count} m", count=use.count) if use.unit == "m" else say("{count} done", count=use.count)
        detail = say(
            "{tools} set up, {what}, at {rate_per_hour} an hour",
            tools=use.tools,
            what=what,
            rate_per_hour=self.pricing.rate_per_hour,
        )
        amount = self.purse.round(use.minutes * self.pricing.rate_per_hour / 60)
        return PricePart(
            kind="labour", item=use.operation, quantity=use.minutes, unit="min", amount=amount, detail=detail
        )

    def _overhead(self, direct: Sequence[PricePart]) -> PricePart:
        share = self.pricing.overhead
        amount = self.purse.round(sum((part.amount for part in direct), Decimal(0)) * share)
        return PricePart(
            kind="overhead",
            item="overhead",
            quantity=share,
            unit="share",
            amount=amount,
            detail=say("of materials and labour"),
        )

    def _profit(self, amount: Decimal) -> PricePart:
        margin = isinstance(self.profit, Margin)
        return PricePart(
            kind="margin" if margin else "markup",
            item="margin" if margin else "markup",
            quantity=self.profit.share,
            unit="share",
            amount=amount,
            detail=say(
                "of the price, with the rounding of the unit price"
                if margin
                else "of the cost, with the rounding of the unit price"
            ),
        )

    def _discount(self, share: Decimal, amount: Decimal, quantity: int) -> PricePart:
        detail = say("off the price, for {quantity}", quantity=quantity)
        return PricePart(kind="discount", item="discount", quantity=share, unit="share", amount=amount, detail=detail)

    def _part(
        self, kind: str, item: str, quantity: Decimal, unit: str, unit_price: Decimal, detail: str = ""
    ) -> PricePart:
        return PricePart(
            kind=kind,
            item=item,
            quantity=quantity,
            unit=unit,
            amount=self.purse.round(quantity * unit_price),
            unit_price=unit_price,
            detail=detail,
        )
