"""The working sheet: true places, nothing over anything, and shape and line that tell cut from scribe."""

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.drawing import lines
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Circle, Close, Group, Path, Text
from service.drawing.parts import symbols
from service.drawing.parts.chosen import UnknownPiece
from service.drawing.working.sheet import working_sheet
from service.strap.errors import Refusal
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.solve import solve
from tests.drawing.printed_support import example
from tests.drawing.support import (
    SHOP,
    STRAPS,
    all_items,
    flat,
    one_piece,
    overlapping,
    patterns,
    piece_of,
    text_boxes,
    three_piece,
    unchecked,
)
from tests.support.straps import specs

UNITS = st.sampled_from(["in", "mm"])


@pytest.fixture(params=STRAPS)
def pattern(request):
    return STRAPS[request.param]()


def sheet(pattern, units="in", piece=None):
    return working_sheet(pattern, SHOP, piece=piece, units=units)


def texts(drawing):
    return [item.text for item, _, _ in all_items(drawing) if isinstance(item, Text)]


def layer(drawing, name):
    return next(layer for layer in drawing.layers if layer.id == name)


def assert_clear(drawing):
    """No text stands on another, none on a piece, none outside the sheet."""
    boxes = text_boxes(drawing)
    assert overlapping(boxes) == []
    for box in boxes:
        assert box.left >= 0
        assert box.top >= 0
        assert box.right <= drawing.width
        assert box.bottom <= drawing.height


@given(patterns(), UNITS)
def test_labels_never_overlap_whatever_is_dimensioned(pattern, units):
    drawing = sheet(pattern, units)
    assert_clear(drawing)
    piece, spot = pattern.pieces[0], layer(drawing, "cut").items[0]
    edge = piece.width / MM / 2
    for box in text_boxes(drawing):
        beside = box.right <= spot.x or box.left >= spot.x + piece.length / MM
        assert beside or box.bottom <= spot.y - edge or box.top >= spot.y + edge


@settings(max_examples=60, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(["three_piece", "one_piece", "open"]).flatmap(specs), UNITS)
def test_labels_never_overlap_on_straps_that_can_be_made(spec, units):
    try:
        pattern = solve(spec, SHOP)
    except Refusal:
        return
    assert_clear(sheet(pattern, units))


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_station_along_the_centre_line_is_read(pattern, units):
    shown = set(texts(sheet(pattern, units)))
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.y == 0:
                assert reading(feature.x, units) in shown
        assert reading(piece.length, units) in shown


def test_the_worked_example_reads_as_worked_by_hand():
    """Common practice, worked by hand: a 24 × 2 1/2 in body with six bells."""
    shown = texts(sheet(three_piece(), piece="body"))
    bells = ["4 1/2 in", "7 1/2 in", "10 1/2 in", "13 1/2 in", "16 1/2 in", "19 1/2 in"]
    spots = ["6 in", "9 in", "12 in", "15 in", "18 in"]
    joints = ["3/4 in", "1 3/4 in", "22 1/4 in", "23 1/4 in"]
    for station in (*bells, *spots, *joints, "1 1/2 in", "22 1/2 in", "21 × 1 in (= 21 in)"):
        assert station in shown
    assert "1/4 in inside each edge: first at 1 1/2 in, then 21 × 1 in (= 21 in)" in shown
    assert "6 × slot punch 5/8 in" in shown
    assert "44 × scribe only, never cut" in shown


def test_the_sheet_says_what_was_ordered_and_at_which_scale(pattern):
    shown = texts(sheet(pattern))
    for text in (SHOP.name, "true size: 1 unit = 1 mm", "100 mm", "4 in", "hole: cut through"):
        assert text in shown
    length = reading(pattern.finished.length, "in")
    assert any(text.startswith(length) for text in shown)
    assert pattern.pieces[0].leather.title in shown


def test_the_key_explains_only_what_occurs():
    plain = piece_of(10 * INCH, INCH, ())
    shown = texts(sheet(unchecked(plain)))
    assert "outline: cut" in shown
    assert not {"hole: cut through", "mark: scribe only, never cut", "fold", "slot: cut through"} & set(shown)
    assert "scribe only, never cut" not in shown


@pytest.mark.parametrize("make", [three_piece, one_piece])
def test_size_holes_are_numbered_as_answers_count_them(make):
    """1 is the nearest to the buckle (`finished.holes`): each number stands below its own hole, within the strap."""
    pattern = make()
    piece = next(piece for piece in pattern.pieces if any(f.purpose == "size_hole" for f in piece.features))
    holes = sorted((f for f in piece.features if f.purpose == "size_hole"), key=lambda each: each.x)
    numbers = symbols.hole_numbers(piece, 3.0)
    assert [text.text for text in numbers] == [str(hole.hole) for hole in pattern.finished.holes]
    for hole, text in zip(holes, numbers, strict=True):
        assert text.x == pytest.approx(hole.x / MM)
        assert hole.diameter / MM / 2 < text.y - CAP_HEIGHT * text.size < text.y < piece.width / MM / 2
    shown = [item.text for item, _, _ in all_items(sheet(pattern)) if isinstance(item, Text)]
    assert all(shown.count(text.text) == 1 for text in numbers)


def test_numbers_shrink_on_a_narrow_strap_and_are_left_out_where_there_is_no_room():
    hole = Feature(id="strap.size_hole.4", kind="hole", action="punch", purpose="size_hole", x=INCH, diameter=4 * MM)
    sizes = [
        [text.size for text in symbols.hole_numbers(piece_of(3 * INCH, width * MM, (hole,)), 3.0)]
        for width in (25, 9, 6)
    ]
    assert [len(each) for each in sizes] == [1, 1, 0]
    assert sizes[1][0] == pytest.approx((4.5 - 2 - 1.2) / CAP_HEIGHT)


