"""How many pieces of leather orders have, and the limit on them."""

from collections.abc import Mapping, Sequence

from service.schemas.orders import Asked, OrdersError
from service.schemas.sets import One
from service.shop.shop import Shop
from service.strap.errors import Fault, Refusal
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.spec_leather import Splices
from service.words import say

MOST_PIECES = 5000
"""Pieces of one cut plan."""
_PIECES = {"three_piece": 4, "one_piece": 2, "open": 1, "two_ends": 5}


def strip_count(pattern: Pattern) -> int:
    """How many strips are cut for one strap."""
    return sum(piece.count * len(piece.strips) for piece in pattern.pieces)


def refuse_many(count: int, name: str) -> None:
    """Raise `OrdersError` for more pieces than one plan cuts."""
    if count > MOST_PIECES:
        detail = say("together they have {count} pieces; one plan cuts at most {most}", count=count, most=MOST_PIECES)
        fault = Fault(
            path=(name,), code="too_many_pieces", detail=detail, limit=MOST_PIECES, found=count, is_length=False
        )
        raise OrdersError((fault,))


def pieces_at_most(
    orders: Sequence[Asked],
    ones: Sequence[One],
    specs: Sequence[Spec],
    made: Mapping[Spec, Pattern | Refusal],
    shop: Shop,
) -> int:
    """How many pieces of leather the orders have, with as many as there may be in each strap that is refused."""
    straps = (one.quantity * _pieces_in(spec, made.get(spec), shop) for one, spec in zip(ones, specs, strict=True))
    return sum(straps) + sum(order.quantity * len(order.pieces or ()) for order in orders)


def _pieces_in(spec: Spec, outcome: Pattern | Refusal | None, shop: Shop) -> int:
    """Those of the pattern; else a body, two billets and a keeper, or a strip and a keeper, and what is further said.

    That is a lining, the laps of both, and a keeper in each gap.
    """
    if isinstance(outcome, Pattern):
        return strip_count(outcome)
    row = spec.ornaments if spec.keepers_between else None
    keepers = row.count or 2 * len(row.items or ()) if row else 0
    bodies = (1 + bool(spec.lining)) * (1 + _laps(spec, outcome, shop)) - 1
    return _PIECES[spec.construction] + bodies + keepers


def _laps(spec: Spec, outcome: Refusal | None, shop: Shop) -> int:
    """As many as are said; else, where the strap is or may come to be spliced, what its longest would take."""
    asked = spec.body.splices
    if isinstance(asked, Splices) and asked.count is not None:
        return asked.count
    is_too_long = outcome is not None and any(fault.code == "strip_too_long" for fault in outcome.faults)
    if asked in (None, "none") and not is_too_long:
        return 0
    shortest = min(leather.strip_length for leather in shop.leathers.values())
    return shop.limits.length_max // shortest + 1
