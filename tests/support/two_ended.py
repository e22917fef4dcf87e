"""Straps of two ends: every pair of kinds, and odd ones by seed."""

import random
from itertools import product
from typing import Any

OUTER: dict[str, dict[str, Any]] = {
    "plain": {"kind": "plain"},
    "hole": {"kind": "hole"},
    "slot": {"kind": "slot"},
    "ring": {"kind": "ring"},
    "loop": {"kind": "loop", "rod": "1/2 in"},
    "buckle": {"kind": "buckle"},
    "tip": {"kind": "tip"},
    "cap": {"kind": "snap", "half": "cap"},
    "stud": {"kind": "snap", "half": "stud"},
}
ENDS = OUTER | {f"billet with {name}": {"kind": "billet", "end": end} for name, end in OUTER.items()}
"""Every kind of end, and a billet that ends in each."""
PAIRS = tuple(pair for pair in product(ENDS, ENDS) if "tip" not in pair[0] or "buckle" not in pair[1])
"""Head and foot: what is buckled is told from its buckle."""

_WIDTHS = ("5/8 in", "3/4 in", "1 in", "25 mm", "1 1/2 in", "2 in")
_SMALL = ("3/8 in", "1/2 in", "5/8 in", "20 mm", "1 in")
_SHAPES = ("square", "round", "english_point", "straight_point", "clipped")
_LENGTHS = ("20 in", "24 1/8 in", "30 in", "800 mm", "41 5/16 in")
_ITEMS = ("bell_25", "spot_10", "concho_25")
_HOLDS = ("rivets", "stitches")
_FIELDS: dict[str, dict[str, tuple[Any, ...]]] = {
    "plain": {"shape": _SHAPES, "depth": _SMALL},
    "hole": {"hole": ("1/8 in", "1/4 in", "5/16 in"), "shape": _SHAPES},
    "slot": {"slot": ("3/8 in", "1/2 in"), "shape": _SHAPES},
    "ring": {"ring": ("ring_25", "ring_38"), "hold": _HOLDS},
    "loop": {"rod": ("1/4 in", "18 mm", "1 in"), "hold": _HOLDS},
    "buckle": {
        "hold": _HOLDS,
        "buckle": ("heel_bar_20", "heel_bar_25", "centre_bar_25", "heel_bar_38"),
        "keeper": ("loose", "none", "fixed", ["fixed", "fixed"], ["loose", "fixed"], ["loose", "loose"]),
        "keeper_width": _SMALL,
        "ring": ("ring_38", "dee_38", "rectangle_32", "dee_50"),
        "prong_slot": ("7/8 in", "1 1/4 in", "35 mm"),
    },
    "tip": {
        "size_holes": ({"count": 1}, {"count": 3}, {"count": 7, "spacing": "5/8 in"}, {"count": 5, "spacing": "20 mm"}),
        "tip_length": ("2 in", "3 in", "90 mm"),
        "shape": _SHAPES,
    },
    "cap": {"snap": ("line_24", "break_away_20"), "shape": _SHAPES},
    "stud": {"snap": ("line_24", "break_away_20"), "count": (3, 5), "spacing": ("3/4 in", "25 mm"), "shape": _SHAPES},
}


def pair_of(head: str, foot: str) -> dict[str, Any]:
    """The plainest strap with these two ends; a tip of the body's own width has to pass a billet's buckle."""
    narrow = {"body": {"width": "1 in"}} if (head, foot) == ("billet with buckle", "tip") else {}
    return narrow | {
        "construction": "two_ends",
        "size": {"body_length": "30 in"},
        "ends": {"head": ENDS[head], "foot": ENDS[foot]},
        "ornaments": {"item": "bell_25", "count": 5},
    }


def odd_pair(head: str, foot: str, seed: int) -> dict[str, Any]:
    """A strap with these two ends by seed: sizes, widths, goods and rows one way or another."""
    chance = random.Random(f"{head} {foot} {seed}")
    spec: dict[str, Any] = {
        "construction": "two_ends",
        "units": _one_of(chance, ("in", "mm")),
        "size": {_one_of(chance, _ways(head, foot)): _one_of(chance, _LENGTHS)},
        "ends": {"head": _end(chance, head), "foot": _end(chance, foot)},
    }
    folded = any(kind in head + foot for kind in ("ring", "loop")) or "buckle" in head
    rest: dict[str, tuple[float, tuple[Any, ...]]] = {
        "ornaments": (1, tuple({"item": item, "count": count} for item in _ITEMS for count in (0, 1, 3, 6))),
        "body": (0.6, tuple({"width": width} for width in _WIDTHS)),
        "border": (0.3, ({"item": "spot_6"},)),
        "lining": (0.2, ("lining_2_3",)),
        "stitching": (0.2, ({"turn_back": True} if folded else {},)),
        "joint": (0.3, tuple({"count": count, "spacing": spacing} for count in (1, 2, 3) for spacing in _SMALL)),
    }
    return spec | {name: _one_of(chance, each) for name, (share, each) in rest.items() if chance.random() < share}


def _ways(head: str, foot: str) -> list[str]:
    """How the size of a strap with these ends may be stated."""
    ways = ["body_length", "finished_length", "overall_length"]
    ways += ["bar_to_bar"] if "buckle" in head and "buckle" in foot else []
    snapped = {head.rsplit(maxsplit=1)[-1], foot.rsplit(maxsplit=1)[-1]} == {"cap", "stud"}
    return ways + (["girth"] if snapped or ("buckle" in head and "tip" in foot) else [])


def _end(chance: random.Random, name: str) -> dict[str, Any]:
    kind = name.removeprefix("billet with ")
    told = dict(OUTER[kind])
    told |= {field: _one_of(chance, values) for field, values in _FIELDS[kind].items() if chance.random() < 0.25}
    if name == kind:
        return told
    width = {"width": _one_of(chance, _WIDTHS)} if chance.random() < 0.5 else {}
    join = {"join": _one_of(chance, _HOLDS)} if chance.random() < 0.3 else {}
    return {"kind": "billet", "end": told} | width | join


def _one_of(chance: random.Random, values: Any) -> Any:
    """`random.choice` may draw otherwise in another Python; `random.random` never does."""
    return values[int(chance.random() * len(values))]
