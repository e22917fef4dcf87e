"""Orders as a table: a row for each, a column for each thing that is said of it. Read into a document of orders.

In faults and remedies the table stands for `{"header": [name …], "lines": [{column: cell …} …]}` (or `orders`), its
columns under their own names; `row` and `column` beside a pointer are those of a spreadsheet.
"""

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from service.near_names import near_names
from service.schemas.csv_text import Row, Table
from service.schemas.exports import MORE, OWN, names_of, own_names
from service.schemas.mistakes import listed, shown, unknown_name
from service.schemas.orders import OrdersError
from service.shop.exports import Export
from service.shop.shop import Shop
from service.strap.errors import Fault, Path
from service.words import say

BETWEEN_SIZES = "|"
_FORMULA = tuple("=+-@")
"""A text that begins like this a spreadsheet takes for a formula."""
_MOST_DIGITS = 9
WRONG_CELLS = "wrong_cells"
"""The code of a row that has more or fewer cells than the header."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFault(Fault):
    """A fault of a table: its row, and its column where it is of one."""

    row: int
    column: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRows:
    """Orders of a table. `faults` are those of cells that cannot be read; they are left out of `orders`."""

    name: str
    """Under which name the orders stand in a document."""
    orders: tuple[dict[str, Any], ...]
    numbers: tuple[int, ...]
    """Of each order, the row."""
    columns: Mapping[str, str]
    """By what it means, the caller's column."""
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By what a column means, our values with the caller's own."""
    is_export: bool = False
    faults: tuple[RowFault, ...] = ()

    @property
    def readable(self) -> list[int]:
        """The places of the orders of which all but some cells can be read."""
        broken = {fault.path for fault in self.faults if fault.code == WRONG_CELLS}
        return [place for place in range(len(self.orders)) if (self.name, str(place)) not in broken]

    @property
    def document(self) -> dict[str, Any]:
        """The orders as a document of JSON has them."""
        return {self.name: list(self.orders)}

    def only(self, kept: Sequence[int]) -> dict[str, Any]:
        """A document of some of the orders, by their places."""
        return {self.name: [self.orders[place] for place in kept]}

    def member(self, path: Path) -> str | None:
        """What the column means that a place in an order is said in; none for the order as a whole."""
        inner = path[2:]
        if inner[:1] == ("choices",):
            return inner[1] if len(inner) > 1 else None
        return inner[0] if inner and inner[0] in (*OWN, *MORE) else None

    def column(self, member: str) -> str:
        """The caller's name for a column; what it should be called where there is none."""
        return self.columns.get(member, member)

    def can_have(self, member: str) -> bool:
        """Whether the file can say it: an exporter's columns are what they are, our own may be added."""
        return bool(member) and (member in self.columns or not self.is_export)

    def told(self, fault: Fault) -> Fault:
        """A fault of the document at its place in the table; one of all orders stays what it is."""
        if isinstance(fault, RowFault) or len(fault.path) < 2 or fault.path[0] != self.name:
            return fault
        place = int(fault.path[1])
        member = self.member(fault.path)
        column = None if member is None else self.column(member)
        path = (self.name, str(place), *(() if column is None else (column,)))
        return _row_fault(fault, path, self.numbers[place], column)

    def word(self, member: str, value: object) -> str:
        """What a cell says for one of our values, in the caller's own words where there are any."""
        text = str(value).lower() if isinstance(value, bool) else str(value)
        return self.words.get(member, {}).get(text, text)


def _row_fault(fault: Fault, path: Path, row: int, column: str | None) -> RowFault:
    return RowFault(
        path=path,
        code=fault.code,
        detail=fault.detail,
        limit=fault.limit,
        found=fault.found,
        is_length=fault.is_length,
        row=row,
        column=column,
    )


def rows_of(table: Table, name: str, shop: Shop, export: Export | None = None) -> OrderRows:
    """The orders of a table, in our own columns or an exporter's. Raises `OrdersError` for a wrong header."""
    ours = export.columns if export else {each: each for each in names_of(shop.designs.values())}
    meaning, values = {column: member for member, column in ours.items()}, export.values if export else {}
    faults = listed(_header_faults(table.header, meaning, export))
    if faults:
        raise OrdersError(faults)
    reader = _Reader(name, table.header.cells, meaning, own_names(shop.designs.values()), export)
    for row in table.rows:
        reader.read(row)
    if not reader.orders:
        raise OrdersError((Fault(path=(name,), code="missing", detail=say("there is no order below the header row")),))
    return OrderRows(
        name=name,
        orders=tuple(reader.orders),
        numbers=tuple(reader.numbers),
        columns={meaning[column]: column for column in table.header.cells if column in meaning},
        words={member: {meant: said for said, meant in each.items()} for member, each in values.items()},
        is_export=export is not None,
        faults=tuple(reader.faults),
    )


