"""The cutter's drawing: cut lines only, apart by layer, moved to the right side by half the kerf."""

import io
from dataclasses import replace
from itertools import combinations
from math import pi
from xml.etree import ElementTree as ET

import pytest
import shapely
import svgelements
from hypothesis import given

from service.drawing.cutting.cutter import KerfTooWide, cutter_drawing
from service.drawing.model import Group, Text
from service.drawing.parts.chosen import UnknownPiece
from service.forms.pdf import drawing_pdf
from service.forms.svg import svg
from service.shop.looks import CutterLines
from service.strap.plane.lengths import MM
from tests.drawing.printed_support import example
from tests.drawing.support import SHOP, STRAPS, patterns, three_piece

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(params=STRAPS)
def pattern(request):
    return STRAPS[request.param]()


def drawn(pattern, kerf=0.0, piece=None, shop=SHOP):
    return cutter_drawing(pattern, shop, piece=piece, units="in", kerf=round(kerf * MM))


def shapes(drawing):
    """Every shape by its id, in millimetres, read by svgelements."""
    found = svgelements.SVG.parse(io.StringIO(svg(drawing)), ppi=25.4, reify=True)
    return {item.id: item for item in found.elements() if isinstance(item, svgelements.Shape) and item.id}


def box(shape):
    return shape.bbox(with_stroke=False)


def test_three_layers_with_plain_ids_and_nothing_else(pattern):
    """Marks and cuts lie on layers of their own; no text, no picture, no filling anywhere."""
    root = ET.fromstring(svg(drawn(pattern)))
    layers = [child for child in root if child.tag == f"{SVG}g"]
    assert [layer.get("id") for layer in layers] == ["mark", "punch", "cut"]
    assert {element.tag for layer in layers for element in layer.iter()} <= {
        f"{SVG}g",
        f"{SVG}path",
        f"{SVG}circle",
    }
    for element in root.iter():
        assert element.get("fill") in (None, "none")
        if element.get("stroke-width"):
            assert float(element.get("stroke-width")) == 0.25


def pens(shop):
    """The colour and width of every line by its layer."""
    root = ET.fromstring(svg(drawn(three_piece(), shop=shop)))
    layers = [child for child in root if child.tag == f"{SVG}g"]
    return {
        layer.get("id"): {
            (part.get("stroke"), float(part.get("stroke-width"))) for part in layer.iter() if part.get("stroke")
        }
        for layer in layers
    }


def test_layers_have_the_colours_of_the_working_drawing():
    """Black, blue and vermillion of Okabe and Ito, *Color Universal Design*; a narrow line of ISO 128-2."""
    as_drawn = {"mark": {("#d55e00", 0.25)}, "punch": {("#0072b2", 0.25)}, "cut": {("#000000", 0.25)}}
    assert pens(SHOP) == as_drawn
    assert pens(replace(SHOP, cutter=CutterLines())) == as_drawn


