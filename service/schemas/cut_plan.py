"""A request for a cut plan as JSON: orders, stock and habits."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import chain

from service.schemas.fields import Choice, Length, StrictField, StrictSchema, Text, Whole
from service.schemas.gathered import Part, Several
from service.schemas.ids import Id
from service.schemas.mistakes import listed, mistake, shown_number, unknown_name
from service.schemas.orders import Asked, CutOrderSchema, OrdersError, read_orders, repeated_refs
from service.schemas.spec import UNITS, units_of
from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Path
from service.words import say
from service.workshop.cut_plan.model import Habits, Stock

MOST_ORDERS = 500
MOST_STOCK = 200
MOST_HIDES = 10_000
LONGEST_S = 10
DEFAULT_S = Decimal(2)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockAsked:
    """An entry of stock as it was read."""

    id: str
    leather: str
    length: Nm
    width: Nm
    count: int
    straighten: Nm | None = None
    end_trim: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MinOffcut:
    """The smallest offcut worth keeping, as it was read."""

    length: Nm | None = None
    width: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFrom:
    """Out of what is cut, and how, as it was read; what is `None` is the shop's to say."""

    stock: tuple[StockAsked, ...] | None = None
    units: Units | None = None
    kerf: Nm | None = None
    straighten: Nm | None = None
    end_trim: Nm | None = None
    min_offcut: MinOffcut = MinOffcut()
    time_limit_s: Decimal = DEFAULT_S


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanAsked(CutFrom):
    """A request for a cut plan as it was read."""

    orders: tuple[Asked, ...]


class Seconds(StrictField[Decimal]):
    """A number of seconds, never a text."""

    kind = say("a number of seconds, more than 0 and at most {longest_s}", longest_s=LONGEST_S)

    def _read(self, value: object) -> Decimal:
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong_type(value)
        if not 0 < value <= LONGEST_S:
            raise mistake(
                "out_of_range",
                say(
                    "has to be more than 0 and at most {longest_s}, not {value}",
                    longest_s=LONGEST_S,
                    value=shown_number(value),
                ),
            )
        return Decimal(value)


class StockSchema(StrictSchema):
    """So many hides of one size."""

    makes = StockAsked
    id = Text(required=True, most=80)
    leather = Id(required=True)
    length = Length(required=True)
    width = Length(required=True)
    count = Whole(0, MOST_HIDES, required=True)
    straighten = Length(zero=True)
    end_trim = Length(zero=True)


class MinOffcutSchema(StrictSchema):
    """The smallest offcut worth keeping."""

    makes = MinOffcut
    length = Length(zero=True)
    width = Length(zero=True)


class CutFromSchema(StrictSchema):
    """Out of what is cut, and how."""

    units = Choice(*UNITS)
    stock = Several(Part(StockSchema, "hides of one size"), MOST_STOCK, least=0)
    kerf = Length(zero=True)
    straighten = Length(zero=True)
    end_trim = Length(zero=True)
    min_offcut = Part(MinOffcutSchema, "the smallest offcut worth keeping")
    time_limit_s = Seconds()


class CutPlanRequestSchema(CutFromSchema):
    """A request for a cut plan."""

    makes = CutPlanAsked
    orders = Several(Part(CutOrderSchema, "an order"), MOST_ORDERS, required=True)


CUT_PLAN_SCHEMA = CutPlanRequestSchema()


def read_cut_plan(document: object, shop: Shop) -> CutPlanAsked:
    """Read a request for a cut plan. Raises `OrdersError` with every fault in it."""
    default = shop.defaults.units
    asked: CutPlanAsked = read_orders(document, CUT_PLAN_SCHEMA, units_of(document, default), default)
    bare: list[tuple[Path, str]] = [
        (("orders", str(n), "pieces", str(m), "leather"), piece.leather)
        for n, order in enumerate(asked.orders)
        for m, piece in enumerate(order.pieces or ())
    ]
    of_stock = stock_faults(asked, shop)
    faults = listed(chain(repeated_refs(asked.orders, "orders"), of_stock, _unknown_leathers(bare, shop)))
    if faults:
        raise OrdersError(faults)
    return asked


def stock_faults(asked: CutFrom, shop: Shop) -> Iterator[Fault]:
    """A fault for each stock of a leather that the shop does not have, or whose id another one has."""
    named: list[tuple[Path, str]] = [
        (("stock", str(n), "leather"), each.leather) for n, each in enumerate(asked.stock or ())
    ]
    yield from _unknown_leathers(named, shop)
    yield from _repeated_ids(asked)


def _unknown_leathers(named: Iterable[tuple[Path, str]], shop: Shop) -> Iterator[Fault]:
    for path, leather in named:
        if leather not in shop.leathers:
            detail = unknown_name("leather", leather, shop.leathers)
            yield Fault(path=path, code="unknown_item", detail=detail)


def _repeated_ids(asked: CutFrom) -> Iterator[Fault]:
    seen: set[str] = set()
    for n, each in enumerate(asked.stock or ()):
        if each.id in seen:
            detail = say("the id {id!r} is given twice; hides are found again by it", id=each.id)
            yield Fault(path=("stock", str(n), "id"), code="given_twice", detail=detail)
        seen.add(each.id)


def habits_of(asked: CutFrom, shop: Shop) -> Habits:
    """How leather is cut: as asked, else as the shop does."""
    length, width = asked.min_offcut.length, asked.min_offcut.width
    return Habits(
        kerf=shop.cutting.kerf if asked.kerf is None else asked.kerf,
        offcut_length=shop.cutting.offcut_length if length is None else length,
        offcut_width=shop.cutting.offcut_width if width is None else width,
    )


def stock_of(asked: CutFrom, leathers: Iterable[str], most: int, shop: Shop) -> tuple[Stock, ...]:
    """The stock as asked; without one, `most` hides of each leather in the size that the shop buys it in."""
    straighten = shop.cutting.straighten if asked.straighten is None else asked.straighten
    end_trim = shop.cutting.end_trim if asked.end_trim is None else asked.end_trim
    if asked.stock is None:
        found = [shop.leathers[name] for name in dict.fromkeys(leathers)]
        entries = tuple(
            StockAsked(id=each.id, leather=each.id, length=each.strip_length, width=each.usable_width, count=most)
            for each in found
        )
    else:
        entries = asked.stock
    return tuple(
        Stock(
            id=each.id,
            leather=each.leather,
            length=each.length,
            width=each.width,
            count=each.count,
            straighten=straighten if each.straighten is None else each.straighten,
            end_trim=end_trim if each.end_trim is None else each.end_trim,
        )
        for each in entries
    )
