"""The finished look: nothing but plain shapes, layers back to front, words for those who do not see it."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
import svgelements
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.drawing.finished.made_up import bounds, made_up
from service.drawing.finished.tint import metal, mix
from service.drawing.finished.view import finished_view
from service.drawing.model import Group, Path, Stamp
from service.forms.svg import path_data, svg
from service.schemas.goods import END_SHAPES
from service.strap.errors import Refusal
from service.strap.model.spec import Billet, Body, End, Ends, Size, Spec, Stitching, StrapEnd
from service.strap.model.spec_set import Row
from service.strap.plane.lengths import INCH, MM, tape_reading
from service.strap.solve import solve
from tests.drawing.support import SHOP, STRAPS, one_piece, open_strap, three_piece
from tests.support.straps import specs

SVG = "{http://www.w3.org/2000/svg}"
PLAIN = {
    "svg", "title", "desc", "defs", "g", "use", "symbol", "path", "circle", "linearGradient", "radialGradient",
    "stop", "rect", "polygon",
}  # fmt: skip


@pytest.fixture(params=STRAPS)
def pattern(request):
    return STRAPS[request.param]()


def look(pattern, **more):
    return finished_view(pattern, SHOP, **{"units": "in", "background": "#ffffff", **more})


def layer(drawing, name):
    return next(each for each in drawing.layers if each.id == name)


def stamps(drawing):
    return [item for item in layer(drawing, "ornaments").items[0].items if isinstance(item, Stamp)]


def test_it_says_in_words_what_is_seen():
    """Counts from the spec, titles from the shop file, lengths as the answer reads them."""
    pattern = three_piece()
    drawing = look(pattern)
    length = tape_reading(pattern.finished.length, "in")
    assert drawing.title == f"Three-piece strap with 6 × shank bell, 30 mm, {length}: finished look, The bell bench"
    for part in (
        "Seen from the front, laid flat, the buckle at the left.",
        "Harness leather, 8-9 oz, russet: body 2 1/2 in wide, buckle billet 1 in wide, tongue billet 1 in wide.",
        "6 × shank bell, 30 mm along the middle; 5 × domed spot, 10 mm between them;",
        "× domed spot, 6 mm along the edges.",
        "Heel-bar buckle for 1 in (25 mm) and a keeper of leather; 5 size holes.",
        f"{length} from the fold's outer edge to the middle hole.",
        "1 unit is 1 mm",
    ):
        assert part in drawing.description


def test_an_open_strap_names_its_ends_and_no_buckle():
    drawing = look(open_strap(), units="mm")
    assert "Left end folded round a welded dee for 1 in (25 mm). Right end with a hanging hole." in drawing.description
    assert "buckle" not in drawing.description
    assert " mm long, end to end, without the ring." in drawing.description


def test_the_svg_is_an_image_with_its_words(pattern):
    """WAI-ARIA: role img, named by the title, described by the description."""
    root = ET.fromstring(svg(look(pattern)))
    assert root.get("role") == "img"
    assert root.get("lang") == "en"
    named = [root.find(f".//*[@id='{name}']") for name in root.get("aria-labelledby").split()]
    assert [element.tag for element in named] == [f"{SVG}title", f"{SVG}desc"]
    assert all(len(element.text) > 40 for element in named)


def test_it_is_made_of_plain_shapes_with_ids_of_their_own(pattern):
    """No filters, masks, scripts, styles or pixels; every reference stays inside."""
    document = svg(look(pattern))
    elements = list(ET.fromstring(document).iter())
    assert {element.tag.removeprefix(SVG) for element in elements} <= PLAIN
    ids = [element.get("id") for element in elements if element.get("id")]
    assert len(ids) == len(set(ids))
    references = set(re.findall(r"(?:url\(#|href=\"#)([^)\"]+)", document))
    assert references
    assert references <= set(ids)
    assert "data:" not in document
    assert document.count("http") == 1


def test_every_ornament_of_the_pattern_is_set_once_under_its_own_id(pattern):
    wanted = {
        feature.id
        for piece in pattern.pieces
        for feature in piece.features
        if feature.purpose in ("ornament", "between", "border")
    }
    placed = [stamp.id for stamp in stamps(look(pattern))]
    assert wanted <= set(placed)
    assert len(placed) == len(set(placed))


def test_a_rivet_through_two_pieces_shows_one_cap_on_the_upper_one():
    caps = [stamp for stamp in stamps(look(three_piece())) if "joint" in stamp.id]
    assert len(caps) == 4
    assert {stamp.id.split(".")[0] for stamp in caps} == {"buckle_billet", "tongue_billet"}


def test_alike_ornaments_share_their_shapes():
    drawing = look(three_piece())
    bells = [stamp for stamp in stamps(drawing) if ".ornament." in stamp.id]
    assert len({id(stamp.items) for stamp in bells}) == 1
    assert svg(drawing).count('href="#stamp') == len(stamps(drawing)) + _tiles(drawing)


def _tiles(drawing):
    """Flecks of grain are stamped as well."""
    groups = layer(drawing, "strap").items[0].items
    return sum(isinstance(item, Stamp) for group in groups if isinstance(group, Group) for item in group.items)


def test_billets_lie_over_the_body_and_the_body_over_the_turned_back_tail():
    groups = [item for item in layer(look(three_piece()), "strap").items[0].items if isinstance(item, Group)]
    names = [group.name for group in groups if group.name]
    assert names == ["buckle_billet", "body", "buckle_billet", "tongue_billet", "keeper"]


def test_the_keeper_stands_between_the_buckle_and_the_first_rivet():
    for make in (three_piece, one_piece):
        strap = made_up(make(), SHOP)
        first = min(rivet.x - rivet.feature.footprint / MM / 2 for rivet in strap.rivets)
        (keeper,), (placed,) = strap.keepers, strap.buckles
        left, right = keeper.x - keeper.width / 2, keeper.x + keeper.width / 2
        assert placed.buckle.bar_to_heel / MM < left
        assert right < first


@settings(max_examples=60, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(["three_piece", "one_piece", "open"]).flatmap(specs), st.sampled_from([None, 0.2, 1.9, 20]))
def test_any_strap_that_can_be_made_can_be_shown(spec, aspect):
    """Within its frame, in a bounded number of items, as a well-formed document."""
    try:
        pattern = solve(spec, SHOP)
    except Refusal:
        return
    drawing = look(pattern, aspect=aspect)
    room = bounds(made_up(pattern, SHOP))
    assert drawing.width >= room.right - room.left + 20
    assert drawing.height >= 2 * room.half + 20
    if aspect:
        assert drawing.width / drawing.height == pytest.approx(aspect)
    document = svg(drawing)
    ET.fromstring(document)
    features = sum(len(piece.features) for piece in pattern.pieces)
    assert len(document) < 250_000 + 120 * features


@pytest.mark.parametrize("shape", END_SHAPES)
@pytest.mark.parametrize("inset", [-3.0, 0.0, 1.5, 2.4])
def test_a_contour_keeps_its_distance_from_the_edge_along_the_sides_and_at_the_tip(shape, inset):
    ends = Ends(head=StrapEnd(kind="plain", shape=shape), foot=StrapEnd(kind="plain", shape=shape))
    spec = Spec(construction="open", size=Size(body_length=10 * INCH), body=Body(width=INCH), ends=ends)
    ply = made_up(solve(spec, SHOP), SHOP).plies[0]
    points = [(p.x, p.y) for p in ply.contour(inset) if hasattr(p, "x")]
    assert min(x for x, _ in points) == pytest.approx(inset, abs=1e-5)
    assert max(x for x, _ in points) == pytest.approx(254 - inset, abs=1e-5)
    assert max(abs(y) for _, y in points) == pytest.approx(12.7 - inset, abs=1e-5)


@pytest.mark.parametrize("shape", END_SHAPES)
def test_the_shadow_on_the_body_begins_where_the_billet_is_over_it(shape):
    """By the outline itself: at that place the body is as wide as the billet, a little further out it is not."""
    spec = Spec(
        construction="three_piece",
        size=Size(body_length=20 * INCH),
        body=Body(width=3 * INCH, end=End(shape=shape)),
        ornaments=Row(item="bell_30", count=2),
    )
    strap = made_up(solve(spec, SHOP), SHOP)
    body = next(ply for ply in strap.plies if ply.piece.name == "body")
    billet = next(ply for ply in strap.plies if ply.piece.name == "buckle_billet" and ply.faces_front)
    part = billet.over(body)
    half = _half_width(body, part.left - body.left)
    assert half >= billet.half - 0.3
    if shape in ("round", "english_point", "straight_point"):
        assert _half_width(body, part.left - body.left - 1.0) < billet.half + 0.3


def _half_width(ply, x):
    """Half the width of an outline at x, by svgelements' own path."""
    path = svgelements.Path(path_data(ply.contour(0.0)))
    points = [path.point(step / 4000) for step in range(4001)]
    return max(abs(point.y) for point in points if abs(point.x - x) < 0.15)