def test_a_shop_says_what_its_machine_wants():
    own = CutterLines(line_width=MM // 50, cut="#00aa00", punch="#aa00aa")
    assert pens(replace(SHOP, cutter=own)) == {
        "mark": {("#d55e00", 0.02)},
        "punch": {("#aa00aa", 0.02)},
        "cut": {("#00aa00", 0.02)},
    }
    assert replace(SHOP, cutter=own).terms == SHOP.terms


def test_every_cut_and_mark_is_there_once_and_folds_are_not(pattern):
    features = [feature for piece in pattern.pieces for feature in piece.features]
    expected = [feature.id for feature in features if feature.action != "fold"]
    expected += [f"{piece.name}.outline" for piece in pattern.pieces]
    root = ET.fromstring(svg(drawn(pattern)))
    ids = [element.get("id") for layer in root.iter(f"{SVG}g") for element in layer if "." in element.get("id", "")]
    assert sorted(ids) == sorted(expected)


@pytest.mark.parametrize("kerf", [0.0, 0.2, 0.35])
def test_leather_comes_out_true_when_the_cut_takes_the_kerf(pattern, kerf):
    """Outlines are larger by the kerf, holes and slots smaller by it, and all lie where the pattern says."""
    found = shapes(drawn(pattern, kerf))
    for piece in pattern.pieces:
        left, top, right, bottom = box(found[f"{piece.name}.outline"])
        assert right - left == pytest.approx(piece.length / MM + kerf, abs=0.005)
        assert bottom - top == pytest.approx(piece.width / MM + kerf, abs=0.005)
        for feature in piece.features:
            if feature.action != "punch":
                continue
            a, b, c, d = box(found[feature.id])
            assert (a + c) / 2 - left - kerf / 2 == pytest.approx(feature.x / MM, abs=0.005)
            assert (b + d) / 2 - (top + bottom) / 2 == pytest.approx(feature.y / MM, abs=0.005)
            long, wide = (feature.length or feature.diameter) / MM, (feature.width or feature.diameter) / MM
            size = (c - a, d - b) if feature.angle == 0 else (d - b, c - a)
            assert size == pytest.approx((long - kerf, wide - kerf), abs=0.005)


def test_a_slot_without_a_punch_is_one_closed_contour():
    """Round it goes 2 (length - width) + π width, whatever tools the bench lacks."""
    bare = replace(three_piece().pieces[0], features=())
    slot = next(feature for feature in three_piece().pieces[0].features if feature.kind == "slot")
    piece = replace(bare, features=(replace(slot, method="holes_and_cuts"),))
    found = shapes(drawn(replace(three_piece(), pieces=(piece,))))
    around = (2 * (slot.length - slot.width) + pi * slot.width) / MM
    assert svgelements.Path(found[slot.id]).length(error=1e-6) == pytest.approx(around, abs=0.01)


@given(patterns())
def test_pieces_keep_apart_and_on_the_leather(pattern):
    leather = pattern.pieces[0].leather
    pieces = tuple(replace(piece, name=name) for piece in pattern.pieces for name in ("body", "keeper", "strap"))
    found = shapes(drawn(replace(pattern, pieces=pieces), 0.2))
    boxes = [shapely.box(*box(found[f"{piece.name}.outline"])) for piece in pieces]
    for a, b in combinations(boxes, 2):
        assert a.distance(b) >= 3 - 0.01
    assert max(each.bounds[3] for each in boxes) - min(each.bounds[1] for each in boxes) <= (
        max(leather.usable_width, pieces[0].width) / MM + 0.21
    )


def test_a_leather_too_narrow_for_all_is_followed_by_another():
    pattern = three_piece()
    leather = replace(pattern.pieces[0].leather, usable_width=70 * MM)
    pieces = tuple(replace(piece, leather=leather) for piece in pattern.pieces)
    found = shapes(drawn(replace(pattern, pieces=pieces)))
    tops = [box(found[f"{piece.name}.outline"]) for piece in pieces]
    assert max(b[3] for b in tops) - min(b[1] for b in tops) <= 70.01
    assert max(b[2] for b in tops) > leather.strip_length / MM


def test_each_leather_is_nested_by_itself():
    """A lining is cut from another leather than its strap: no strip of one leather holds both."""
    strap = example("lined_bag_strap")
    found = shapes(drawn(strap))
    bounds = {piece.name: box(found[f"{piece.name}.outline"]) for piece in strap.pieces}
    assert {piece.leather.id for piece in strap.pieces} == {"latigo_6_7", "lining_2_3"}
    assert bounds["strap"][3] < bounds["lining"][1] or bounds["lining"][3] < bounds["strap"][1]


def test_a_lining_is_cut_an_eighth_over_all_round():
    """1 1/2 in wide is cut 1 3/4 in, and as much longer; a kerf of 0.2 mm puts the path 0.1 mm outside (by hand)."""
    strap = example("lined_bag_strap")
    found = shapes(drawn(strap, 0.2))
    sizes = {}
    for name in ("strap", "lining"):
        left, top, right, bottom = box(found[f"{name}.outline"])
        sizes[name] = (right - left, bottom - top)
    assert sizes["strap"][1] == pytest.approx(1.5 * 25.4 + 0.2, abs=0.001)
    assert sizes["lining"][1] == pytest.approx(1.75 * 25.4 + 0.2, abs=0.001)
    assert sizes["lining"][0] - sizes["strap"][0] == pytest.approx(0.25 * 25.4, abs=0.001)


def test_a_kerf_that_would_leave_nothing_of_a_hole_is_refused():
    pattern = three_piece()
    narrowest = min(f.diameter or f.width for p in pattern.pieces for f in p.features if f.action == "punch")
    drawn(pattern, narrowest / MM - 0.01)
    with pytest.raises(KerfTooWide, match="narrowest"):
        drawn(pattern, narrowest / MM)


def test_one_piece_alone_and_no_piece_that_is_not_there():
    found = shapes(drawn(three_piece(), piece="keeper"))
    assert {name for name in found if name.endswith("outline")} == {"keeper.outline"}
    with pytest.raises(UnknownPiece):
        drawn(three_piece(), piece="strap")


def test_as_pdf_its_page_is_as_large_as_the_drawing_and_holds_no_text(pattern):
    """Read back with pdfium; 72 points an inch."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    drawing = drawn(pattern, 0.2)
    page = pypdfium2.PdfDocument(drawing_pdf(drawing))[0]
    assert page.get_size() == pytest.approx((drawing.width * 72 / 25.4, drawing.height * 72 / 25.4), abs=0.01)
    assert page.get_textpage().get_text_range() == ""


def test_no_text_in_the_drawing_itself(pattern):
    def kinds(items):
        for item in items:
            yield type(item)
            if isinstance(item, Group):
                yield from kinds(item.items)

    assert Text not in set(kinds(item for layer in drawn(pattern).layers for item in layer.items))
