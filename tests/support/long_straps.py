"""Odd straps by seed that are longer than their leather's strips, in a shop that makes them up to 15 ft.

Some have keepers between their ornaments, which may hold their lining.
"""

import random
from dataclasses import replace
from typing import Any

from service.shop_file import demo_shop
from service.strap.plane.lengths import INCH

_SHOP = demo_shop()
LONG_SHOP = replace(_SHOP, limits=replace(_SHOP.limits, length_max=180 * INCH))
"""The demo shop, for straps of up to 15 ft."""

_LENGTHS = ("73 in", "85 in", "90 1/4 in", "102 in", "107 in", "2900 mm", "130 3/8 in", "156 in", "180 in")
_ENDS = {
    "one_piece": {},
    "three_piece": {},
    "two_ends": {"ends": {"head": {"kind": "buckle", "buckle": "heel_bar_38"}, "foot": {"kind": "plain"}}},
    "open": {"ends": {"head": {"kind": "hole"}, "foot": {"kind": "plain", "shape": "english_point"}}},
}
_ROWS: tuple[dict[str, Any], ...] = (
    *({"item": item, "count": count} for item in ("bell_25", "bell_38", "concho_25") for count in (1, 7, 18, 25, 40)),
    {"items": ["bell_25", "bell_30", "bell_38"], "arrange": "graduated", "count": 21},
    {"item": "bell_30", "count": 24, "spacing": "even"},
    {"item": "bell_30", "count": 30, "spacing": {"pitch": "3 in"}},
)
_SPLICES = (
    "allowed", {}, {"stitch_lines": 3}, {"count": 1}, {"count": 2, "stitch_lines": 3}, {"count": 3}, {"count": 9},
    {"stitch_lines": 4},
)  # fmt: skip
_KEPT = {"leather": "lining_2_3", "held_by": "keepers"}
_REST: dict[str, tuple[float, tuple[Any, ...]]] = {
    "units": (0.3, ("mm",)),
    "leather": (0.4, ("harness_8_9", "latigo_6_7", "bridle_10_11")),
    "lining": (0.3, ("lining_2_3", {"leather": "lining_2_3", "purpose": "carry"}, _KEPT, _KEPT)),
    "keepers_between": (0.3, ({}, {"width": "3/8 in"}, {"every": 3}, {"gaps": [[1, 4, 1], [6, 6, 1]]})),
    "between": (0.2, ({"item": "spot_10"},)),
    "border": (0.1, ({"item": "spot_6"}, {"item": "spot_6", "step": "3 in"})),
    "stitching": (0.2, ({}, {"inset": "1/4 in"}, {"per_inch": 5, "strands": 1})),
    "worn_by": (0.7, ("person", "animal", "object")),
}


def long_strap(seed: int) -> dict[str, Any]:
    """The strap of a seed: the same in every process."""
    chance = random.Random(f"long {seed}")
    construction = _one_of(chance, tuple(_ENDS))
    width = _one_of(chance, ("1 1/2 in", "1 1/2 in", "38 mm", "2 in"))
    spec = {
        "construction": construction,
        "size": {"body_length": _one_of(chance, _LENGTHS)},
        "body": {"width": width, "splices": _one_of(chance, _SPLICES)},
        **_ENDS[construction],
    }
    if construction == "one_piece":
        spec["body"]["width"] = "1 1/2 in"
        spec["billet"] = {"buckle": "heel_bar_38"}
    if chance.random() < 0.9:
        spec["ornaments"] = _one_of(chance, _ROWS)
    rest = {name: _one_of(chance, values) for name, (share, values) in _REST.items() if chance.random() < share}
    if "ornaments" not in spec:
        rest.pop("between", None)
    return _outlined(spec | rest, seed)


_OUTLINES: tuple[dict[str, Any], ...] = (
    {"taper": {"to": "1 1/4 in"}}, {"taper": {"to": "30 mm", "over": "20 in", "line": "eased"}},
    {"taper": {"foot": {"to": "1 1/4 in"}}}, {"edge": {"shape": "pinked"}}, {"edge": {"iron": "scallop_19"}},
    {"taper": {"to": "1 1/4 in"}, "edge": {"shape": "scalloped", "depth": "1/16 in"}},
)  # fmt: skip
_EDGINGS = (
    {"leather": "latigo_6_7"},
    {"leather": "lining_2_3", "iron": "pinking_6"},
    {"leather": "latigo_6_7", "lies": "behind"},
    {"leather": "bridle_10_11", "shape": "straight", "reach": "1/8 in"},
)  # fmt: skip


def _outlined(spec: dict[str, Any], seed: int) -> dict[str, Any]:
    """Every second one narrows, has cut edges, or an edging; the rest are as they were drawn."""
    chance = random.Random(f"outline {seed}")
    if seed % 2:
        if chance.random() < 0.7:
            spec["body"] |= _one_of(chance, _OUTLINES)
        if chance.random() < 0.5:
            spec["edging"] = _one_of(chance, _EDGINGS)
    return spec


def _one_of(chance: random.Random, values: Any) -> Any:
    """`random.choice` may draw otherwise in another Python; `random.random` never does."""
    return values[int(chance.random() * len(values))]