def test_tones_of_metal_run_from_bright_to_dark():
    """Relative luminance, weighed as in ITU-R BT.709."""

    def luminance(colour):
        red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    for colour in ("#d0a544", "#cfcabd", "#b08d3c", "#303030"):
        tones = metal(colour)
        order = [tones.glint, tones.light, tones.base, tones.shade, tones.dark, tones.deep]
        assert sorted(order, key=luminance, reverse=True) == order
        assert tones.base == colour
    assert mix("#000000", "#ffffff", 0.5) == "#808080"


def test_a_lead_ring_is_threaded_between_the_first_two_rivets_and_named():
    spec = Spec(
        construction="one_piece",
        size=Size(girth=18 * INCH),
        billet=Billet(ring="ring_38"),
        ornaments=Row(item="spot_10", count=3),
    )
    pattern = solve(spec, SHOP)
    strap = made_up(pattern, SHOP)
    rivets = sorted(rivet.x for rivet in strap.rivets)
    assert rivets[0] < strap.lead_ring.x < rivets[1]
    assert strap.lead_ring.ring is SHOP.rings["ring_38"]
    assert "welded ring, 1 1/2 in inside behind the buckle" in look(pattern).description


def test_a_hanging_slot_is_an_opening_in_the_leather():
    """Its contour runs against that of the strap, so that the ground is seen through it (SVG 2, fill-rule nonzero)."""
    ends = Ends(head=StrapEnd(kind="slot", shape="round"))
    pattern = solve(Spec(construction="open", size=Size(body_length=12 * INCH), ends=ends), SHOP)
    slot = next(each for each in pattern.pieces[0].features if each.purpose == "hanger")
    strap = next(item for item in layer(look(pattern), "strap").items[0].items if item.name == "strap")
    outer, hole = svgelements.Path(path_data(strap.items[0].segments)).as_subpaths()
    box = svgelements.Path(hole).bbox()
    assert box[2] - box[0] == pytest.approx(slot.width / MM, abs=0.01)
    assert box[3] - box[1] == pytest.approx(slot.length / MM, abs=0.01)
    assert (box[0] + box[2]) / 2 == pytest.approx(slot.x / MM, abs=0.01)
    assert _turn(outer) == -_turn(hole)


