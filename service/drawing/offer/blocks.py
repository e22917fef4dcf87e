"""The parts of an offer: its head, a row for each strap, its sums."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from service.drawing import lines, palette, words
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Drawing, Group, Image, Item, LineTo, MoveTo, Path, Text, Weight
from service.drawing.parts.wrap import wrap
from service.drawing.printed.flow import Strip
from service.drawing.sizes import Sizes
from service.shop.shop import Shop
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import reading, tape_reading
from service.words import opening, say, say_count, say_list
from service.workshop.day.task_words import size_words
from service.workshop.offer import Offer, OfferRow
from service.workshop.quote import Quote

_RULE = lines.pen("continuous", 0.13, palette.BLACK)
_MARK_HIGH, _MARK_WIDE = 16.0, 45.0
_HIGHEST = 22.0
_UNBROKEN = "\u00a0"
"""A space where no line ends."""
_TEXT_SHARE = 0.66
_LEFT_SHARE = 0.55


def money(amount: Decimal) -> str:
    """An amount with all its decimals."""
    return f"{amount:f}"


@dataclass(frozen=True, slots=True)
class Head:
    """Who offers, to whom, under which number and date."""

    shop: Shop
    offer: Offer
    title: str

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One strip."""
        em = sizes.em
        items: list[Item] = []
        y = CAP_HEIGHT * em * 2.0
        items.append(Text(0.0, y, self.shop.name, em * 2.0, weight="bold", colour=palette.INK))
        y += 0.4 * em
        for line in self._wrapped(self.shop.offer.contact, width * _LEFT_SHARE, em):
            y += sizes.line
            items.append(Text(0.0, y, line, em, colour=palette.GREY))
        items += self._mark(width)
        top = max(y, _MARK_HIGH if self.shop.mark else 0.0) + 4.0 * em
        left = self._wrapped(self.offer.to, width * _LEFT_SHARE, em)
        items += [Text(0.0, top + n * sizes.line, line, em, colour=palette.INK) for n, line in enumerate(left)]
        right = width * (_LEFT_SHARE + 0.04)
        titles = wrap(self.title, width - right, em * 1.5, "bold")
        told: list[tuple[str, float, Weight]] = [(line, em * 1.5, "bold") for line in titles]
        told += [(line, em, "regular") for line in self._wrapped((self.offer.date,), width - right, em) if line]
        for n, (line, size, weight) in enumerate(told):
            items.append(Text(right, top + n * sizes.line * 1.2, line, size, weight=weight, colour=palette.INK))
        low = top + max(len(left) * sizes.line, len(told) * sizes.line * 1.2) + 0.6 * em
        items.append(_rule(low, width))
        yield Strip(tuple(items), low + 1.2 * em, keep=True)

    def _wrapped(self, texts: tuple[str, ...], room: float, em: float) -> list[str]:
        return [line for text in texts for line in wrap(text, room, em)]

    def _mark(self, width: float) -> Iterator[Item]:
        if self.shop.mark:
            mark = self.shop.artwork[self.shop.mark]
            scale = min(_MARK_HIGH / mark.height, _MARK_WIDE / mark.width)
            wide, high = mark.width * scale, mark.height * scale
            yield Image(mark, width - wide, 0.0, wide, high)


