"""A request for a comparison as JSON: another shop file, and the codes or designs that are held against it."""

from dataclasses import dataclass

from service.schemas.codes import LONGEST_CODE
from service.schemas.fields import StrictSchema, Text
from service.schemas.gathered import Several
from service.schemas.ids import Id
from service.schemas.mistakes import listed, unknown_name
from service.schemas.orders import OrdersError, read_orders
from service.schemas.spec import SpecError
from service.shop.shop import Shop
from service.strap.errors import Fault

LONGEST_SHOP_FILE = 300_000
"""Characters: some six times as many as the demo shop's has."""
MOST_CODES = 200
MOST_DESIGNS = 20


class ComparisonError(SpecError):
    """A request for a comparison that cannot be read, or asks for too much, with every fault in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparisonAsked:
    """A request for a comparison as it was read; without codes and designs all designs are meant."""

    shop_file: str
    codes: tuple[str, ...] = ()
    designs: tuple[str, ...] = ()


class ComparisonRequestSchema(StrictSchema):
    """A request for a comparison."""

    makes = ComparisonAsked
    shop_file = Text(most=LONGEST_SHOP_FILE, required=True)
    codes = Several(Text(most=LONGEST_CODE), MOST_CODES, least=0)
    designs = Several(Id(), MOST_DESIGNS, least=0)


COMPARISON_SCHEMA = ComparisonRequestSchema()


def read_comparison(document: object, shop: Shop) -> ComparisonAsked:
    """Read a request for a comparison. Raises `ComparisonError` with every fault in it."""
    units = shop.defaults.units
    try:
        asked: ComparisonAsked = read_orders(document, COMPARISON_SCHEMA, units, units)
    except OrdersError as error:
        raise ComparisonError(error.faults) from error
    faults = listed(
        Fault(path=("designs", str(n)), code="unknown_design", detail=unknown_name("design", name, shop.designs))
        for n, name in enumerate(asked.designs)
        if name not in shop.designs
    )
    if faults:
        raise ComparisonError(faults)
    return asked
