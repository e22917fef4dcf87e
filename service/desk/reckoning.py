"""The shop's reckoning on one screen: orders in; materials, price and cut plan out.

Every function is pure but for the clock that a caller hands in to bound the search for a plan.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from service.desk.counting import MOST_PIECES, refuse_many, strip_count
from service.desk.ordering import Ordered, patterns_of
from service.drawing.cut_plan.pages import cut_document, cut_drawing
from service.drawing.model import Drawing
from service.drawing.printed.document import Document
from service.forms.form import OutputOptions
from service.schemas.answers.cut_plan import CutPlanDocument
from service.schemas.cut_plan import CutFrom, CutPlanAsked, habits_of, read_cut_plan, stock_of
from service.schemas.cut_plan_document import cut_plan_document
from service.schemas.orders import Asked
from service.schemas.spec import units_of
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.model import CutPlan, Wanted
from service.workshop.cut_plan.plan import plan_cuts
from service.workshop.cut_plan.steps import CutStep, cutting_order

Clock = Callable[[], float]
"""Seconds that go on rising, such as `time.monotonic`."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A cut plan, and the units of its readings."""

    plan: CutPlan
    units: Units


def make_cut_plan(document: object, shop: Shop, clock: Clock) -> Planned:
    """The cut plan that a document asks for. Raises `OrdersError`, `ShopChanged` and `OrdersRefused`."""
    started = clock()
    asked = read_cut_plan(document, shop)
    wanted = _wanted(asked, members_of(document), shop)
    plan = plan_of(asked, wanted, shop, effort_of(float(asked.time_limit_s), started, clock))
    return Planned(plan, units_of(document, shop.defaults.units))


@dataclass(frozen=True, slots=True)
class CutPlanSubject:
    """A cut plan, to be encoded as `options` say, its readings in their units or the request's own."""

    planned: Planned
    shop: Shop
    options: OutputOptions

    def data(self) -> CutPlanDocument:
        """Every sheet, piece and step."""
        return cut_plan_document(self.planned.plan, self._steps(), self._units)

    def drawing(self) -> Drawing:
        """Every sheet, one below the other."""
        return cut_drawing(self.planned.plan, self._steps(), self.shop, self._units)

    def pages(self) -> Document:
        """The sheets on paper."""
        return cut_document(self.planned.plan, self._steps(), self.shop, self._units, self.options.paper)

    @property
    def _units(self) -> Units:
        return self.options.units or self.planned.units

    def _steps(self) -> tuple[CutStep, ...]:
        return cutting_order(self.planned.plan, self.shop, self._units)


def members_of(document: object) -> Mapping[str, Any]:
    """The members of a document that was read as an object."""
    return document if isinstance(document, dict) else {}


def effort_of(seconds: float, started: float, clock: Clock) -> Effort:
    """So many seconds, from when something was begun."""
    return Effort(lambda: seconds - (clock() - started))


def plan_of(asked: CutFrom, wanted: Sequence[Wanted], shop: Shop, effort: Effort) -> CutPlan:
    """How these pieces are cut, out of what is asked for."""
    stock = stock_of(asked, (piece.leather for piece in wanted), len(wanted), shop)
    return plan_cuts(wanted, stock, habits_of(asked, shop), shop.leathers, effort)


def _wanted(asked: CutPlanAsked, document: Mapping[str, Any], shop: Shop) -> list[Wanted]:
    """Every piece of every order, in the order of the request. Raises `OrdersError` where there are too many."""
    straps = patterns_of(asked.orders, "orders", document, shop, MOST_PIECES)
    bare = sum(order.quantity * len(order.pieces or ()) for order in asked.orders)
    refuse_many(bare + sum(each.one.quantity * strip_count(each.pattern) for each in straps), "orders")
    by_order = {index: list(own) for index, own in groupby(straps, key=lambda each: each.one.order)}
    return [
        piece
        for index, order in enumerate(asked.orders)
        for piece in (_bare(order) if order.pieces else pieces_of_all(by_order[index]))
    ]


def pieces_of_all(straps: Iterable[Ordered]) -> Iterator[Wanted]:
    """Every strip to cut for these straps."""
    for each in straps:
        yield from pieces_of(each.one.ref, each.one.strap, each.one.quantity, each.pattern)


def _bare(order: Asked) -> Iterator[Wanted]:
    for copy in range(1, order.quantity + 1):
        for piece in order.pieces or ():
            yield Wanted(
                ref=order.ref,
                copy=copy,
                piece=piece.name,
                leather=piece.leather,
                width=piece.width,
                length=piece.length,
            )


def pieces_of(ref: str, strap: str, quantity: int, pattern: Pattern) -> Iterator[Wanted]:
    """Every strip to cut for so many of a strap, copy by copy."""
    for copy in range(1, quantity + 1):
        for piece in pattern.pieces:
            for strip in piece.strips * piece.count:
                yield Wanted(
                    ref=ref,
                    strap=strap,
                    copy=copy,
                    piece=strip.name,
                    leather=piece.leather.id,
                    width=piece.cut_width,
                    length=strip.cut_length,
                )
