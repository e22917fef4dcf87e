"""SVG: true places read back by another library, layers a cutter can take, and nothing that could do harm."""

import io
import os
import re
import subprocess
import sys
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
import svgelements
from hypothesis import given
from hypothesis import strategies as st

from service.drawing.model import Drawing, Layer, Text
from service.drawing.working.sheet import working_sheet
from service.forms.svg import number, svg
from service.strap.plane.lengths import MM
from tests.drawing.support import SHOP, STRAPS, one_piece, three_piece

SVG = "{http://www.w3.org/2000/svg}"
MM_PPI = 25.4
"""At 25.4 pixels an inch a pixel of svgelements is a millimetre."""


@pytest.fixture(params=STRAPS)
def pattern(request):
    return STRAPS[request.param]()


def sheet(pattern, shop=SHOP):
    return working_sheet(pattern, shop, piece=None, units="in")


def read_back(document):
    """Every shape by its id, transforms applied, in millimetres; read by svgelements."""
    found = svgelements.SVG.parse(io.StringIO(document), ppi=MM_PPI, reify=True)
    return {item.id: item for item in found.elements() if isinstance(item, svgelements.Shape) and item.id}


def centre(shape):
    left, top, right, bottom = shape.bbox()
    return (left + right) / 2, (top + bottom) / 2


def test_every_feature_lies_where_the_pattern_says(pattern):
    shapes = read_back(svg(sheet(pattern)))
    for piece in pattern.pieces:
        left, top, _, bottom = shapes[f"{piece.name}.outline"].bbox(with_stroke=False)
        for feature in piece.features:
            if feature.kind == "fold":
                continue
            x, y = centre(shapes[feature.id])
            assert x - left == pytest.approx(feature.x / MM, abs=0.002)
            assert y - (top + bottom) / 2 == pytest.approx(feature.y / MM, abs=0.002)


def test_outlines_have_their_length_and_width(pattern):
    shapes = read_back(svg(sheet(pattern)))
    for piece in pattern.pieces:
        left, top, right, bottom = shapes[f"{piece.name}.outline"].bbox(with_stroke=False)
        assert right - left == pytest.approx(piece.length / MM, abs=0.002)
        assert bottom - top == pytest.approx(piece.width / MM, abs=0.002)


def test_a_square_ended_piece_is_as_long_round_as_a_rectangle():
    """Perimeter 2 (length + width); slots: 2 (length - width) + π width."""
    pattern = three_piece()
    shapes = read_back(svg(sheet(pattern)))
    keeper = pattern.piece("keeper")
    around = 2 * (keeper.length + keeper.width) / MM
    assert svgelements.Path(shapes["keeper.outline"]).length() == pytest.approx(around, abs=0.01)
    slot = next(f for f in pattern.piece("body").features if f.kind == "slot")
    expected = (2 * (slot.length - slot.width) + 3.14159265 * slot.width) / MM
    assert svgelements.Path(shapes[slot.id]).length(error=1e-6) == pytest.approx(expected, abs=0.01)


def test_one_user_unit_is_one_millimetre(pattern):
    drawing = sheet(pattern)
    root = ET.fromstring(svg(drawing))
    width, height = float(root.get("width")[:-2]), float(root.get("height")[:-2])
    assert root.get("width").endswith("mm")
    assert root.get("viewBox").split() == ["0", "0", root.get("width")[:-2], root.get("height")[:-2]]
    assert (width, height) == pytest.approx((drawing.width, drawing.height), abs=0.001)


def test_layers_have_plain_ids_and_all_ids_are_unique(pattern):
    root = ET.fromstring(svg(sheet(pattern)))
    layers = [child.get("id") for child in root if child.tag == f"{SVG}g"]
    assert sorted(layers) == ["cut", "fold", "mark", "notes", "punch"]
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_only_the_notes_hold_text(pattern):
    root = ET.fromstring(svg(sheet(pattern)))
    for child in root:
        if child.get("id") in ("cut", "punch", "mark", "fold"):
            assert not list(child.iter(f"{SVG}use"))


def test_it_is_an_image_with_a_title_in_a_language(pattern):
    drawing = sheet(pattern)
    root = ET.fromstring(svg(drawing))
    assert root.get("role") == "img"
    assert root.get("lang") == "en"
    assert root.findtext(f"{SVG}title") == drawing.title
    assert root.findtext(f"{SVG}desc") == drawing.description
    assert root.get("aria-labelledby") == "title desc"


def test_nothing_runs_and_nothing_comes_from_outside(pattern):
    root = ET.fromstring(svg(sheet(pattern)))
    assert {element.tag for element in root.iter()} <= {
        f"{SVG}{name}" for name in ("svg", "title", "desc", "defs", "g", "path", "circle", "use", "symbol")
    }
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            if name.endswith("href"):
                assert re.fullmatch(r"#([gb][0-9a-f]+|picture1)", value)


def test_every_glyph_is_defined_once_and_used():
    root = ET.fromstring(svg(sheet(one_piece())))
    defined = [path.get("id") for path in root.find(f"{SVG}defs")]
    used = {use.get("href")[1:] for use in root.iter(f"{SVG}use")}
    assert set(defined) == used
    assert len(defined) == len(used)


def labels(document):
    root = ET.fromstring(document)
    return [element.get("aria-label") for element in root.iter(f"{SVG}g")]


def test_a_hostile_name_is_only_text():
    name = "</title><script>alert(1)</script> & \"quoted\" 'name' ]]>"
    document = svg(sheet(one_piece(), replace(SHOP, name=name)))
    assert "<script" not in document
    assert name in labels(document)
    assert name in ET.fromstring(document).findtext(f"{SVG}title")


@given(st.text(st.characters(codec=None), max_size=40))
def test_any_text_gives_a_document_that_can_be_read(text):
    layer = Layer("notes", "Notes", (Text(1.0, 2.0, text, 3.0),))
    document = svg(Drawing(10.0, 10.0, text, text, "en", (layer,)))
    assert ET.fromstring(document.encode()).tag == f"{SVG}svg"


@given(st.floats(-1e5, 1e5))
def test_coordinates_are_right_to_a_thousandth_and_short(value):
    text = number(value)
    assert float(text) == pytest.approx(value, abs=0.00051)
    assert re.fullmatch(r"-?\d+(\.\d{0,2}[1-9])?", text)
    assert text != "-0"


SCRIPT = """
import hashlib
from service.drawing.working.sheet import working_sheet
from service.forms.png import png
from service.forms.svg import svg
from tests.drawing.support import SHOP, STRAPS
for make in STRAPS.values():
    drawing = working_sheet(make(), SHOP, piece=None, units="mm")
    print(hashlib.sha256(svg(drawing).encode()).hexdigest())
    print(hashlib.sha256(png(drawing, width_px=700, max_pixels=10**7)).hexdigest())
"""


def test_two_processes_draw_the_same_bytes():
    """Under other hash seeds, time zones and locales."""

    def run(seed, zone, locale):
        changed = {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale}
        done = subprocess.run([sys.executable, "-c", SCRIPT], env=os.environ | changed, capture_output=True, check=True)
        return done.stdout

    first = run("1", "UTC", "C")
    assert len(first.split()) == 6
    assert first == run("4711", "Asia/Kathmandu", "C.UTF-8")
