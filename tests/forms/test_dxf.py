"""DXF: read back by ezdxf's auditor, and by GDAL, a reader with no line of it in common, as the pattern says."""

import io
import os
import subprocess
import sys
from collections import Counter
from functools import cache
from math import hypot, pi

import ezdxf
import numpy as np
import pyogrio
import pyogrio.raw
import pytest
import shapely
from ezdxf import bbox
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import affine_transform

from openapi.example_requests import examples
from service.desk.pipeline import PatternSubject, read
from service.drawing.model import ArcTo, Drawing, Group, Layer, LineTo, MoveTo, Path, Stamp, Text
from service.drawing.model import Close as End
from service.forms.dxf import COLOURS, DXF, TOLERANCE, dxf
from service.forms.form import Budget, OutputOptions
from service.shop_file import demo_shop
from service.strap.plane.arcs import arcs_along, bulge_through
from service.strap.plane.lengths import MM
from service.strap.plane.outline import Arc, Cubic
from service.strap.solve import solve

SHOP = demo_shop()
STRAPS = (
    "parade_harness_strap", "staggered_harness_strap", "scalloped_dancers_garter", "pinked_parade_strap",
    "tapered_parade_strap", "neck_strap_with_keepers", "bag_strap_two_buckles", "goat_collar_centrepiece",
    "lined_bag_strap", "spliced_bell_strap",
)  # fmt: skip
"""Every shape of end and edge, slots, marks at either side of the middle, keepers, linings and laps."""
straps = pytest.mark.parametrize("name", STRAPS)
STEP = 0.05
"""Degrees between the points that GDAL reads an arc as: it takes 1e-7 off an area, and a circle's extremes are four."""


@pytest.fixture(autouse=True, scope="module")
def _fine_arcs():
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(STEP)})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})


@cache
def made(name, kerf=0):
    """The pattern, and as JSON data, and as DXF."""
    spec, code = read(examples()[name], SHOP)
    options = OutputOptions(form=DXF, view="cutter", kerf=kerf)
    subject = PatternSubject(pattern=solve(spec, SHOP), code=code, shop=SHOP, options=options, units="in")
    return subject.pattern, subject.data(), DXF.encode(subject, options, Budget(pixels=1, pages=1))


def told_by_gdal(data):
    """Every entity as (layer, shape, text), in the order of the file."""
    meta, _, shapes, fields = pyogrio.raw.read(data)
    columns = dict(zip(meta["fields"], fields, strict=True))
    return list(zip(columns["Layer"], shapely.from_wkb(shapes), columns["Text"], strict=True))


def on(told, layer):
    return [shape for each, shape, _ in told if each == layer]


def by_piece(told):
    """The contour of each piece by the name that stands on it."""
    names = [(text, place) for layer, place, text in told if layer == "text"]
    contours = [shapely.Polygon(shape.coords) for shape in on(told, "cut")]
    found = {}
    for name, place in names:
        (found[name],) = (contour for contour in contours if contour.contains(place))
    assert len(found) == len(names) == len(contours)
    return found


def outline_of(piece):
    """A piece's outline, exact but for 2000 chords to a curve: cubics by Bernstein, arcs by a quarter of a circle."""
    t = np.linspace(0, 1, 2001)[1:, None]
    at = np.array(piece.cut_outline.start) / MM
    places = [at]
    for segment in piece.cut_outline.segments:
        end = np.array(segment.end) / MM
        if isinstance(segment, Cubic):
            b, c = np.array(segment.control_1) / MM, np.array(segment.control_2) / MM
            places += [*((1 - t) ** 3 * at + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * end)]
        elif isinstance(segment, Arc):
            corner = np.array([end[0], at[1]] if (end[0] - at[0]) * (end[1] - at[1]) > 0 else [at[0], end[1]])
            centre = at + end - corner
            places += [*(centre + np.cos(t * pi / 2) * (at - centre) + np.sin(t * pi / 2) * (end - centre))]
        else:
            places.append(end)
        at = end
    return shapely.Polygon(places)


