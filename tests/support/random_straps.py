"""Straps that nobody would think of: the examples with one to three things changed at random, most of them odd.

Ids, shapes and examples are written out, so that one more of them changes none of the straps.
"""

import copy
import random
from typing import Any

from openapi.example_requests import examples

BASES = (
    "bag_strap_motif", "dancers_bell_garter", "dog_collar_lead_ring", "door_hanging", "garter_by_size",
    "goat_collar_centrepiece", "graduated_door_hanging", "herding_dog_collar", "lined_bag_strap",
    "parade_harness_strap", "refused_too_many_bells", "shortest_one_piece", "shortest_open", "shortest_three_piece",
    "staggered_harness_strap", "stitched_collar",
)  # fmt: skip
EXAMPLES = examples()
SIZES = ("body_length", "finished_length", "girth")

_LENGTHS = ("4 in", "9 3/4 in", "12 in", "14 in", "17 1/8 in", "22 in", "600 mm", "36 in", "52 in", "83 in", "90 in")
_WIDTHS = ("3/8 in", "5/8 in", "3/4 in", "1 in", "1 1/8 in", "31 mm", "38 mm", "1 1/2 in", "2 in", "3 in", "7 in")
_SMALL = ("0.1 mm", "1/16 in", "1/8 in", "3/16 in", "1/4 in", "3/8 in", "1/2 in", "17 mm", "3/4 in", "1 in", "1 1/2 in")
_COUNTS = (0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 14, 20, 40, 201, 5000)
_ORNAMENTS = ("bell_25", "bell_30", "bell_38", "spot_6", "spot_10", "concho_25", "star_concho_25", "bell_31")
_SPOTS = ("spot_6", "spot_10", "spot_10", "concho_25")
_SHAPES = ("square", "round", "english_point", "straight_point", "clipped", "pointed")
_LEATHERS = ("harness_8_9", "bridle_10_11", "latigo_6_7", "lining_2_3", "harness_8")
_BUCKLES = ("heel_bar_20", "heel_bar_25", "centre_bar_25", "heel_bar_38", "heel_bar")
_FASTENERS = (
    "double_cap_small", "double_cap_small_long", "double_cap_medium", "double_cap_medium_long", "double_cap_large",
    "double_cap_lined_thin", "double_cap_lined", "double_cap_lined_thick", "double_cap_large_long", "cap",
)  # fmt: skip
_END = {
    "kind": ("plain", "hole", "slot", "ring"),
    "shape": _SHAPES,
    "depth": _SMALL,
    "hole": ("1/8 in", "1/4 in", "8 mm", "3/8 in"),
    "slot": ("3/8 in", "1/2 in", "1 in", "2 in"),
    "ring": ("ring_25", "ring_38", "ring_26"),
}
_BORDERS = [
    {"item": item, "inset": inset, "step": step} for item in _SPOTS for inset in _SMALL[2:7] for step in _SMALL[4:]
]
_BETWEENS = [{"item": item, "per_gap": count} for item in _SPOTS for count in (0, 1, 2, 3, 60)]

