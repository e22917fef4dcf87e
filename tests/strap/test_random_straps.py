"""Random straps of each construction, judged by an independent geometry library (shapely)."""

import re

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from service.strap.errors import Refusal
from service.strap.model.row import row_items
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import MM
from service.strap.plane.outline import path_data
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.support.shapes import ring
from tests.support.straps import SHOP, specs

CONSTRUCTIONS = ["three_piece", "one_piece", "open"]
DECORATION = {"ornament", "between", "border"}
STRAPS = settings.default.max_examples
TOUCH = 0.02
"""Millimetres by which a curve taken as chords may differ from the curve."""


def outline_of(piece) -> shapely.Polygon:
    """The outline as svgelements reads its path data, sampled finely: none of our own geometry."""
    per_curve = 200 if len(piece.outline.segments) < 59 else 10  # of many scallops each is short
    return ring(path_data(piece.outline), per_curve)


def cut_of(feature) -> shapely.Geometry:
    """What a hole or slot takes away, in millimetres."""
    if feature.kind == "hole":
        return shapely.Point(feature.x / MM, feature.y / MM).buffer(feature.diameter / 2 / MM, 64)
    reach, radius = (feature.length - feature.width) / 2 / MM, feature.width / 2 / MM
    line = shapely.LineString([(-reach, 0), (reach, 0)]).buffer(radius, 64)
    return affinity.translate(affinity.rotate(line, feature.angle, (0, 0)), feature.x / MM, feature.y / MM)


def cover_of(feature) -> shapely.Geometry:
    """What a cap or an ornament covers."""
    return shapely.Point(feature.x / MM, feature.y / MM).buffer(feature.footprint / 2 / MM, 64)


def nearest_pair(shapes) -> float:
    """The least distance between any two of the shapes."""
    tree = shapely.STRtree(shapes)
    nearest = float("inf")
    for index, shape in enumerate(shapes):
        others = tree.query(shape.buffer(12))
        nearest = min([nearest, *(shape.distance(shapes[other]) for other in others if other != index)])
    return nearest


def judge(pattern) -> None:
    """Nothing collides and nothing leaves its outline, whatever the service's own checks say."""
    rules = SHOP.rules
    for piece in pattern.pieces:
        outline = outline_of(piece)
        assert outline.is_valid
        cuts = [cut_of(feature) for feature in piece.features if feature.action == "punch"]
        for cut in cuts:
            assert outline.contains(cut)
            assert outline.exterior.distance(cut) >= rules.edge_web / MM - TOUCH
        assert nearest_pair(cuts) >= rules.cut_web / MM - TOUCH
        covered = [feature for feature in piece.features if feature.footprint]
        judge_covers(piece, outline, covered)
        for line in piece.stitch_lines:
            judge_stitches(line, outline, cuts, covered)


def judge_covers(piece, outline, covered) -> None:
    rules = SHOP.rules
    ornaments = [feature for feature in covered if feature.purpose in DECORATION]
    assert nearest_pair([cover_of(feature) for feature in ornaments]) >= rules.ornament_clear / MM - TOUCH
    for feature in ornaments:
        if not SHOP.ornaments[feature.item].overhang:
            assert outline.contains(cover_of(feature))
        for other in piece.features:
            if other.purpose not in DECORATION and other.kind in ("hole", "slot"):
                hardware = cover_of(other) if other.footprint else cut_of(other)
                assert cover_of(feature).distance(hardware) >= rules.hardware_clear / MM - TOUCH


def judge_stitches(line, outline, cuts, covered) -> None:
    """A line of stitches stays inside, and clear of what is cut and of what lies flat on the strap."""
    rules = SHOP.rules
    places = [(x / MM, y / MM) for x, y in line.points]
    seam = shapely.LineString([*places, *(places[:1] if line.closed else [])])
    assert outline.contains(seam)
    assert outline.exterior.distance(seam) >= rules.stitch_edge / MM - TOUCH
    for cut in cuts:
        assert seam.distance(cut) >= rules.stitch_web / MM - TOUCH
    for feature in covered:
        if feature.purpose not in DECORATION or not SHOP.ornaments[feature.item].overhang:
            assert cover_of(feature).distance(seam) >= rules.stitch_clear / MM - TOUCH


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_nothing_accepted_collides_or_leaves_its_outline_and_every_remedy_is_accepted(construction):
    seen = {"accepted": 0, "refused": 0, "remedied": 0}

    @given(spec=specs(construction))
    def prove(spec):
        try:
            pattern = solve(spec, SHOP)
        except Refusal as refusal:
            seen["refused"] += 1
            remedies = find_remedies(spec, SHOP, refusal.faults)
            seen["remedied"] += bool(remedies)
            for remedy in remedies:
                assert all(change.value is not False or change.path[-1] != "keeper" for change in remedy.changes)
                solve(apply(spec, remedy.changes), SHOP)
        else:
            seen["accepted"] += 1
            assert all(check.passed for check in pattern.checks)
            judge(pattern)

    prove()
    assert seen["accepted"] > STRAPS // 10
    assert seen["refused"] > STRAPS // 10
    assert seen["remedied"] >= 0.97 * seen["refused"]


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_mated_holes_meet_when_the_strap_is_made_up(construction):
    @given(spec=specs(construction))
    def prove(spec):
        try:
            pattern = solve(spec, SHOP)
        except Refusal:
            return
        features = {feature.id: (piece, feature) for piece in pattern.pieces for feature in piece.features}
        for piece, feature in features.values():
            for name in feature.mates:
                mate_piece, mate = features[name]
                assert feature.id in mate.mates
                if piece.name != "keeper":
                    assert made_up(pattern, piece, feature) & made_up(pattern, mate_piece, mate)

    prove()


def made_up(pattern, piece, feature) -> set[int]:
    """The places along the made-up strap where a feature may lie."""
    plies = [ply for ply in pattern.placements if ply.piece == piece.name]
    return {ply.offset + ply.direction * feature.x for ply in plies if ply.from_x <= feature.x <= ply.to_x}


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_ids_are_unique_and_name_piece_purpose_and_number(construction):
    @given(spec=specs(construction))
    def prove(spec):
        try:
            pattern = solve(spec, SHOP)
        except Refusal:
            return
        for piece in pattern.pieces:
            ids = [feature.id for feature in piece.features]
            assert len(ids) == len(set(ids))
            for feature in piece.features:
                assert re.fullmatch(rf"{piece.name}\.{feature.purpose}\.[1-9][0-9]*", feature.id)

    prove()


@given(spec=st.one_of([specs(construction) for construction in CONSTRUCTIONS]))
def test_ornaments_and_gaps_add_up_to_the_span_and_mirror(spec):
    """A row is symmetric about the middle of its anchors (common practice), to a few nanometres."""
    try:
        pattern = solve(spec, SHOP)
    except Refusal:
        return
    order = [item.id for item in row_items(spec.ornaments, SHOP)]
    if order != order[::-1]:
        return
    rows: dict[int, list[int]] = {}
    for piece in pattern.pieces:
        for feature in piece.features:
            if feature.purpose == "ornament":
                rows.setdefault(feature.y, []).append(feature.x)
    middles = {left + right for xs in rows.values() for left, right in zip(sorted(xs), sorted(xs)[::-1], strict=True)}
    assert not middles or max(middles) - min(middles) <= 4