def test_every_piece_says_which_face_is_up():
    """A lining is glued flesh to flesh, so its flesh lies up where the strap's grain does (common practice)."""
    shown = texts(sheet(example("lined_bag_strap")))
    faces = [re.search(r"(grain|flesh) side up", text)[0] for text in shown if "side up" in text]
    assert faces == ["grain side up", "flesh side up"]


def test_each_layer_holds_its_features_and_no_others(pattern):
    drawing = sheet(pattern)
    for name, action in (("punch", "punch"), ("mark", "mark"), ("fold", "fold")):
        wanted = {f.id for piece in pattern.pieces for f in piece.features if f.action == action}
        assert _ids(layer(drawing, name).items) == wanted
    outlines = {f"{piece.name}.outline" for piece in pattern.pieces}
    assert _ids(layer(drawing, "cut").items) == outlines


def _ids(items):
    found = {item.id for item, _, _ in flat(items)} - {None}
    groups = {item.id for group in items for item in group.items if isinstance(item, Group)} - {None}
    return found | groups


def test_cut_and_scribe_differ_by_shape_and_line(pattern):
    """Cut through: a closed wide contour at true size. Scribed: narrow strokes, nothing closed or filled."""
    drawing = sheet(pattern)
    for item, _, _ in flat(layer(drawing, "punch").items):
        assert item.pen == lines.PUNCH
        assert isinstance(item, Circle) or item.segments[-1] == Close()
        assert item.fill is not None
    for item, _, _ in flat(layer(drawing, "mark").items):
        assert item.pen == lines.MARK
        assert isinstance(item, Path)
        assert item.fill is None
        assert Close() not in item.segments


def test_holes_are_drawn_at_their_true_diameter_and_place(pattern):
    drawing = sheet(pattern)
    drawn = {item.id: (item, x, y) for item, x, y in flat(layer(drawing, "punch").items)}
    frames = {group.name: group for group in layer(drawing, "cut").items}
    for piece in pattern.pieces:
        frame = frames[piece.name]
        for feature in piece.features:
            if feature.kind == "hole":
                circle, x, y = drawn[feature.id]
                assert circle.radius * 2 == pytest.approx(feature.diameter / MM)
                assert x + circle.x - frame.x == pytest.approx(feature.x / MM)
                assert y + circle.y - frame.y == pytest.approx(feature.y / MM)


def test_a_slot_without_its_punch_is_two_holes_and_two_cuts():
    slot = Feature(
        id="strap.ornament.1", kind="slot", action="punch", purpose="ornament", x=3 * INCH, length=16 * MM,
        width=3 * MM, angle=90, method="holes_and_cuts", tool="punch_3",
    )  # fmt: skip
    drawing = sheet(unchecked(piece_of(6 * INCH, INCH, (slot,))))
    (frame,) = layer(drawing, "punch").items
    (group,) = frame.items
    circles = [item for item in group.items if isinstance(item, Circle)]
    assert [(round(c.x, 6), round(c.y, 6), c.radius) for c in circles] == [
        (76.2, -6.5, 1.5),
        (76.2, 6.5, 1.5),
    ]
    (cuts,) = [item for item in group.items if isinstance(item, Path)]
    ends = sorted((round(point.x, 6), round(point.y, 6)) for point in cuts.segments)
    assert ends == [(74.7, -6.5), (74.7, 6.5), (77.7, -6.5), (77.7, 6.5)]
    assert any("two holes" in text and "two knife cuts" in text for text in texts(drawing))


def test_pieces_do_not_lie_on_one_another(pattern):
    drawing = sheet(pattern)
    pieces = {piece.name: piece for piece in pattern.pieces}
    rectangles = []
    for group in layer(drawing, "cut").items:
        piece = pieces[group.name]
        half = piece.width / MM / 2
        rectangles.append((group.x, group.y - half, group.x + piece.length / MM, group.y + half))
    for index, one in enumerate(rectangles):
        for other in rectangles[:index]:
            apart_x = one[2] < other[0] or other[2] < one[0]
            assert apart_x or one[3] < other[1] or other[3] < one[1]


def test_one_piece_alone_and_none_that_is_not_there():
    drawing = sheet(three_piece(), piece="keeper")
    assert [group.name for group in layer(drawing, "cut").items] == ["keeper"]
    with pytest.raises(UnknownPiece, match="body, buckle_billet, tongue_billet, keeper"):
        sheet(three_piece(), piece="handle")


def test_the_description_names_every_piece_and_tool(pattern):
    drawing = sheet(pattern)
    for piece in pattern.pieces:
        assert reading(piece.length, "in") in drawing.description
    assert "round punch 3 (1/8 in)" in drawing.description


def _crowded(count):
    """A strap 84 in long with `count` marks at uneven steps: none of them can be left out as a row."""
    step = 84 * INCH // (count + 1)
    features = tuple(
        Feature(
            id=f"strap.between.{n}", kind="mark", action="mark", purpose="between",
            x=n * step + (n % 3) * step // 7, item="spot_6",
        )
        for n in range(1, count + 1)
    )  # fmt: skip
    return unchecked(piece_of(84 * INCH, 2 * INCH, features))


def test_three_thousand_stations_are_all_read_and_still_clear():
    pattern = _crowded(3000)
    drawing = sheet(pattern)
    assert_clear(drawing)
    shown = " ".join(texts(drawing))
    assert all(reading(feature.x, "in") in shown for feature in pattern.pieces[0].features)