def whole(data):
    """The pieces that are cut as they lie in the strap: no strips, nothing that is trimmed."""
    return [piece for piece in data["pieces"] if not piece.get("splices") and "cut_length" not in piece]


def placed(name, contours):
    """From a place of a piece's frame, y downwards, to its place in the file, y upwards."""
    left, bottom, _, top = contours[name].bounds
    return lambda x, y: (left + x, (bottom + top) / 2 - y)


@straps
def test_the_auditor_finds_nothing_and_every_contour_is_closed(name):
    document = ezdxf.read(io.StringIO(made(name)[2].decode("utf-8")))
    auditor = document.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert (document.dxfversion, document.units, document.header["$MEASUREMENT"]) == ("AC1024", ezdxf.units.MM, 1)
    kinds = {(each.dxf.layer, each.dxftype()) for each in document.modelspace()}
    assert kinds <= {
        ("cut", "LWPOLYLINE"),
        ("punch", "LWPOLYLINE"),
        ("punch", "CIRCLE"),
        ("mark", "LINE"),
        ("fold", "LINE"),
        ("text", "TEXT"),
    }
    assert all(each.closed for each in document.modelspace().query("LWPOLYLINE"))


@straps
def test_another_reader_measures_the_outlines_of_the_pattern(name):
    """Round every piece to 0.001 mm; what it encloses to 0.005 mm2, which is 0.000005 mm all round the longest."""
    pattern, data, file = made(name)
    contours, names = by_piece(told_by_gdal(file)), {each["name"] for each in whole(data)}
    for piece in pattern.pieces:
        if piece.name not in names:
            continue
        contour, outline = contours[piece.name], outline_of(piece)
        assert contour.length == pytest.approx(outline.length, abs=0.001)
        assert contour.area == pytest.approx(outline.area, abs=0.005)
        lying = affine_transform(outline, [1, 0, 0, -1, *placed(piece.name, contours)(0, 0)])
        farthest = max(contour.exterior.distance(shapely.Point(each)) for each in lying.exterior.coords[::199])
        assert farthest < 0.001  # chords of the flattest arcs lie as far inside as `TOLERANCE` is


@straps
def test_another_reader_finds_each_hole_and_mark_where_the_pattern_has_it(name):
    """Centres and diameters to 0.001 mm; y counts upwards, so that no piece is mirrored."""
    _, data, file = made(name)
    told = told_by_gdal(file)
    contours = by_piece(told)
    cuts = [(box_centre(shape), shape) for shape in on(told, "punch")]
    marks = Counter(rounded(box_centre(shape)) for shape in on(told, "mark"))
    for piece in whole(data):
        at = placed(piece["name"], contours)
        for each in piece["features"]:
            place = at(each["x_mm"], each["y_mm"])
            if each["kind"] == "mark":
                assert any(marks[rounded(place, *shift)] == 2 for shift in SHIFTS), each["id"]
            elif each["action"] == "punch":
                (shape,) = [s for centre, s in cuts if hypot(centre[0] - place[0], centre[1] - place[1]) < 0.0015]
                check_cut(each, shape)


SHIFTS = [(x, y) for x in (0, -1, 1) for y in (0, -1, 1)]


def rounded(place, x=0, y=0):
    return round(place[0] * 500) + x, round(place[1] * 500) + y


def box_centre(shape):
    left, bottom, right, top = shape.bounds
    return (left + right) / 2, (bottom + top) / 2


def check_cut(feature, shape):
    """A hole's width and height are its diameter; a slot's area is that of a stadium, and it lies the right way."""
    left, bottom, right, top = shape.bounds
    area = shapely.Polygon(shape.coords).area
    if feature["kind"] == "hole":
        assert (right - left, top - bottom) == pytest.approx((feature["diameter_mm"],) * 2, abs=0.001)
        assert area == pytest.approx(pi * feature["diameter_mm"] ** 2 / 4, abs=0.002 * feature["diameter_mm"])
        return
    long, wide = feature["length_mm"], feature["width_mm"]
    size = (right - left, top - bottom) if feature["angle_deg"] == 0 else (top - bottom, right - left)
    assert size == pytest.approx((long, wide), abs=0.001)
    assert area == pytest.approx((long - wide) * wide + pi * wide**2 / 4, abs=0.001 * (long + wide))