def _header_faults(header: Row, meaning: Mapping[str, str], export: Export | None) -> Iterator[RowFault]:
    """What is wrong with the names of the columns."""
    ignored = export.ignored if export else ()
    for place, column in enumerate(header.cells):
        path = ("header", str(place))
        if column in header.cells[:place] and column:
            detail = say("the column {column} stands here more than once", column=shown(column))
            yield RowFault(path=path, code="given_twice", detail=detail, row=header.number, column=column)
        elif column and column not in meaning and column not in ignored:
            detail = unknown_name("column", column, (*meaning, *ignored))
            yield RowFault(path=path, code="unknown_field", detail=detail, row=header.number, column=column)
    members = {meaning[column] for column in header.cells if column in meaning}
    yield from _missing(header, members, meaning)


def _missing(header: Row, members: set[str], meaning: Mapping[str, str]) -> Iterator[RowFault]:
    column_of = {member: column for column, member in meaning.items()}
    wanted = ("ref",) if members & {"design", "code"} else ("ref", "design" if "design" in column_of else "code")
    for member in wanted:
        if member not in members:
            column = column_of[member]
            near = near_names(column, header.cells)
            hint = say("; is it {near!r}?", near=near[0]) if near else ""
            detail = say("the header row has no column {column!r}{hint}", column=column, hint=hint)
            yield RowFault(path=("header",), code="missing", detail=detail, row=header.number, column=column)


class _Reader:
    """Makes orders of rows, one after the other."""

    def __init__(
        self,
        name: str,
        header: Sequence[str],
        meaning: Mapping[str, str],
        own: Container[str],
        export: Export | None,
    ) -> None:
        self.name = name
        self.header = header
        self.meaning = meaning
        self.own = own
        self.export = export
        self.orders: list[dict[str, Any]] = []
        self.numbers: list[int] = []
        self.faults: list[RowFault] = []
        self._times: dict[str, int] = {}

    def read(self, row: Row) -> None:
        """One row as an order; or its faults, with as much of an order as can be read."""
        if self._is_no_strap(row):
            return
        self.numbers.append(row.number)
        order: dict[str, Any] = {}
        self.orders.append(order)
        if len(row.cells) != len(self.header):
            told = "this row has {found} cells where the header has {wanted}"
            self._wrong(row, None, WRONG_CELLS, say(told, found=len(row.cells), wanted=len(self.header)))
            return
        for column, cell in zip(self.header, row.cells, strict=True):
            if not column and cell:
                self._wrong(row, None, "unknown_field", say("{cell} stands below no column's name", cell=shown(cell)))
            elif cell and column in self.meaning:
                self._say(row, order, column, cell)
        if "ref" in order and self.export:
            order["ref"] = self._numbered(order["ref"])

    def _is_no_strap(self, row: Row) -> bool:
        """Whether an exporter says that this row is something else."""
        column = self.export.columns.get("design") if self.export else None
        place = self.header.index(column) if column in self.header else len(row.cells)
        return self.export is not None and place < len(row.cells) and row.cells[place] in self.export.no_straps

    def _say(self, row: Row, order: dict[str, Any], column: str, cell: str) -> None:
        member = self.meaning[column]
        said = self.export.values.get(member, {}).get(cell, cell) if self.export else cell
        if member not in self.own:
            order.setdefault("choices", {})[member] = said
            return
        try:
            order[member] = _READERS.get(member, str)(said)
        except ValueError as error:
            self._wrong(row, column, "wrong_type", str(error))
            if member == "ref":  # what else is wrong in the row is told as well
                order[member] = f"{row.number}"

    def _numbered(self, ref: str) -> str:
        """An exporter's ref that comes again, with which time it comes: an order of two straps has two rows."""
        self._times[ref] = self._times.get(ref, 0) + 1
        return ref if self._times[ref] == 1 else f"{ref}/{self._times[ref]}"

    def _wrong(self, row: Row, column: str | None, code: str, detail: str) -> None:
        path = (self.name, str(len(self.orders) - 1), *(() if column is None else (column,)))
        self.faults.append(RowFault(path=path, code=code, detail=detail, row=row.number, column=column))


def _ref(cell: str) -> str:
    if cell.startswith(_FORMULA):
        raise ValueError(
            say(
                "{cell} begins as a formula does: a spreadsheet would reckon it where it is told again",
                cell=shown(cell),
            )
        )
    return cell


def _quantity(cell: str) -> int:
    if not (cell.isascii() and cell.isdigit() and len(cell) <= _MOST_DIGITS):
        raise ValueError(say("{cell} is not a whole number", cell=shown(cell)))
    return int(cell)


def _pair(cell: str) -> bool:
    if cell not in ("true", "false"):
        raise ValueError(say("has to be true or false, not {cell}", cell=shown(cell)))
    return cell == "true"


def _sizes(cell: str) -> list[str]:
    return [each.strip() for each in cell.split(BETWEEN_SIZES)]


_READERS: Mapping[str, Any] = {"ref": _ref, "quantity": _quantity, "pair": _pair, "sizes": _sizes}