ODDITIES: dict[str, tuple[Any, ...]] = {
    "units": ("in", "mm"),
    "leather": _LEATHERS,
    "lining": ("lining_2_3", "lining_2_3", *_LEATHERS),
    "size.measured_from": ("fold", "bar", "frame"),
    "size.ease": ("0 in", "1/2 in", "2 in"),
    "body.width": _WIDTHS,
    "body.end.shape": _SHAPES,
    "body.end.depth": _SMALL,
    "billet.width": _WIDTHS,
    "billet.buckle": _BUCKLES,
    "billet.tip.shape": _SHAPES,
    "billet.tip.depth": _SMALL,
    "billet.size_holes.count": (1, 3, 4, 5, 7, 9, 15, 17, 19, 999_999),
    "billet.size_holes.spacing": _SMALL,
    "billet.keeper": (True, False),
    "billet.ring": ("ring_25", "ring_38", "ring"),
    "joint.fastener": _FASTENERS,
    "joint.count": (1, 2, 3, 4, 5, 1_000_000),
    "joint.spacing": _SMALL,
    "joint.end_distance": _SMALL,
    **{f"ends.{end}.{name}": values for end in ("head", "foot") for name, values in _END.items()},
    "ornaments.item": _ORNAMENTS,
    "ornaments.items": (["bell_25", "bell_30"], ["bell_38", "spot_10", "bell_25"], ["concho_25"], ["spot_6", "spot_6"]),
    "ornaments.arrange": ("graduated", "alternating", "sequence"),
    "ornaments.mirrored": (True, False),
    "ornaments.centrepiece": _ORNAMENTS,
    "ornaments.count": _COUNTS,
    "ornaments.spacing": ("ruler", "even", *({"pitch": pitch} for pitch in (*_SMALL, "2 in", "2 7/8 in", "3 in"))),
    "ornaments.rows": tuple(
        {"count": count, "across": across, "distance": distance}
        for count in (1, 2, 3, 12) for across in ("level", "staggered") for distance in _SMALL[3:]
    ),
    "between": (*_BETWEENS, *(list(pair) for pair in zip(_BETWEENS[1:], _BETWEENS[3:], strict=False))),
    "border": (*_BORDERS, *(list(pair) for pair in zip(_BORDERS, _BORDERS[30:], strict=False))),
    "stitching": ({}, {"turn_back": True}, {"edges": True}, {"edges": False, "turn_back": True}),
    "stitching.inset": _SMALL,
    "stitching.per_inch": (1, 4, 5, 6, 7, 9, 12, 40),
    "stitching.pitch": ("1 mm", "2.5 mm", "4 mm", "5.5 mm", "9 mm"),
    "stitching.strands": (1, 2, 4),
    "stitching.edges": (True, False),
    "stitching.turn_back": (True, False),
}  # fmt: skip
"""What each member may be set to."""


def random_strap(seed: int) -> dict[str, Any]:
    """The strap of a seed: the same in every process and with every version of Python."""
    chance = random.Random(seed)
    spec = copy.deepcopy(EXAMPLES[_one_of(chance, BASES)])
    _resize(spec, chance)
    for _ in range(1 + int(chance.random() * 3)):
        places = [place for place in ODDITIES if _has_meaning(place, spec) or chance.random() < 0.01]
        place = _one_of(chance, places)
        _set(spec, place.split("."), _one_of(chance, ODDITIES[place]))
    return spec


def _has_meaning(place: str, spec: dict[str, Any]) -> bool:
    """Whether a strap of this construction, with what it says so far, may say something there."""
    construction, row = spec["construction"], spec.get("ornaments", {})
    needs = {
        "ends": construction == "open",
        "body.end": construction == "three_piece",
        "billet": construction != "open",
        "billet.width": construction == "three_piece",
        "billet.ring": construction == "one_piece",
        "size.measured_from": construction != "open" and "finished_length" in spec["size"],
        "size.ease": "girth" in spec["size"],
        "ornaments": bool(row),
        "ornaments.arrange": "items" in row,
        "ornaments.mirrored": row.get("arrange") == "sequence",
        "between": bool(row),
    }
    return all(may for name, may in needs.items() if f"{place}.".startswith(f"{name}."))


def _one_of(chance: random.Random, values: Any) -> Any:
    """`random.choice` may draw otherwise in another Python; `random.random` never does."""
    return values[int(chance.random() * len(values))]


def _resize(spec: dict[str, Any], chance: random.Random) -> None:
    """Now and then another length, in the way it is stated."""
    stated = [name for name in SIZES if name in spec["size"]]
    if stated and chance.random() < 0.3:
        spec["size"][stated[0]] = _one_of(chance, _LENGTHS)


def _set(part: Any, path: list[str], value: Any) -> None:
    """Set the member at a path, of the first where there is a list of parts."""
    for name in path[:-1]:
        part = part[0] if isinstance(part, list) else part
        part = part.setdefault(name, {})
    (part[0] if isinstance(part, list) else part)[path[-1]] = copy.deepcopy(value)
    if path[-1] in ("item", "items"):
        part.pop("items" if path[-1] == "item" else "item", None)
    if path[-1] in ("per_inch", "pitch"):
        part.pop("pitch" if path[-1] == "per_inch" else "per_inch", None)
