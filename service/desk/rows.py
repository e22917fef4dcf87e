"""Orders that came as a table: made as those of a document are, and refused by row and column, every row at once.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from service.desk.ordering import OrdersRefused, patterns_of
from service.desk.sealing import Changed, ShopChanged
from service.schemas.answers.problem import ChangeDocument, RemedyDocument
from service.schemas.designs import path_of
from service.schemas.mistakes import listed
from service.schemas.order_rows import BETWEEN_SIZES, OrderRows, RowFault
from service.schemas.orders import Asked, OrdersError
from service.schemas.problem import pointer
from service.shop.shop import Shop
from service.strap.errors import Fault, Path

Made = TypeVar("Made")
Read = Callable[[object, Shop], Sequence[Asked]]
"""The orders that stand in a document. Raises `OrdersError`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedRow(Changed):
    """A sealed strap of a table that would be another one today."""

    row: int
    column: str


def made_of_rows(rows: OrderRows, read: Read, shop: Shop, make: Callable[[object], Made]) -> Made:
    """What is made of the orders of a table.

    Raises what `make` raises, told by row and column; where some rows cannot be read, `OrdersError` with what is wrong
    with all of them, those among them that cannot be made.
    """
    if not rows.faults:
        try:
            return make(rows.document)
        except ShopChanged as error:
            raise ShopChanged(tuple(_changed(each, rows) for each in error.changes)) from error
        except OrdersRefused as error:
            faults = tuple(rows.told(fault) for fault in error.faults)
            raise OrdersRefused(faults, _remedies(error.documents, rows)) from error
        except OrdersError as error:
            if any(len(fault.path) < 2 for fault in error.faults):
                raise
    raise OrdersError(_every_fault(rows, read, shop))


def _every_fault(rows: OrderRows, read: Read, shop: Shop) -> tuple[Fault, ...]:
    """What is wrong with each row: those that can be read are made, to see whether they can be."""
    faults: list[Fault] = list(rows.faults)
    left = rows.readable
    while left:
        document = rows.only(left)
        try:
            patterns_of(read(document, shop), rows.name, document, shop, most_pieces=0)
            break
        except (OrdersError, OrdersRefused) as error:
            found = [rows.told(_moved_back(fault, left)) for fault in error.faults]
            faults += found
            wrong = {int(fault.path[1]) for fault in found if isinstance(fault, RowFault)}
            left = [place for place in left if place not in wrong] if wrong and isinstance(error, OrdersError) else []
        except ShopChanged:  # told when all can be read
            break
    return listed(sorted(dict.fromkeys(faults), key=lambda each: each.row if isinstance(each, RowFault) else 0))


def _moved_back(fault: Fault, places: Sequence[int]) -> Fault:
    """A fault of a document of some orders, at its place among all."""
    if len(fault.path) < 2:
        return fault
    return replace(fault, path=(fault.path[0], str(places[int(fault.path[1])]), *fault.path[2:]))


def _changed(changed: Changed, rows: OrderRows) -> Changed:
    place, column = int(changed.path[1]), rows.column("code")
    return ChangedRow(
        code=changed.code,
        units=changed.units,
        moved=changed.moved,
        faults=changed.faults,
        path=(rows.name, str(place), column),
        row=rows.numbers[place],
        column=column,
    )


def _remedies(documents: Sequence[RemedyDocument], rows: OrderRows) -> tuple[RemedyDocument, ...]:
    """Remedies as changes of cells; none of a remedy for which the caller's file has no column."""
    found = []
    for remedy in documents:
        cells = [cell for change in remedy["changes"] for cell in _cells(change, rows)]
        if all("column" in cell for cell in cells):
            found.append(RemedyDocument(detail=remedy["detail"], changes=cells))
    return tuple(found)


def _cells(change: ChangeDocument, rows: OrderRows) -> list[ChangeDocument]:
    path, value = path_of(change["pointer"]), change["value"]
    if rows.member(path) is None and isinstance(value, Mapping):
        return [_cell((*path, name), each, rows) for name, each in value.items()]
    return [_cell(path, value, rows)]


def _cell(path: Path, value: Any, rows: OrderRows) -> ChangeDocument:
    """A change of one cell; without a column where the caller's file can have none for it."""
    place, member = int(path[1]), rows.member(path) or ""
    if member == "sizes" and len(path) > 3:
        sizes = list(rows.orders[place]["sizes"])
        sizes[int(path[3])] = value
        value = BETWEEN_SIZES.join(sizes)
    column = rows.column(member)
    found: ChangeDocument = {"pointer": pointer((rows.name, str(place), column)), "value": rows.word(member, value)}
    if rows.can_have(member):
        found |= {"row": rows.numbers[place], "column": column}
    return found
