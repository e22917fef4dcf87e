"""The cutter's drawing: cut lines only, apart by layer, moved to the right side by half the kerf."""

import ctypes
import io
from dataclasses import replace
from itertools import combinations
from math import pi
from xml.etree import ElementTree as ET

import pytest
import shapely
import svgelements
from hypothesis import given

from service.drawing.cutting.cutter import cutter_drawing
from service.drawing.cutting.layers import KerfTooWide
from service.drawing.font import text_width
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


def test_five_layers_with_plain_ids_and_nothing_else(pattern):
    """Marks, folds and cuts lie on layers of their own, names apart from them; nothing that is cut is filled."""
    root = ET.fromstring(svg(drawn(pattern)))
    layers = {child.get("id"): child for child in root if child.tag == f"{SVG}g"}
    assert list(layers) == ["text", "fold", "mark", "punch", "cut"]
    assert {element.tag for element in layers.pop("text").iter()} == {f"{SVG}g", f"{SVG}use"}
    for element in [element for layer in layers.values() for element in layer.iter()]:
        assert element.tag in {f"{SVG}g", f"{SVG}path", f"{SVG}circle"}
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
    as_drawn = {"text": set(), "fold": {("#009e73", 0.25)}, "mark": {("#d55e00", 0.25)}}
    as_drawn |= {"punch": {("#0072b2", 0.25)}, "cut": {("#000000", 0.25)}}
    assert pens(SHOP) == as_drawn
    assert pens(replace(SHOP, cutter=CutterLines())) == as_drawn


def test_a_shop_says_what_its_machine_wants():
    own = CutterLines(line_width=MM // 50, cut="#00aa00", punch="#aa00aa")
    assert pens(replace(SHOP, cutter=own)) == {
        "text": set(),
        "fold": {("#009e73", 0.02)},
        "mark": {("#d55e00", 0.02)},
        "punch": {("#aa00aa", 0.02)},
        "cut": {("#00aa00", 0.02)},
    }
    assert replace(SHOP, cutter=own).terms == SHOP.terms


@pytest.mark.parametrize(
    "own",
    [
        {"cut": "#009e73", "punch": "#0000ff", "mark": "#ff0000"},
        {"cut": "#666666", "punch": "#009e73", "mark": "#000000"},
        {"cut": "#d55e00", "punch": "#000000", "mark": "#0072b2"},
        {"cut": "#666666"},
        {"cut": "#111111", "punch": "#222222", "mark": "#333333", "fold": "#444444", "text": "#000000"},
    ],
)
def test_what_is_not_said_never_has_the_colour_of_another_layer(own):
    """A machine that tells layers by their colours would cut what is only a name."""
    drawing = drawn(three_piece(), shop=replace(SHOP, cutter=CutterLines(**own)))
    colours = {layer.id: item_colour(layer.items[0]) for layer in drawing.layers}
    assert len(set(colours.values())) == 5
    assert colours | own == colours


def item_colour(item):
    if isinstance(item, Group):
        return item_colour(item.items[0])
    return item.colour if isinstance(item, Text) else item.pen.colour


def test_every_cut_fold_and_mark_is_there_once(pattern):
    expected = [feature.id for piece in pattern.pieces for feature in piece.features]
    expected += [f"{piece.name}.outline" for piece in pattern.pieces]
    root = ET.fromstring(svg(drawn(pattern)))
    ids = [element.get("id") for layer in root.iter(f"{SVG}g") for element in layer if "." in element.get("id", "")]
    assert sorted(ids) == sorted(expected)


def test_a_fold_runs_from_edge_to_edge():
    """Of a billet 1 in wide: 12.7 mm to either side."""
    found = shapes(drawn(three_piece()))
    (fold,) = [each for each in three_piece().piece("buckle_billet").features if each.action == "fold"]
    left, top, right, bottom = box(found[fold.id])
    assert (right - left, bottom - top) == pytest.approx((0, 25.4), abs=0.001)
    assert (top + bottom) / 2 == pytest.approx(sum(box(found["buckle_billet.outline"])[1::2]) / 2, abs=0.002)


def names(drawing):
    """Every name with what it is written on, by its bounds: an em high at most, half an em a letter at least."""
    (layer,) = [each for each in drawing.layers if each.id == "text"]
    for group in layer.items:
        (text,) = group.items
        x, y = group.x + text.x, group.y + text.y
        yield text.text, shapely.box(x, y - 0.73 * text.size, x + text_width(text.text, text.size), y)


def test_each_piece_has_its_name_on_it_clear_of_holes_and_marks(pattern):
    drawing = drawn(pattern)
    found = shapes(drawing)
    for name, lettering in names(drawing):
        assert shapely.box(*box(found[f"{name}.outline"])).contains(lettering)
        for piece in pattern.pieces:
            for feature in piece.features:
                assert not lettering.intersects(shapely.box(*box(found[feature.id]))), feature.id
    assert [name for name, _ in names(drawing)] == [piece.name for piece in pattern.pieces]


@given(patterns())
def test_names_lie_on_pieces_however_little_room_there_is(pattern):
    drawing = drawn(pattern)
    assert [name for name, _ in names(drawing)] == [piece.name for piece in pattern.pieces]
    assert all(lettering.bounds[3] - lettering.bounds[1] >= 0.7 for _, lettering in names(drawing))


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


def test_as_pdf_its_page_is_as_large_as_the_drawing_and_holds_the_names_alone(pattern):
    """Read back with pdfium; 72 points an inch."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    drawing = drawn(pattern, 0.2)
    page = pypdfium2.PdfDocument(drawing_pdf(drawing))[0]
    assert page.get_size() == pytest.approx((drawing.width * 72 / 25.4, drawing.height * 72 / 25.4), abs=0.01)
    assert sorted(page.get_textpage().get_text_range().split()) == sorted(piece.name for piece in pattern.pieces)


def test_as_pdf_what_is_inside_is_drawn_before_what_parts_it():
    """Cairo writes no layers into a PDF: order, colour and width tell them apart, read back with pdfium."""
    raw = pytest.importorskip("pypdfium2.raw")
    pypdfium2 = pytest.importorskip("pypdfium2")
    page = pypdfium2.PdfDocument(drawing_pdf(drawn(three_piece())))[0]
    colours = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        parts = [ctypes.c_uint() for _ in range(4)]
        raw.FPDFPageObj_GetStrokeColor(item, *parts)
        colours.append("#{:02x}{:02x}{:02x}".format(*(part.value for part in parts[:3])))
    assert list(dict.fromkeys(colours)) == ["#009e73", "#d55e00", "#0072b2", "#000000"]
    assert colours == sorted(colours, key=["#009e73", "#d55e00", "#0072b2", "#000000"].index)
