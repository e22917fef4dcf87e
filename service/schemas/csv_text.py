"""The one door for CSV: RFC 4180 text in, a table of texts out. What its columns mean is not known here.

Read strictly, by the standard library. The separator is the comma or the semicolon, whichever stands more often in the
header row outside quotes. Lines may end in CR LF, LF or CR. Refused here: any encoding but UTF-8, control characters,
quotes that are not closed, very long cells, very many columns or rows. Blanks round a cell are no part of it, and a row
of blank cells is no row. The time that it takes grows no faster than the length of the text.
"""

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO

from service.strap.errors import StrapError
from service.words import say

MOST_COLUMNS = 200
MOST_ROWS = 5000
LONGEST_CELL = 16_000
"""Characters: as many as the longest code has."""

_QUOTED = re.compile(r'"[^"]*"?')
_LINE_END = re.compile(r"[\r\n]")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


class CsvError(StrapError, ValueError):
    """A text that is not CSV, or not CSV that this service reads. `reason` is a sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True)
class Row:
    """One row. `number` counts from 1, the header and blank rows with it, as a spreadsheet numbers them."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A header and the rows below it that are not blank, of any number of cells."""

    header: Row
    rows: tuple[Row, ...]


def read_csv(content: bytes) -> Table:
    """The table that a CSV text is; a byte order mark before it is passed over. Raises `CsvError`."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CsvError(say("the text is not UTF-8")) from error
    if _CONTROL.search(text):
        raise CsvError(say("the text holds a control character"))
    rows = _rows(text, _separator(text))
    if not rows:
        raise CsvError(say("there is no row in it: the first one names the columns"))
    header, *rows = rows
    if len(header.cells) > MOST_COLUMNS:
        raise CsvError(say("the header row has more than {most} columns", most=MOST_COLUMNS))
    return Table(header, tuple(rows))


def _separator(text: str) -> str:
    """The comma, or the semicolon where the header row has more of those outside quotes."""
    first = _LINE_END.split(_QUOTED.sub("", text.lstrip("\r\n")), maxsplit=1)[0]
    return ";" if first.count(";") > first.count(",") else ","


def _rows(text: str, separator: str) -> list[Row]:
    return list(_checked(csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True)))


def _checked(lines: Iterator[list[str]]) -> Iterator[Row]:
    number = found = 0
    try:
        for number, line in enumerate(lines, 1):
            cells = tuple(cell.strip() for cell in line)
            if not any(cells):
                continue
            found += 1
            if found > MOST_ROWS + 1:
                raise CsvError(say("there are more than {most} rows", most=MOST_ROWS))
            if max(map(len, cells)) > LONGEST_CELL:
                raise CsvError(
                    say("row {row} has a cell of more than {most} characters", row=number, most=LONGEST_CELL)
                )
            yield Row(number, cells)
    except csv.Error as error:
        raise CsvError(say("not CSV: {error}, in row {row}", error=error, row=number + 1)) from error
