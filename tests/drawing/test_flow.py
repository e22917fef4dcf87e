"""Text in lines and tables over pages: nothing lost, nothing beyond its room, heads on every page."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from service.drawing.font import text_width
from service.drawing.model import Group, Path, Text
from service.drawing.parts.wrap import wrap
from service.drawing.printed.flow import Column, Heading, Prose, Table, flow, flow_well
from service.drawing.sizes import Sizes

SIZES = Sizes(3.3)
WORDS = st.text(
    st.characters(codec="ascii", exclude_characters=" \n", categories=["L", "N", "P"]), min_size=1, max_size=30
)


def texts(items, x=0.0, y=0.0):
    """Every text with its place on the page."""
    for item in items:
        if isinstance(item, Group):
            yield from texts(item.items, x + item.x, y + item.y)
        elif isinstance(item, Text):
            yield item, x + item.x, y + item.y


def lowest(items, y=0.0):
    """The lowest y of any line or text."""
    found = [0.0]
    for item in items:
        if isinstance(item, Group):
            found.append(lowest(item.items, y + item.y))
        elif isinstance(item, Text):
            found.append(y + item.y)
        elif isinstance(item, Path):
            found += [y + segment.y for segment in item.segments]
    return max(found)


@given(st.lists(WORDS, max_size=40), st.floats(4, 120))
def test_no_line_is_wider_than_its_room_and_no_letter_is_lost(words, width):
    text = " ".join(words)
    lines = wrap(text, width, 3.3)
    assert "".join(lines).replace(" ", "") == "".join(words)
    for line in lines:
        assert text_width(line, 3.3) <= width or len(line) == 1


def test_a_reading_is_never_broken():
    """4 1/2 in must not become 4 at the end of a line and 1/2 in on the next."""
    text = "at 3/4, 1 3/4, ≈ 22 17/64, 101.5 mm, 4 1/2 in, 16 in, 21 mm"
    whole = {"at", "3/4,", "1 3/4,", "≈ 22 17/64,", "101.5 mm,", "4 1/2 in,", "16 in,", "21 mm"}
    for width in range(18, 100):
        lines = wrap(text, width, 3.3)
        assert " ".join(lines) == text
        left = text
        for part in ("≈ 22 17/64,", "101.5 mm,", "4 1/2 in,", "16 in,", "21 mm"):
            assert any(part in line for line in lines), (width, lines)
            left = left.replace(part, "")
    assert {part for part in whole if part in text} == whole


def table(count):
    columns = (Column("No", weight="bold"), Column("Tool"), Column("Where", rest=True))
    return Table(columns, tuple((f"n{i}", f"tool {i}", f"place {i} " * (i % 9)) for i in range(count)))


@given(st.integers(1, 120), st.floats(60, 250), st.floats(60, 280))
def test_a_table_repeats_its_head_on_every_page_and_loses_no_row(count, width, height):
    pages = flow([Heading("Work"), table(count)], width, height, SIZES)
    found = []
    for page in pages:
        said = [text.text for text, _, _ in texts(page)]
        rows = [text for text in said if text.startswith("n") and text[1:].isdigit()]
        assert not rows or said.index("No") < said.index(rows[0])
        assert said.count("No") == 1
        assert rows
        found += rows
        assert lowest(page) <= height
        assert all(x + text_width(text.text, text.size, text.weight) <= width + 3.3 for text, x, _ in texts(page))
    assert found == [f"n{i}" for i in range(count)]


def test_a_row_taller_than_a_page_runs_on_under_the_same_head():
    long = Table((Column("No"), Column("Where", rest=True)), (("1", "12 3/4, " * 900),))
    pages = flow([long], 100, 120, SIZES)
    assert len(pages) > 3
    said = [[text.text for text, _, _ in texts(page)] for page in pages]
    assert all(page[0] == "No" for page in said)
    assert " ".join(" ".join(page) for page in said).count("12 3/4,") == 900


def test_a_heading_never_stands_alone_at_the_foot_of_a_page():
    for lines in range(10, 60):
        blocks = [*(Prose(f"line {i}") for i in range(lines)), Heading("Cautions"), Prose("one"), Prose("two")]
        for page in flow(blocks, 100, 120, SIZES):
            said = [text.text for text, _, _ in texts(page)]
            assert said[-1] != "Cautions"


@given(st.integers(1, 120), st.floats(150, 280))
def test_a_last_page_is_never_left_with_a_few_lines(count, height):
    """Either there are fewer pages, or the last one is filled about as far as the others."""
    blocks = [Heading("Work"), table(count)]
    plain, well = flow(blocks, 190, height, SIZES), flow_well(blocks, 190, height, SIZES)
    assert len(well) <= len(plain)
    assert all(lowest(page) <= height for page in well)
    assert len(well) == 1 or lowest(well[-1]) >= 0.22 * height
    assert [text.text for page in well for text, _, _ in texts(page) if text.text[0] == "n"] == [
        f"n{i}" for i in range(count)
    ]


def test_lettering_is_made_smaller_where_that_saves_a_page_and_not_otherwise():
    """Two lines too many are taken up by capitals a little smaller; half a page too many is left as it is."""
    prose = [Prose(f"line {number}") for number in range(60)]
    line = SIZES.line
    sizes = [
        {text.size for page in flow_well(prose, 190, count * line, SIZES) for text, _, _ in texts(page)}
        for count in (58, 40)
    ]
    assert sizes == [{SIZES.em * 0.94}, {SIZES.em}]


def test_a_short_table_is_never_divided_and_no_row_of_a_long_one_stands_alone():
    """Six rows with the words over them, wherever on a page they come; thirty rows at any height of page."""
    for lines in range(60):
        short = [*(Prose(f"line {i}") for i in range(lines)), Heading("Measure"), Prose("flat"), table(6)]
        said = [[text.text for text, _, _ in texts(page)] for page in flow(short, 190, 120, SIZES)]
        (page,) = (page for page in said if "Measure" in page)
        assert {"flat", "No", *(f"n{i}" for i in range(6))} <= set(page)
    for height in range(60, 120):
        pages = flow([table(30)], 190, height, SIZES)
        counts = [sum(text.text[0] == "n" for text, _, _ in texts(page)) for page in pages]
        assert counts[0] > 1
        assert counts[-1] > 1


def test_a_short_paragraph_is_never_divided():
    text = "six words of which some return " * 6
    for lines in range(60):
        pages = flow([*(Prose(f"line {i}") for i in range(lines)), Prose(text)], 100, 120, SIZES)
        said = [text.text for page in pages for text, _, _ in texts(page) if not text.text.startswith("line")]
        last = [text.text for text, _, _ in texts(pages[-1])]
        assert 1 < len(said) < 5
        assert set(said) <= set(last)


def test_cells_of_a_row_do_not_run_into_each_other():
    wide = Table((Column("A" * 9), Column("B" * 12), Column("C", rest=True)), (("x " * 60, "y " * 60, "z " * 60),))
    (page,) = flow([wide], 150, 400, SIZES)
    columns = {}
    for text, x, _ in texts(page):
        columns.setdefault(round(x, 3), []).append(text_width(text.text, text.size, text.weight))
    starts = sorted(columns)
    assert len(starts) == 3
    for start, following in pairwise(starts):
        assert start + max(columns[start]) <= following
