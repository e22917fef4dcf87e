"""A request for a work order as JSON: lines as in a quote, and out of what is cut."""

from dataclasses import dataclass
from itertools import chain

from service.schemas.cut_plan import CutFrom, CutFromSchema, stock_faults
from service.schemas.fields import Text
from service.schemas.gathered import Part, Several
from service.schemas.mistakes import listed
from service.schemas.orders import Asked, OrdersError, StrapOrderSchema, read_orders, repeated_refs
from service.schemas.quote import MOST_LINES
from service.schemas.spec import units_of
from service.shop.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOrderAsked(CutFrom):
    """A request for a work order as it was read."""

    lines: tuple[Asked, ...]
    title: str = ""


class WorkOrderRequestSchema(CutFromSchema):
    """A request for a work order."""

    makes = WorkOrderAsked
    title = Text(most=80)
    lines = Several(Part(StrapOrderSchema, "a line"), MOST_LINES, required=True)


WORK_ORDER_SCHEMA = WorkOrderRequestSchema()


def read_work_order(document: object, shop: Shop) -> WorkOrderAsked:
    """Read a request for a work order. Raises `OrdersError` with every fault in it."""
    default = shop.defaults.units
    asked: WorkOrderAsked = read_orders(document, WORK_ORDER_SCHEMA, units_of(document, default), default)
    faults = listed(chain(repeated_refs(asked.lines, "lines"), stock_faults(asked, shop)))
    if faults:
        raise OrdersError(faults)
    return asked
