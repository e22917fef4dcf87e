"""What a rule says of itself holds for what it measures: its formula, worked out from its text and the pattern alone.

Python reads the texts and shapely (JTS's algorithms) measures the distances; nothing of the rules' own code is asked.
"""

import ast
from dataclasses import dataclass
from functools import cached_property
from math import hypot, pi, sqrt

import pytest
from shapely import LineString, Point

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop.figures import figures_of
from service.shop.shop import Rules
from service.shop_file import demo_shop
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.job import Job
from service.strap.model.pattern import Pattern
from service.strap.model.plies import stack
from service.strap.model.rule import Measured
from service.strap.rules.checks import RULES, measure_rules

SHOP = demo_shop()
FUNCTIONS = {"min": min, "max": max, "abs": abs, "hypot": hypot, "sqrt": sqrt, "pi": pi}
FIGURES = figures_of(Rules).keys()
OWN = {rule.figure.name: rule.figure for rule in RULES if rule.figure}
named = pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])


def names(expression: str) -> set[str]:
    return {node.id for node in ast.walk(ast.parse(expression, mode="eval")) if isinstance(node, ast.Name)}


@named
def test_a_formula_explains_every_name_in_it(rule):
    """The shop's figures explain themselves, by the shop file; no term is explained that is not in the formula."""
    used = (names(rule.formula.found) | names(rule.formula.limit)) - FUNCTIONS.keys()
    assert set(rule.formula.terms) == used - FIGURES - OWN.keys()


@dataclass(frozen=True)
class Seen:
    """One measure of one example, with the pattern that it was taken from."""

    measured: Measured
    pattern: Pattern
    job: Job

    @cached_property
    def at(self):
        """The features that it was measured at."""
        features = {f.id: f for piece in self.pattern.pieces for f in (*piece.features, *piece.stitch_lines)}
        return [features[name] for name in self.measured.check.at]

    @cached_property
    def piece(self):
        """The piece that it is about, by its name or by what lies on it."""
        named = self.pattern.piece(self.measured.kinds[0])
        return named or next(p for p in self.pattern.pieces if self.measured.check.at[0].startswith(f"{p.name}."))

    @property
    def goods(self):
        """The ring, the fastener or the buckle that it is about."""
        kind = self.measured.kinds[0]
        rings = {"head": self.job.head.ring, "foot": self.job.foot.ring, "lead": self.job.head.collar_ring}
        return rings.get(kind) or self.job.buckle

    @property
    def held(self):
        """A stack with the fastener that holds it."""
        if self.measured.kinds == ("fold",):
            return stack(self.job.plies.fold), self.job.fold_held.fastener
        return stack(self.job.plies.joint), self.job.fastener

    @property
    def fixing(self):
        return self.job.shop.ornaments[self.measured.item].fixing

    @property
    def snap(self):
        return self.job.shop.snaps[self.at[0].item]

    def between_cuts(self):
        one, other = self.at
        apart = middle_line(one).distance(middle_line(other))
        return {"apart": apart, "radius": cut(one), "other_radius": cut(other)}

    def between_rims(self):
        one, other = self.at
        apart = Point(one.x, one.y).distance(Point(other.x, other.y))
        return {"apart": apart, "radius": cover(one), "other_radius": cover(other)}


def middle_line(feature):
    """Of a slot; of a hole its middle."""
    if feature.kind != "slot":
        return Point(feature.x, feature.y)
    reach = (feature.length - feature.width) / 2
    dx, dy = (0, reach) if feature.angle else (reach, 0)
    return LineString([(feature.x - dx, feature.y - dy), (feature.x + dx, feature.y + dy)])


def cut(feature):
    return (feature.width if feature.kind == "slot" else feature.diameter) / 2


def cover(feature):
    """Of a line of stitches nothing stands out."""
    return getattr(feature, "footprint", 0) / 2


def far_side(place):
    """The middle of a feature; of a line of stitches its farther end."""
    return max(x for x, _ in place.points) if hasattr(place, "points") else place.x


def set_through(seen):
    plies = stack(seen.job.plies.set_through)
    return {"thin": plies.thin, "thick": plies.thick}


def of_held(seen):
    """The ornament's own metal, and the grip of the fastener that its holes name."""
    holes = [f for piece in seen.pattern.pieces for f in piece.features if f.item == seen.measured.item]
    (fastener,) = {seen.job.shop.fasteners[f.fastener] for f in holes}
    return {"base": seen.fixing.base, "grip_min": fastener.grip_min, "grip_max": fastener.grip_max}


def beside_ring(seen):
    """Between two rivets, or over the gap that the seam on the front ply leaves."""
    hold = seen.job.head.outermost.hold
    if not hold.is_stitched:
        return {"apart": seen.job.joint_spacing, **dict.fromkeys(("first", "second"), hold.fastener.cap_diameter / 2)}
    seams = [line for line in seen.pattern.pieces[0].stitch_lines if line.purpose == "fold_stitch"]
    (_, low), (high, _) = sorted({(min(xs), max(xs)) for xs in ([x for x, _ in line.points] for line in seams)})
    return {"apart": high - low, **dict.fromkeys(("first", "second"), SHOP.rules.stitch_clear)}


def tapers_of(seen):
    return zip(("head", "foot"), seen.job.spec.body.tapers, strict=True)