@dataclass(frozen=True, slots=True)
class OfferedStrap:
    """What one strap or pair is, how it will look, what it costs."""

    row: OfferRow
    picture: Drawing
    shop: Shop

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One strip: the picture over the words, and the price at their right."""
        em = sizes.em
        scale = min(width / self.picture.width, _HIGHEST / self.picture.height)
        pictured = tuple(item for layer in self.picture.layers for item in layer.items)
        items: list[Item] = [Group(pictured, (width - self.picture.width * scale) / 2, 0.0, scale=scale)]
        room = width * _TEXT_SHARE
        titles = wrap(f"{self.row.first.tag}  {self._title()}", room, em, "bold")
        told = [line for text in _made_of(self.row.first.pattern, self.shop) for line in wrap(text, room, em)]
        top = self.picture.height * scale + CAP_HEIGHT * em + 0.5 * em
        for n, line in enumerate((*titles, *told)):
            weight: Weight = "bold" if n < len(titles) else "regular"
            items.append(Text(0.0, top + n * sizes.line, line, em, weight=weight, colour=palette.INK))
        prices = list(self._prices())
        for n, (line, weight) in enumerate(prices):
            items.append(Text(width, top + n * sizes.line, line, em, "end", weight=weight, colour=palette.INK))
        low = top + (max(len(titles) + len(told), len(prices)) - 1) * sizes.line + 0.9 * em
        items.append(_rule(low, width))
        yield Strip(tuple(items), low + 1.4 * em)

    def _title(self) -> str:
        title = self.row.first.title
        return say("{title}, left and right", title=title) if self.row.is_pair else title

    def _prices(self) -> Iterator[tuple[str, Weight]]:
        row = self.row
        yield say("{many} × {price}", many=self._many(row.quantity), price=money(row.unit_price)), "regular"
        yield money(row.total), "bold"
        for quantity, price in row.at:
            yield say("from {many}: {price} each", many=self._many(quantity), price=money(price)), "regular"

    def _many(self, quantity: int) -> str:
        return say_count("{count} pair", "{count} pairs", quantity) if self.row.is_pair else str(quantity)


@dataclass(frozen=True, slots=True)
class Sums:
    """What all of it costs, without the tax and with it."""

    quote: Quote

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One strip, which stays with what follows."""
        em, quote = sizes.em, self.quote
        items: list[Item] = []
        y = CAP_HEIGHT * em
        total = say("Total, {currency}", currency=quote.currency)
        rows = [(total, quote.total)]
        if quote.tax_share:
            rows = [(say("Together, without tax"), quote.net), (quote.tax_title, quote.tax), *rows]
        for n, (label, amount) in enumerate(rows):
            weight: Weight = "bold" if n + 1 == len(rows) else "regular"
            size = em * 1.2 if weight == "bold" else em
            items.append(Text(width - 34.0, y, label, size, "end", weight=weight, colour=palette.INK))
            items.append(Text(width, y, money(amount), size, "end", weight=weight, colour=palette.INK))
            y += sizes.line * 1.15
        yield Strip(tuple(items), y + 0.4 * em)


def _rule(y: float, width: float) -> Path:
    return Path((MoveTo(0.0, y), LineTo(width, y)), _RULE)


def _made_of(pattern: Pattern, shop: Shop) -> Iterator[str]:
    """What a customer asks of a strap: its size, its leather, what is set on it and what closes it."""
    units, body = pattern.spec.units, pattern.pieces[0]
    yield opening(say("{size}; {width} wide", size=size_words(pattern), width=reading(body.width, units)))
    over_all = tape_reading(pattern.finished.over_all, units)
    yield say("{over_all} over all when it lies flat", over_all=over_all)
    lining = pattern.piece("lining")
    leather = body.leather.title
    yield say("{leather}, lined with {lining}", leather=leather, lining=lining.leather.title) if lining else leather
    set_on = _goods(pattern, shop)
    if set_on:
        yield opening(set_on)


def _goods(pattern: Pattern, shop: Shop) -> str:
    """Ornaments, buckles, rings and snaps; not what holds leather to leather."""
    shown = (*shop.ornaments, *shop.buckles, *shop.rings, *shop.snaps)
    counts: dict[str, int] = {}
    for each in pattern.hardware:
        if each.item in shown:
            counts[each.item] = counts.get(each.item, 0) + each.count
    told = (say("{count} × {item}", count=count, item=words.item_title(shop, item)) for item, count in counts.items())
    return say_list(each.replace(" ", _UNBROKEN) for each in told)