def test_what_is_inside_is_cut_before_what_parts_it_and_nothing_is_lost():
    _, data, file = made("parade_harness_strap")
    layers = [layer for layer, _, _ in told_by_gdal(file)]
    assert layers == sorted(layers, key=["text", "fold", "mark", "punch", "cut"].index)
    features = Counter(each["action"] for piece in data["pieces"] for each in piece["features"])
    wanted = {"punch": features["punch"], "mark": 2 * features["mark"], "fold": features["fold"]}
    assert Counter(layers) == wanted | {"cut": len(data["pieces"]), "text": len(data["pieces"])}


def test_a_kerf_moves_outlines_out_and_holes_in_by_half_of_it():
    """Of 0.2 mm: a piece is 0.2 mm longer and wider, a hole 0.2 mm narrower."""
    (_, data, file), (*_, moved) = made("dancers_bell_garter"), made("dancers_bell_garter", kerf=MM // 5)
    for piece in data["pieces"]:
        left, bottom, right, top = by_piece(told_by_gdal(moved))[piece["name"]].bounds
        assert (right - left, top - bottom) == pytest.approx(
            (piece["length_mm"] + 0.2, piece["width_mm"] + 0.2), abs=0.001
        )
    before, after = (on(told_by_gdal(each), "punch") for each in (file, moved))
    for one, other in zip(before, after, strict=True):
        assert one.bounds[2] - one.bounds[0] - other.bounds[2] + other.bounds[0] == pytest.approx(0.2, abs=1e-5)


def test_layers_have_numbers_and_the_colours_of_the_drawing():
    document = ezdxf.read(io.StringIO(made("parade_harness_strap")[2].decode()))
    layers = {layer.dxf.name: layer for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")}
    assert {name: layer.color for name, layer in layers.items()} == COLOURS
    assert layers["punch"].rgb == (0x00, 0x72, 0xB2)
    assert not layers["cut"].dxf.hasattr("true_color")
    assert {layer.dxf.lineweight for name, layer in layers.items() if name != "text"} == {25}
    assert {style.dxf.font for style in document.styles} == {"txt"}


def test_the_file_says_how_large_it_is():
    document = ezdxf.read(io.StringIO(made("door_hanging")[2].decode()))
    box = bbox.extents(document.modelspace())
    width, height, _ = document.header["$EXTMAX"]
    assert (width - box.extmax.x, height - box.extmax.y, *box.extmin) == pytest.approx((2, 2, 2, 2, 0), abs=1e-6)
    assert document.header["$EXTMIN"] == (0, 0, 0)


PEN = Path((MoveTo(0, 0), LineTo(30, 0), LineTo(30, 20), End()))


def drawn(*items):
    return ezdxf.read(io.StringIO(dxf(Drawing(100, 50, "t\nu", "d", "en", (Layer("cut", "Cut", items),))).decode()))


def test_groups_lie_turned_and_scaled_as_in_svg():
    """Worked by hand: turned a quarter clockwise and doubled, (30, 20) lies at 70 - 40, 10 + 60: y upwards 50 - 70."""
    (line,) = drawn(Group((PEN,), 70, 10, rotation=90, scale=2)).modelspace()
    assert [tuple(round(v, 6) for v in each[:2]) for each in line] == [(70, 40), (70, -20), (30, -20)]
    (line,) = drawn(Stamp((PEN,), 5, 6)).modelspace()
    assert [tuple(each[:2]) for each in line] == [(5, 44), (35, 44), (35, 24)]


def test_arcs_turn_as_in_svg():
    """A half turn is a bulge of 1, a quarter tan 22.5°; clockwise is less than 0 where y counts upwards."""
    way = (MoveTo(0, 0), ArcTo(10, 20, 0), ArcTo(10, 30, 10, clockwise=False), LineTo(30, 10))
    (line,) = drawn(Path(way)).modelspace()
    assert [each[4] for each in line] == pytest.approx([-1, 2**0.5 - 1, 0])
    assert len(line) == 3
    assert not line.closed


@pytest.mark.parametrize(("anchor", "halign"), [("start", 0), ("middle", 1), ("end", 2)])
def test_text_is_one_line_that_says_what_it_says(anchor, halign):
    """No caller's name breaks the file, or is taken for a control code (DXF reference, TEXT)."""
    document = drawn(Group((Text(10, 20, "A\n1^J\r0\nEOF%%u ≈ é", 4, anchor),), 1, 1))
    assert document.audit().errors == []
    (text,) = document.modelspace()
    assert text.plain_text() == "A 1^J 0 EOF% %u ≈ é"
    assert (text.dxf.halign, text.dxf.insert.x, text.dxf.insert.y) == (halign, 11, 29)
    assert text.dxf.height == pytest.approx(4 * 1493 / 2048)


def test_nothing_of_the_machine_is_read_or_written(tmp_path):
    """The library keeps settings and a list of fonts in the home of whoever imports it; a start leaves it alone."""
    code = """
import os, sys
import service.app
assert "ezdxf" not in sys.modules
from service.drawing.model import Drawing, Layer, Text
from service.forms.dxf import dxf
before = dict(os.environ)
dxf(Drawing(1, 1, "", "", "en", (Layer("text", "", (Text(0, 0, "a", 1),)),)))
assert dict(os.environ) == before
from ezdxf.fonts.fonts import font_manager
assert not font_manager.has_font("DejaVuSans.ttf")
"""
    (tmp_path / ".config" / "ezdxf").mkdir(parents=True)
    (tmp_path / ".config" / "ezdxf" / "ezdxf.ini").write_text("this is no settings file")
    kept = {name: value for name, value in os.environ.items() if not name.startswith("XDG_")}
    subprocess.run([sys.executable, "-c", code], env=kept | {"HOME": str(tmp_path)}, check=True)
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == ["ezdxf.ini"]


places = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@given(st.tuples(places, places, places, places))
def test_arcs_stay_near_any_curve(curve):
    """Places on the arcs, by bulge and ends as the DXF reference has them, against dense chords of the curve."""
    arcs = list(arcs_along(curve, TOLERANCE))
    t = np.linspace(0, 1, 4001)[:, None]
    a, b, c, d = (np.array(each) for each in curve)
    chords = shapely.LineString((1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d)
    shapely.prepare(chords)
    start = curve[0]
    for bulge, end in arcs[:: max(1, len(arcs) // 20)]:
        if start != end and arcs.index((bulge, end)) == 0:
            middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            side = (end[0] - start[0]) / 2, (end[1] - start[1]) / 2
            top = shapely.Point(middle[0] + bulge * side[1], middle[1] - bulge * side[0])
            assert chords.distance(top) < TOLERANCE + 0.001
        assert chords.distance(shapely.Point(end)) < 0.001
    assert arcs[-1][1] == curve[3]


def test_an_arc_through_three_places():
    """Worked by hand on the unit circle: counterclockwise is greater than 0, tan of a quarter of the angle."""
    assert bulge_through((1, 0), (0, 1), (-1, 0)) == pytest.approx(1)
    assert bulge_through((-1, 0), (0, 1), (1, 0)) == pytest.approx(-1)
    assert bulge_through((1, 0), (0.5**0.5, 0.5**0.5), (0, 1)) == pytest.approx(2**0.5 - 1)
    assert bulge_through((0, 0), (1, 1), (2, 2)) == 0


def test_a_quarter_circle_as_a_cubic_is_followed_by_few_arcs_of_its_radius():
    """The cubic of a circle of 10 mm with handles of 0.5523 r is within 0.0027 mm of it (the usual approximation)."""
    arcs = list(arcs_along(((10, 0), (10, 5.523), (5.523, 10), (0, 10)), TOLERANCE))
    assert len(arcs) <= 8
    turned = sum(4 * np.arctan(bulge) for bulge, _ in arcs)
    assert turned == pytest.approx(pi / 2, abs=0.02)