FOUND = {
    "end_distance": lambda seen: {"x": seen.at[0].x, "length": seen.piece.length},
    "cut_web": lambda seen: seen.between_cuts(),
    "cap_clear": lambda seen: seen.between_rims(),
    "ornament_clear": lambda seen: seen.between_rims(),
    "strip_length": lambda seen: {
        "length": max(strip.end - strip.start for strip in seen.piece.strips), "rise": seen.piece.rise,
        "strip_length": seen.piece.leather.strip_length,
    },
    "splice_strip": lambda seen: {"strip": min(strip.end - strip.start for strip in seen.piece.strips)},
    "strip_width": lambda seen: {"width": seen.piece.width, "usable_width": seen.piece.leather.usable_width},
    "end_depth": lambda seen: {
        "head_depth": seen.piece.outline.head_depth, "foot_depth": seen.piece.outline.foot_depth,
        "length": seen.piece.length,
    },
    "taper_room": lambda seen: {
        "length": seen.piece.length,
        **{end: each.parallel for end, each in zip(("head", "foot"), seen.piece.outline.narrowings, strict=True)},
        **{f"{end}_over": taper.over if taper else 0 for end, taper in tapers_of(seen)},
    },
    "tongue_width": lambda seen: {"inside_width": seen.goods.inside_width, "tongue_width": seen.job.foot.outer_width},
    "buckle_width": lambda seen: {"inside_width": seen.goods.inside_width, "strap_width": seen.job.strap_width},
    "buckle_slack": lambda seen: {"inside_width": seen.goods.inside_width, "strap_width": seen.job.strap_width},
    "ring_width": lambda seen: {"inside_width": seen.goods.inside_width, "strap_width": seen.job.strap_width},
    "ring_room": lambda seen: beside_ring(seen) | {"ring_thickness": seen.goods.thickness},
    "fastener_grip_min": lambda seen: {"thin": seen.held[0].thin, "grip_min": seen.held[1].grip_min},
    "fastener_grip_max": lambda seen: {"thick": seen.held[0].thick, "grip_max": seen.held[1].grip_max},
    "prong_clinch_min": lambda seen: set_through(seen) | {"prong": seen.fixing.length},
    "prong_clinch_max": lambda seen: set_through(seen) | {"prong": seen.fixing.length},
    "snap_grip_min": lambda seen: {"thin": set_through(seen)["thin"], "grip_min": seen.snap.grip_min},
    "snap_grip_max": lambda seen: {"thick": set_through(seen)["thick"], "grip_max": seen.snap.grip_max},
    "snap_spacing": lambda seen: {
        "spacing": seen.job.spec.ends.head.spacing, "cap": seen.snap.cap_diameter, "stud": seen.snap.stud_diameter,
    },
    "shank_reach": lambda seen: set_through(seen) | {"shank": seen.fixing.height},
    "held_grip_min": lambda seen: set_through(seen) | of_held(seen),
    "held_grip_max": lambda seen: set_through(seen) | of_held(seen),
    "first_size_hole": lambda seen: {
        "first": seen.at[1].x, "before": far_side(seen.at[0]), "half_cap": cover(seen.at[0]),
        "bar_to_frame": seen.goods.bar_to_frame,
    },
    "prong_slot_length": lambda seen: {
        "slot": seen.at[0].length, "bar": seen.goods.bar_thickness, "fold": seen.job.fold_thickness
    },
    "size_hole_prong": lambda seen: {"hole": seen.at[0].diameter, "prong_width": seen.goods.prong_width},
}  # fmt: skip
"""What the terms of a formula come to, read off the pattern, the goods and the spec as the terms are worded."""


ASKED = {
    "construction": "one_piece",
    "size": {"girth": "16 in"},
    "billet": {"prong_slot": "1 1/2 in", "size_holes": {"diameter": "1/4 in"}},
}
"""What no example says."""


WIDE_TONGUE = {
    "construction": "two_ends",
    "size": {"body_length": "30 in"},
    "body": {"width": "1 1/16 in", "taper": {"head": {"to": "1 in"}}},
    "ends": {"head": {"kind": "buckle"}, "foot": {"kind": "tip"}},
}
"""Refused: its tongue is wider than its buckle."""


def seen_in_examples():
    for name, document in {**examples(), "all asked for": ASKED, "wide tongue": WIDE_TONGUE}.items():
        job = resolve(read_spec(document, SHOP.defaults.units), SHOP)
        pattern = lay_out(job)
        for measured in measure_rules(pattern, job):
            if measured.rule.name in FOUND and measured.kinds != ("keeper",):
                yield name, Seen(measured, pattern, job)


def worth(expression, seen, terms):
    shop = {name: float(getattr(seen.job.rules, name)) for name in FIGURES}
    shop |= {name: seen.job.rules.of(figure) for name, figure in OWN.items()}
    return eval(expression, {"__builtins__": {}}, FUNCTIONS | shop | terms)


def test_a_formula_gives_the_figure_that_is_found_and_its_limit():
    """To two nanometres: both are rounded."""
    told = set()
    for name, seen in seen_in_examples():
        rule, check = seen.measured.rule, seen.measured.check
        terms = FOUND[rule.name](seen)
        assert abs(worth(rule.formula.found, seen, terms) - check.value) <= 2, (name, rule.name)
        if names(rule.formula.limit) <= terms.keys() | FIGURES | OWN.keys() | FUNCTIONS.keys():
            assert abs(worth(rule.formula.limit, seen, terms) - check.limit) <= 2, (name, rule.name)
            told.add(rule.name)
    assert told == FOUND.keys()
