"""The drawn cut plan against the plan itself: every piece at its place at the stated scales, and named."""

import re

import pytest

from service.drawing.cut_plan.hide import hide_panel
from service.drawing.cut_plan.pages import SIZES, cut_document, cut_drawing
from service.drawing.cut_plan.scale import scale_for
from service.drawing.font import text_width
from service.drawing.model import Group, LineTo, MoveTo, Path, Text
from service.forms.svg import svg
from service.strap.plane.lengths import INCH, MM
from service.workshop.cut_plan.model import Wanted
from service.workshop.cut_plan.steps import cutting_order
from tests.workshop.cut_plan.support import hides, plan

WIDTHS = (INCH // 2, INCH, 3 * INCH // 2, 5 * INCH // 2)


@pytest.fixture(scope="module")
def planned(shop):
    """Sixty pieces of two orders out of hides with trims."""
    wanted = [
        Wanted(
            ref=f"A{n % 2}",
            copy=n // 2 + 1,
            piece="body",
            leather="harness_8_9",
            width=WIDTHS[n % 4],
            length=(3 + n % 11) * INCH * 2,
        )
        for n in range(60)
    ]
    stock = hides((60 * INCH, 20 * INCH, 3), (40 * INCH, 9 * INCH, 2), straighten=INCH // 2, end_trim=INCH // 4)
    return plan(wanted, stock, shop, least=(6 * INCH, INCH // 2))


def walk(items, x=0.0, y=0.0):
    """Every item with where its frame lies."""
    for item in items:
        if isinstance(item, Group):
            yield from walk(item.items, x + item.x, y + item.y)
        else:
            yield item, x, y


def box(path):
    points = [(segment.x, segment.y) for segment in path.segments if isinstance(segment, MoveTo | LineTo)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def test_every_piece_is_drawn_where_it_is_cut(planned, shop):
    scale = scale_for(planned.sheets, 245, 150)
    for sheet in planned.sheets:
        panel = hide_panel(sheet, scale, dict.fromkeys(("A0", "A1"), "#ffffff"), shop, "in", SIZES)
        paths = [item for item in panel.items if isinstance(item, Path)]
        outline = box(max(paths, key=lambda path: box(path)[2] - box(path)[0]))
        drawn = {tuple(round(side, 6) for side in box(path)) for path in paths if path.fill == "#ffffff" and path.pen}
        for strip in sheet.strips:
            for piece in strip.pieces:
                x = outline[0] + piece.from_x / MM / scale.along
                y = outline[1] + strip.from_y / MM / scale.across
                right = x + piece.wanted.length / MM / scale.along
                low = y + strip.width / MM / scale.across
                assert tuple(round(side, 6) for side in (x, y, right, low)) in drawn
        assert outline[2] - outline[0] == pytest.approx(sheet.stock.length / MM / scale.along)


def test_names_stay_inside_their_pieces(planned, shop):
    scale = scale_for(planned.sheets, 245, 150)
    for sheet in planned.sheets:
        panel = hide_panel(sheet, scale, dict.fromkeys(("A0", "A1"), "#ffffff"), shop, "in", SIZES)
        rooms = [box(item) for item in panel.items if isinstance(item, Path)]
        for text in panel.items:
            if isinstance(text, Text) and text.anchor == "middle":
                half = text_width(text.text, text.size) / 2
                inside = [
                    r for r in rooms if r[0] <= text.x - half and text.x + half <= r[2] and r[1] <= text.y <= r[3]
                ]
                assert inside, text.text


def test_each_strip_has_its_number_and_a_box_to_tick(planned, shop):
    drawing = cut_drawing(planned, cutting_order(planned, shop, "in"), shop, "in")
    told = [item.text for item, *_ in walk(drawing.layers[0].items) if isinstance(item, Text)]
    numbers = [strip.n for sheet in planned.sheets for strip in sheet.strips]
    assert numbers == list(range(1, len(numbers) + 1))
    for number in numbers:
        assert str(number) in told
    outlined = [item for item, *_ in walk(drawing.layers[0].items) if isinstance(item, Path) and item.fill is None]
    sides = [(right - left, low - top) for left, top, right, low in map(box, outlined)]
    squares = [wide for wide, high in sides if wide == pytest.approx(high) and wide >= 4]
    assert len(squares) == len(cutting_order(planned, shop, "in")) + len(numbers)


def test_the_drawing_holds_everything_and_says_its_scale(planned, shop):
    drawing = cut_drawing(planned, cutting_order(planned, shop, "in"), shop, "in")
    scale = scale_for(planned.sheets, 245, 150)
    told = []
    for item, x, y in walk(drawing.layers[0].items):
        if isinstance(item, Text):
            told.append(item.text)
            assert 0 <= x + item.x <= drawing.width
            assert 0 <= y + item.y <= drawing.height
            if item.anchor == "start":
                assert x + item.x + text_width(item.text, item.size, item.weight) <= drawing.width
    assert any(str(scale) in text for text in told)
    assert f"along 1 : {scale.along:g}, across 1 : {scale.across:g}" == str(scale)


def test_pages_hold_every_hide_whole(planned, shop):
    for paper in ("a4", "letter", "a3"):
        document = cut_document(planned, cutting_order(planned, shop, "in"), shop, "in", paper)
        told = []
        for page in document.pages:
            for item, x, y in walk(page.items):
                if isinstance(item, Text):
                    told.append(item.text)
                    assert 0 <= x + item.x <= page.width
                    assert 0 <= y + item.y <= page.height
                elif isinstance(item, Path):
                    left, top, right, low = box(item)
                    assert -0.01 <= x + left <= x + right <= page.width
                    assert -0.01 <= y + top <= y + low <= page.height
        heads = [text for text in told if re.match(r"s[01], hide [0-9]", text)]
        assert len(heads) == len(planned.sheets)


def test_a_plan_of_nothing_is_drawn_and_says_what_is_missing(shop):
    piece = Wanted(ref="A", copy=1, piece="body", leather="harness_8_9", width=INCH, length=70 * INCH)
    empty = plan([piece], hides((20 * INCH, 5 * INCH, 1)), shop)
    drawn = svg(cut_drawing(empty, cutting_order(empty, shop, "in"), shop, "in"))
    assert "missing: 1 piece." in drawn
    assert cut_document(empty, (), shop, "in", "a4").pages


def test_hostile_names_are_written_as_text(shop):
    piece = Wanted(ref='<b>&"', copy=1, piece="<script>", leather="harness_8_9", width=INCH, length=9 * INCH)
    told = plan([piece], hides((20 * INCH, 5 * INCH, 1)), shop)
    drawn = svg(cut_drawing(told, cutting_order(told, shop, "in"), shop, "in"))
    assert "<script" not in drawn
    assert "<b>" not in drawn
