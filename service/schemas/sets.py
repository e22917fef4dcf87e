"""Straps that belong together: an order strap by strap, of a pair, of a set, in several sizes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from service.schemas.answers.members import StrapOfOrderDocument
from service.schemas.orders import Asked, OrdersError, spec_of
from service.schemas.seals import Seal
from service.shop.shop import Shop
from service.strap.errors import Fault, Path
from service.strap.model.spec import Hand, Size, Spec
from service.words import say

MOST_STRAPS = 400
"""Straps of one request that are told apart: each size, hand and part of a set is one, however many are made."""


@dataclass(frozen=True, slots=True, kw_only=True)
class One:
    """One strap of an order, of which `asked.quantity` are made. `path` is where the caller says it."""

    order: int
    asked: Asked
    path: Path
    ref: str
    quantity: int
    name: str = ""
    """Of a set, which of it."""
    label: str | None = None
    label_path: Path = ()
    hand: Hand | None = None

    @property
    def strap(self) -> str:
        """What tells it from the other straps of its order: `tip half`, `M left`; nothing where it is the only one."""
        return " ".join(filter(None, (self.name, self.label, self.hand)))

    @property
    def tag(self) -> str:
        """What it is called at the bench."""
        return f"{self.ref} {self.strap}" if self.strap else self.ref


def straps_of(orders: Sequence[Asked], name: str) -> tuple[One, ...]:
    """Every strap of these orders, which stand under `name` in the caller's document; none of bare pieces.

    Raises `OrdersError` where there are too many of them, or two would be called alike at the bench.
    """
    found: list[One] = []
    for index, order in enumerate(orders):
        if order.pieces is None:
            found += _of_order(index, order, (name, str(index)))
        if len(found) > MOST_STRAPS:
            detail = say("up to this order there are more than {most} different straps: send fewer", most=MOST_STRAPS)
            raise OrdersError((_many(detail, len(found), (name,)),))
    _refuse_alike(found, name)
    return tuple(found)


def _many(detail: str, found: int, path: Path) -> Fault:
    return Fault(path=path, code="too_many_straps", detail=detail, limit=MOST_STRAPS, found=found, is_length=False)


def _refuse_alike(found: Sequence[One], name: str) -> None:
    seen: dict[str, One] = {}
    for one in found:
        other = seen.setdefault(one.tag, one)
        if other.order != one.order:
            detail = say("the ref {ref!r} is what a strap of another order is called", ref=one.tag)
            raise OrdersError((Fault(path=(name, str(one.order), "ref"), code="given_twice", detail=detail),))


def _of_order(index: int, order: Asked, path: Path) -> Iterator[One]:
    members = [(order, path, "")]
    if order.straps is not None:
        members = [(each, (*path, "straps", str(n)), each.ref) for n, each in enumerate(order.straps)]
    hands: tuple[Hand | None, ...] = ("left", "right") if order.pair else (None,)
    for asked, where, name in members:
        for n, label in enumerate(order.sizes or (None,)):
            for hand in hands:
                yield One(
                    order=index,
                    asked=asked,
                    path=where,
                    ref=order.ref,
                    quantity=order.quantity,
                    name=name,
                    label=label,
                    label_path=(*path, "sizes", str(n)),
                    hand=hand,
                )


def spec_asked(one: One, shop: Shop) -> Spec | Seal:
    """The spec that the caller says of one strap, or its seal. Raises `OrdersError`, its paths the caller's."""
    try:
        return spec_of(one.asked, shop)
    except OrdersError as error:
        raise OrdersError(tuple(replace(each, path=(*one.path, *each.path)) for each in error.faults)) from error


def spec_of_one(one: One, spec: Spec | Seal, shop: Shop) -> Spec | Seal:
    """What is said, in this strap's size; of a pair, of the left one. Raises `OrdersError`, its paths the caller's."""
    order = one.path[:2]
    if one.hand and isinstance(spec, Spec) and spec.hand:
        raise _meaningless((*order, "pair"), say("the spec says which hand it is: leave that out, or pair"))
    if one.label is None:
        return spec
    if isinstance(spec, Seal):
        raise _meaningless((*order, "sizes"), say("a sealed strap has one size"))
    _refuse_length(one, shop)
    table = spec.size.table or _table_of(one.asked, shop)
    if table is None:
        raise _meaningless((*order, "sizes"), say("sizes belong to a strap whose size is one of a table of the shop's"))
    return replace(spec, size=Size(table=table, label=one.label))


def _refuse_length(one: One, shop: Shop) -> None:
    """A length that is chosen has no meaning beside sizes."""
    design = shop.designs.get(one.asked.design or "")
    if design and design.length.name in (one.asked.choices or {}):
        path = (*one.path, "choices", design.length.name)
        raise _meaningless(path, say("sizes say how long it is: leave out one of the two"))


def _table_of(asked: Asked, shop: Shop) -> str | None:
    """The size table that a design is made by."""
    design = shop.designs.get(asked.design or "")
    return design.size_table if design else None


def _meaningless(path: Path, detail: str) -> OrdersError:
    return OrdersError((Fault(path=path, code="without_meaning", detail=detail),))


def strap_of_order(strap: str) -> StrapOfOrderDocument:
    """Which strap of its order something is told of; nothing where the order has only one."""
    return {"strap": strap} if strap else {}
