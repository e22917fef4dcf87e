"""CSV as RFC 4180 has it, section 2 by number, and what of it is refused here."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.schemas.csv_text import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS, CsvError, read_csv

LINES = [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]
RFC_4180 = {
    "1: each record on a line of its own": ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", LINES),
    "2: the last one without a line break": ("aaa,bbb,ccc\r\nzzz,yyy,xxx", LINES),
    "5: quotes round fields": ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', LINES),
    "6: line breaks and commas in quotes": (
        '"aaa","b\r\nb,b","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nb,b", "ccc"], ["zzz", "yyy", "xxx"]]
    ),
    "7: quotes in quotes": ('"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
}  # fmt: skip
"""The examples of RFC 4180, section 2, with its fields as they are meant."""


def cells(text):
    table = read_csv(text.encode() if isinstance(text, str) else text)
    return [list(row.cells) for row in (table.header, *table.rows)]


@pytest.mark.parametrize("name", RFC_4180)
def test_the_examples_of_the_standard_are_read_as_it_says(name):
    text, meant = RFC_4180[name]
    assert cells(text) == meant


@pytest.mark.parametrize("line_break", ["\r\n", "\n", "\r"])
@pytest.mark.parametrize("separator", [",", ";"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_separator_line_breaks_and_byte_order_mark_are_found(line_break, separator, mark):
    text = line_break.join(separator.join(row) for row in (("ref", "design"), ("A1", "x")))
    assert cells(mark + text.encode()) == [["ref", "design"], ["A1", "x"]]


def test_a_separator_inside_quotes_does_not_count():
    assert cells('"a;b;c",d\n1,2\n')[0] == ["a;b;c", "d"]


def test_rows_are_numbered_as_a_spreadsheet_does_and_blank_ones_are_none():
    table = read_csv(b'ref;design\n\n;\nA1;"two\nlines"\n ; \nA2;x\n')
    assert [(row.number, row.cells) for row in table.rows] == [(4, ("A1", "two\nlines")), (6, ("A2", "x"))]


def test_an_inch_mark_in_a_bare_cell_is_itself():
    assert cells('length,x\n15 1/2",y\n')[1] == ['15 1/2"', "y"]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n\n;\n",
        b'a,b\n"A1,x\n',
        b'a,b\n"A1"x,y\n',
        b"a,b\nA\x00,y\n",
        b"a,b\nA\x1b[31m,y\n",
        "a,b\né,y\n".encode("latin-1"),
        "a,b\n1,2\n".encode("utf-16"),
        b",".join([b"a"] * (MOST_COLUMNS + 1)),
        b"a,b\n" + b"x" * (LONGEST_CELL + 1) + b",y\n",
        b"a,b\n" + b'"' + b"x" * 200_000 + b'",y\n',
        b"a,b\n" + b"1,2\n" * (MOST_ROWS + 1),
    ],
)
def test_what_is_not_csv_is_refused_with_a_reason(content):
    with pytest.raises(CsvError) as refused:
        read_csv(content)
    assert len(refused.value.reason) > 10


_CELL = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs"), exclude_characters="\ufeff"), max_size=12)


@given(st.lists(st.tuples(_CELL, _CELL), min_size=1, max_size=6), st.sampled_from((",", ";")))
def test_what_the_standard_librarys_writer_writes_is_read(rows, separator):
    """The library's own writer as the other side, its cells but for blanks round them."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, quoting=csv.QUOTE_ALL)
    writer.writerow(("ref", "design"))
    writer.writerows(rows)
    meant = [[cell.strip() for cell in row] for row in rows]
    assert cells(out.getvalue()) == [["ref", "design"], *(row for row in meant if any(row))]