def _turn(subpath):
    """1 for a contour that runs one way round, -1 for the other, by the sign of its area."""
    path = svgelements.Path(subpath)
    points = [path.point(step / 400) for step in range(401)]
    area = sum(a.x * b.y - b.x * a.y for a, b in pairwise(points))
    return 1 if area > 0 else -1


def test_stitches_are_shown_at_their_pitch_and_named():
    """The dashes of each run add up to its stitches: the same lengths that the pattern counts with."""
    spec = Spec(
        construction="one_piece",
        size=Size(finished_length=18 * INCH),
        stitching=Stitching(edges=True, turn_back=True),
        ornaments=Row(item="spot_10", count=4),
    )
    pattern = solve(spec, SHOP)
    drawing = look(pattern)
    strap = [item for item in layer(drawing, "strap").items[0].items if getattr(item, "name", None) == "strap"][-1]
    sewn = [item for item in strap.items if isinstance(item, Path) and item.pen and item.pen.dash]
    runs = [run for line in pattern.pieces[0].stitch_lines for run in line.runs]
    assert len(sewn) == 4 * len(runs)
    for path, run in zip(sewn[::4], runs, strict=True):
        assert sum(path.pen.dash) * run.stitches == pytest.approx(run.length / MM)
        assert svgelements.Path(path_data(path.segments)).length() == pytest.approx(run.length / MM, rel=1e-4)
    assert "Stitched along the edges and along the turned-back end." in drawing.description
