"""What a strap, or a list of straps, is made of: leather, strips to cut, hardware, lace, consumables, and its weight.

Lengths are whole nanometres, areas whole square nanometres, masses whole milligrams. Everything is counted from the
patterns' own pieces, features and hardware.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Literal

from service.shop.goods import Nm
from service.shop.pricing import Consumable
from service.shop.shop import ItemKind, Shop
from service.strap.model.pattern import Pattern
from service.strap.plane.edges import area, perimeter
from service.values import dataclass

UseKind = ItemKind | Literal["other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """So many of one strap."""

    pattern: Pattern
    quantity: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceUse:
    """So many of one piece, as large as it is cut. `area` is inside its outline, `blank` that of its strip."""

    name: str
    leather: str
    count: int
    length: Nm
    width: Nm
    area: int
    blank: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LeatherUse:
    """One leather. `gross` is what it takes off the shelf: blank / (1 - waste)."""

    leather: str
    area: int
    blank: int
    waste: Decimal
    gross: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StripUse:
    """Strip of one width to be cut from one leather: one setting of the strap cutter."""

    leather: str
    width: Nm
    length: Nm
    pieces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemUse:
    """So many of one item."""

    item: str
    kind: UseKind
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthUse:
    """Lace or thread: how many, and how long all of them are together."""

    item: str
    count: int
    length: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsumableUse:
    """Something used up on the way."""

    consumable: Consumable
    amount: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """Everything for `straps` straps. `weight_mg` is that of all of them, finished."""

    straps: int
    pieces: tuple[PieceUse, ...]
    leathers: tuple[LeatherUse, ...]
    strips: tuple[StripUse, ...]
    items: tuple[ItemUse, ...]
    lengths: tuple[LengthUse, ...]
    consumables: tuple[ConsumableUse, ...]
    weight_mg: int


def materials_of(orders: Sequence[Order], shop: Shop) -> Materials:
    """All that these orders take, together."""
    pieces = tuple(_pieces(orders))
    leathers = tuple(_leathers(pieces, shop))
    items = tuple(_items(orders, shop))
    return Materials(
        straps=sum(order.quantity for order in orders),
        pieces=pieces,
        leathers=leathers,
        strips=tuple(_strips(pieces)),
        items=items,
        lengths=tuple(_lengths(orders)),
        consumables=tuple(_consumables(orders, leathers, items, shop)),
        weight_mg=sum(order.pattern.finished.weight_mg * order.quantity for order in orders),
    )


def _pieces(orders: Sequence[Order]) -> Iterator[PieceUse]:
    """Equal pieces once, with their count, of those that are spliced each strip; in the order of first appearance."""
    counts: dict[tuple[str, str, Nm, Nm, int], int] = {}
    for order in orders:
        for piece in order.pattern.pieces:
            for strip in piece.strips:
                key = (strip.name, piece.leather.id, strip.cut_length, piece.cut_width, round(area(strip.outline)))
                counts[key] = counts.get(key, 0) + piece.count * order.quantity
    for (name, leather, length, width, inside), count in counts.items():
        yield PieceUse(
            name=name,
            leather=leather,
            count=count,
            length=length,
            width=width,
            area=inside,
            blank=length * width,
        )


def _leathers(pieces: Sequence[PieceUse], shop: Shop) -> Iterator[LeatherUse]:
    waste = shop.pricing.waste if shop.pricing else Decimal(0)
    for leather in dict.fromkeys(piece.leather for piece in pieces):
        mine = [piece for piece in pieces if piece.leather == leather]
        blank = sum(piece.blank * piece.count for piece in mine)
        yield LeatherUse(
            leather=leather,
            area=sum(piece.area * piece.count for piece in mine),
            blank=blank,
            waste=waste,
            gross=round(blank / (1 - waste)),
        )


def _strips(pieces: Sequence[PieceUse]) -> Iterator[StripUse]:
    """One for each leather and width, the widest first: the order in which the strap cutter is set."""
    keys = dict.fromkeys((piece.leather, piece.width) for piece in pieces)
    leathers = list(dict.fromkeys(leather for leather, _ in keys))
    for leather, width in sorted(keys, key=lambda key: (leathers.index(key[0]), -key[1])):
        mine = [piece for piece in pieces if (piece.leather, piece.width) == (leather, width)]
        yield StripUse(
            leather=leather,
            width=width,
            length=sum(piece.length * piece.count for piece in mine),
            pieces=sum(piece.count for piece in mine),
        )


def _items(orders: Sequence[Order], shop: Shop) -> Iterator[ItemUse]:
    counts: Counter[str] = Counter()
    for order in orders:
        for line in order.pattern.hardware:
            if line.length is None:
                counts[line.item] += line.count * order.quantity
    for item, count in counts.items():
        yield ItemUse(item=item, kind=kind_of(item, shop), count=count)


def kind_of(item: str, shop: Shop) -> UseKind:
    """Which of the shop's tables an item stands in, if it stands in one."""
    return next((kind for kind, table in shop.items.items() if item in table), "other")


def _lengths(orders: Sequence[Order]) -> Iterator[LengthUse]:
    counts: Counter[str] = Counter()
    lengths: Counter[str] = Counter()
    for order in orders:
        for line in order.pattern.hardware:
            if line.length is not None:
                counts[line.item] += line.count * order.quantity
                lengths[line.item] += line.length * line.count * order.quantity
    for item, length in lengths.items():
        yield LengthUse(item=item, count=counts[item], length=length)


def _consumables(
    orders: Sequence[Order], leathers: Sequence[LeatherUse], items: Sequence[ItemUse], shop: Shop
) -> Iterator[ConsumableUse]:
    measures = {
        "strap": Decimal(sum(order.quantity for order in orders)),
        "edge_m": metres(sum(edge_length(order.pattern) * order.quantity for order in orders)),
        "leather_m2": square_metres(sum(leather.area for leather in leathers)),
        "rivet": Decimal(sum(item.count for item in items if item.kind == "fastener")),
    }
    for consumable in shop.pricing.consumables.values() if shop.pricing else ():
        amount = consumable.amount * measures[consumable.per]
        if amount:
            yield ConsumableUse(consumable=consumable, amount=amount)


def metres(length: Nm) -> Decimal:
    """A length in metres, to the millimetre."""
    return Decimal(round(length / 10**6)) / 1000


def square_metres(surface: int) -> Decimal:
    """An area in square metres, to the square centimetre."""
    return Decimal(round(surface / 10**14)) / 10_000


def edge_length(pattern: Pattern) -> Nm:
    """The length of all edges of a strap's pieces, round each outline; a lining's edge is one with what it lines."""
    return sum(piece.count * perimeter(piece.outline) for piece in pattern.pieces if piece.has_edges)
