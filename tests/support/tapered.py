"""Straps whose outlines are not rulers: those of two ends, narrowing one way or another by seed, and outlines alone."""

import random
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from service.schemas.goods import END_SHAPES
from service.strap.plane.lengths import SIXTY_FOURTH
from service.strap.plane.narrowing import Narrowing, long_edge
from service.strap.plane.outline import default_depth, strap_outline
from service.strap.plane.teeth import CutEdge, length_along
from tests.support.two_ended import odd_pair

_WIDTHS = ("1 1/4 in", "1 1/2 in", "45 mm", "2 in", "2 1/2 in")
_NARROW = ("1/2 in", "5/8 in", "20 mm", "3/4 in", "1 in", "25 mm", "1 1/4 in", "1 1/2 in")
_OVER = ("1/4 in", "1 in", "50 mm", "3 in", "5 1/2 in", "10 in", "20 in")
_REPEATS = ("3/16 in", "3/8 in", "1/2 in", "18 mm", "1 1/4 in", "40 in")
_DEPTHS = ("1 mm", "1/8 in", "5 mm", "3/8 in")
_LONGER = ("30 in", "41 5/16 in", "1200 mm", "60 in")
_LINES = ("straight", "eased")


def tapered_pair(head: str, foot: str, seed: int) -> dict[str, Any]:
    """An odd strap with these two ends that narrows to one of them, to both alike, or to each otherwise."""
    chance = random.Random(f"taper {head} {foot} {seed}")
    spec = odd_pair(head, foot, seed)
    spec["body"] = {"width": _one_of(chance, _WIDTHS), "taper": _of_body(chance)}
    for end in spec["ends"].values():
        if end["kind"] == "billet" and chance.random() < 0.4:
            end["taper"] = _taper(chance)
    return spec


def edged_pair(head: str, foot: str, seed: int) -> dict[str, Any]:
    """An odd strap with these two ends, its long edges scalloped or pinked, and narrowing or not."""
    chance = random.Random(f"edge {head} {foot} {seed}")
    spec = odd_pair(head, foot, seed)
    edge = {"shape": _one_of(chance, ("scalloped", "pinked"))}
    for name, values in (("repeat", _REPEATS), ("depth", _DEPTHS)):
        if chance.random() < 0.5:
            edge[name] = _one_of(chance, values)
    spec["body"] = {"width": _one_of(chance, _WIDTHS), "edge": edge}
    if chance.random() < 0.4:
        spec["body"]["taper"] = _of_body(chance)
    return spec


def dressed_pair(head: str, foot: str, seed: int) -> dict[str, Any]:
    """An odd strap with these two ends and an edging, keepers between its ornaments or both; cut, narrowing or not."""
    chance = random.Random(f"dress {head} {foot} {seed}")
    spec = edged_pair(head, foot, seed) if chance.random() < 0.4 else tapered_pair(head, foot, seed)
    if chance.random() < 0.4:
        spec["body"].pop("taper", None)
    spec["size"] = {name: _one_of(chance, _LONGER) for name in spec["size"]}
    spec["ornaments"] = {"item": "bell_25", "count": _one_of(chance, (2, 4, 7))}
    if chance.random() < 0.3:
        spec.pop("border", None)
    spec |= _dress(chance)
    return spec


def _dress(chance: random.Random) -> dict[str, Any]:
    """An edging, or keepers between ornaments, which may hold a lining."""
    found: dict[str, Any] = {}
    if chance.random() < 0.7:
        edging = {"leather": _one_of(chance, ("latigo_6_7", "lining_2_3"))}
        rest: dict[str, tuple[Any, ...]] = {
            "reach": ("1/8 in", "6 mm", "3/8 in"), "lies": ("behind", "between"), "depth": _DEPTHS, "repeat": _REPEATS,
            "iron": ("scallop_13", "pinking_6", "pinking_13"), "shape": ("straight", "scalloped", "pinked"),
        }  # fmt: skip
        for name, values in rest.items():
            if chance.random() < 0.25 and not (
                edging.get("iron") or (name != "reach" and "straight" in edging.values())
            ):
                edging[name] = _one_of(chance, values)
        if edging.get("shape") == "straight" or "iron" in edging:
            edging = {name: value for name, value in edging.items() if name not in ("repeat", "depth")}
        if edging.get("shape") and "iron" in edging:
            del edging["shape"]
        found["edging"] = edging
    if "edging" not in found or chance.random() < 0.5:
        found["keepers_between"] = _one_of(chance, ({}, {"width": "3/8 in"}, {"every": 2, "width": "10 mm"}))
        if "edging" not in found and chance.random() < 0.4:
            found["lining"] = {"leather": "lining_2_3", "held_by": "keepers"}
    return found


def outlined_pair(head: str, foot: str, seed: int) -> dict[str, Any]:
    """Of four seeds one an odd strap that is a ruler, one that narrows, one with cut edges, and one that is dressed."""
    draw = (odd_pair, tapered_pair, edged_pair, dressed_pair)[seed % 4]
    return draw(head, foot, seed)


def _of_body(chance: random.Random) -> dict[str, Any]:
    if chance.random() < 0.5:
        return _taper(chance)
    named = _one_of(chance, (("head",), ("foot",), ("head", "foot")))
    return {name: _taper(chance) for name in named}


def _taper(chance: random.Random) -> dict[str, Any]:
    told = {"to": _one_of(chance, _NARROW)}
    for name, values in (("over", _OVER), ("line", _LINES)):
        if chance.random() < 0.6:
            told[name] = _one_of(chance, values)
    return told


def _one_of(chance: random.Random, values: Any) -> Any:
    """`random.choice` may draw otherwise in another Python; `random.random` never does."""
    return values[int(chance.random() * len(values))]


@st.composite
def narrowing_outlines(draw):
    """Strips that narrow to one end or both, as the solver makes them."""
    sixteenths = 4 * SIXTY_FOURTH
    width = draw(st.integers(24, 64)) * sixteenths
    ends, narrowings, length = [], [], draw(st.integers(0, 160)) * sixteenths
    for _ in range(2):
        narrows = draw(st.integers(1, 12)) * sixteenths * draw(st.booleans())
        shape, over = draw(st.sampled_from(END_SHAPES)), narrows and draw(st.integers(1, 12)) * narrows
        depth = default_depth(shape, width - narrows)
        parallel = depth + draw(st.integers(1, 48)) * sixteenths
        ends.append((shape, depth))
        narrowings.append(Narrowing(width - narrows, parallel, over, eased=draw(st.booleans())))
        length += parallel + over
    return strap_outline(length, width, *ends, tuple(narrowings))


@st.composite
def cut_outlines(draw):
    """Such strips with their edges cut, no deeper than a third of the repeat and a sixth of the width."""
    plain = draw(narrowing_outlines())
    edge = long_edge(plain.length, plain.width, plain.narrowings)
    assume(length_along(edge) > 40_000_000)
    count = draw(st.integers(1, 40))
    deepest = min(length_along(edge) / count / 3, min(plain.end_widths) / 6)
    cut = CutEdge(draw(st.sampled_from(("scalloped", "pinked"))), count, round(deepest * draw(st.floats(0.1, 1))))
    return strap_outline(plain.length, plain.width, plain.head, plain.foot, plain.narrowings, cut)
