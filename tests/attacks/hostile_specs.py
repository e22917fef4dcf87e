"""Straps that crowd, repeat, nest, mix units and types: what a caller writes who wants to cost the service time.

All by a seeded `random.Random`, the same in every process.
"""

import copy
import json
import random
from typing import TYPE_CHECKING, Any

from openapi.example_requests import examples
from tests.support.random_straps import random_strap
from tests.support.variations import changed, leaves, objects

if TYPE_CHECKING:
    from collections.abc import Callable

EXAMPLES = examples()
GOOD = tuple(name for name in sorted(EXAMPLES) if not name.startswith("refused"))
ODD_STRAPS = 1_000_000
"""So many seeds of odd straps are drawn from."""

TINY = ("0.0001 in", "0.001 mm", "0.01 in", "1/64 in", "0.1 mm", "1 mm", "2.5 mm")
EDGES = ("3 in", "12 in", "36 in", "84 in", "84 1/64 in", "2133.6 mm", "900 in")
WIDTHS = ("3/8 in", "1 in", "2 in", "6 in", "6 1/64 in", "152.4 mm")
COUNTS = (0, 1, 2, 12, 50, 150, 199, 200, 201, 3000, 1_000_000, 1_000_001)
SPOTS = ("spot_6", "spot_10", "concho_25", "bell_25", "bell_38")
BASES: tuple[dict[str, Any], ...] = (
    {"construction": "open", "size": {"body_length": "84 in"}, "body": {"width": "6 in"},
     "ornaments": {"item": "spot_6", "count": 150, "spacing": "even", "rows": {"count": 6, "distance": "7/8 in"}}},
    {"construction": "open", "size": {"body_length": "84 in"}, "body": {"width": "6 in"},
     "ornaments": {"item": "bell_38", "count": 200, "spacing": {"pitch": "0.0001 in"},
                   "rows": {"count": 12, "distance": "0.01 in"}}},
    {"construction": "open", "size": {"body_length": "84 in"}, "body": {"width": "4 in"}, "lining": "lining_2_3",
     "stitching": {"pitch": "2 mm"},
     "ornaments": {"items": ["spot_6", "spot_10"], "arrange": "graduated", "count": 100, "spacing": "even"},
     "border": {"item": "spot_6", "inset": "1/2 in", "step": "3/8 in"}},
    {"construction": "three_piece", "size": {"body_length": "80 in"}, "body": {"width": "3 in"},
     "ornaments": {"item": "spot_10", "count": 60, "spacing": "even"}, "between": {"item": "spot_6", "per_gap": 2},
     "border": {"item": "spot_6", "inset": "1/4 in", "step": "1/2 in"}},
    {"construction": "one_piece", "size": {"girth": "60 in"}, "body": {"width": "1 1/2 in"}, "stitching": {},
     "billet": {"buckle": "heel_bar_38", "size_holes": {"count": 15, "spacing": "1/2 in"}},
     "ornaments": {"item": "spot_6", "count": 60, "spacing": "even"}},
)  # fmt: skip
"""Straps as full as can be."""
JUNK: tuple[Any, ...] = (
    None, True, 7, -1, 0, 2.5, 1e308, "", " ", "x" * 41, "x" * 5000, [], {}, [[]], [None], {"a": {}}, "1/0 in",
    "NaN", "9" * 40 + " in", "0 in", "-3 in", "½ in", "\u0000", "\u202e in", "[" * 200, '\\"' * 300, "{{7*7}}",
)  # fmt: skip


def good_spec(dice: random.Random) -> dict[str, Any]:
    """An example with another length: most of these can be made."""
    spec = copy.deepcopy(EXAMPLES[dice.choice(GOOD)])
    for name in ("body_length", "finished_length", "girth"):
        if name in spec["size"] and dice.random() < 0.9:
            spec["size"][name] = f"{dice.randint(400, 1200)} mm"
    return spec


def any_spec(dice: random.Random) -> dict[str, Any]:
    """A strap as it may come: odd, as full as can be, or one that can be made."""
    kind = dice.random()
    if kind < 0.4:
        return random_strap(dice.randrange(ODD_STRAPS))
    return good_spec(dice) if kind < 0.65 else copy.deepcopy(dice.choice(BASES))


def hostile_spec(dice: random.Random) -> Any:
    """A strap with one to four hostile things done to it."""
    spec: Any = any_spec(dice)
    for _ in range(dice.randint(0, 4)):
        spec = dice.choices(_WAYS, _WEIGHTS)[0](dice, spec)
        if not isinstance(spec, dict):
            break
    return spec


def crowd(dice: random.Random, spec: dict[str, Any]) -> dict[str, Any]:
    """More of something, or nearer together than can be."""
    spec = copy.deepcopy(spec)
    path, values = dice.choice(CROWDS)
    _put(spec, path.split("."), copy.deepcopy(dice.choice(values)))
    return spec


def repeat(dice: random.Random, spec: dict[str, Any]) -> dict[str, Any]:
    """The same entry of a list many times over."""
    spec = copy.deepcopy(spec)
    times = dice.choice((2, 12, 23, 24, 24, 24, 25, 100))
    name = dice.choice(("border", "between", "items"))
    if name == "items":
        row = spec.get("ornaments")
        if isinstance(row, dict):
            row.pop("item", None)
            row |= {"items": [dice.choice(SPOTS)] * times, "arrange": dice.choice(("graduated", "sequence"))}
        return spec
    spec[name] = [_part(dice, name)] * times
    return spec


def convert(dice: random.Random, spec: dict[str, Any]) -> dict[str, Any]:
    """A length, or all that are bare, in another unit."""
    texts = [(path, value) for path, value in leaves(spec) if isinstance(value, str) and value.endswith((" in", " mm"))]
    if not texts or dice.random() < 0.3:
        return {**spec, "units": dice.choice(("in", "mm", "cm"))}
    path, value = dice.choice(texts)
    bare, unit = value[:-3], value[-2:]
    return changed(spec, path, dice.choice((bare, bare + "cm", bare + '"', bare + ("mm" if unit == "in" else "in"))))


def spoil(dice: random.Random, spec: dict[str, Any]) -> Any:
    """Something of another type somewhere, or a member that nobody knows."""
    if dice.random() < 0.3:
        return changed(spec, (*dice.choice([path for path, _ in objects(spec)]), "u" * dice.randint(1, 60)), 1)
    path = dice.choice(list(leaves(spec)))[0]
    return changed(spec, path, dice.choice(JUNK)) if path else dice.choice(JUNK)


def nest(dice: random.Random, spec: dict[str, Any]) -> Any:
    """Lists and objects inside one another, up to and beyond the depth that is read."""
    inner: Any = dice.choice(JUNK)
    for _ in range(dice.choice((1, 5, 26, 29, 30, 31, 32, 60))):
        inner = [inner] if dice.random() < 0.5 else {dice.choice(("a", "spec", "size")): inner}
    path = dice.choice(list(leaves(spec)))[0]
    return changed(spec, path, inner) if path else inner


def reorder(dice: random.Random, spec: dict[str, Any]) -> dict[str, Any]:
    """Something of another strap."""
    other = any_spec(dice)
    name = dice.choice(sorted(other))
    return {**copy.deepcopy(spec), name: other[name]}


def raw_text(dice: random.Random, document: Any) -> bytes:
    """A body that is not quite JSON, or JSON as nobody writes it."""
    text = json.dumps(document)
    times = dice.choice((10, 33, 1000, 15_000))
    forms: tuple[Callable[[], str], ...] = (
        lambda: text.replace("{", '{"construction":"open",', 1),
        lambda: "[" * times + "]" * times,
        lambda: '{"a":' * times + "1" + "}" * times,
        lambda: '{"a":"' + "[]" * 33 + '\\"' * min(times, 1000),
        lambda: text[: dice.randint(0, len(text))],
        lambda: text + " " * times + dice.choice(("", "x", "{}", "\u0000")),
        lambda: '{"' + "k" * times + '":' + text + "}",
        lambda: "{" + ",".join(f'"k{n}":{n}' for n in range(times // 10)) + "}",
        lambda: text.replace('"', "'"),
        lambda: "9" * times,
        lambda: '"\\ud800"' if times < 100 else '"' + "\\u00e9" * (times // 6) + '"',
    )
    return dice.choice(forms)().encode("utf-8", "surrogatepass")


def _part(dice: random.Random, name: str) -> dict[str, Any]:
    if name == "between":
        return {"item": dice.choice(SPOTS), "per_gap": dice.choice((0, 1, 2, 10, 100, 1000))}
    return {"item": dice.choice(SPOTS), "inset": dice.choice(("1/8 in", "1/4 in", "1 in")), "step": dice.choice(STEPS)}


STEPS = (*TINY, "1/4 in", "3/8 in", "1 in")
CROWDS: tuple[tuple[str, tuple[Any, ...]], ...] = (
    ("ornaments.count", COUNTS),
    ("ornaments.count", COUNTS),
    ("ornaments.item", SPOTS),
    ("ornaments.spacing", ("even", "ruler", *({"pitch": each} for each in STEPS))),
    ("ornaments.rows", tuple({"count": n, "distance": each, "across": across} for n in (1, 2, 7, 12, 13)
                             for each in STEPS for across in ("level", "staggered"))),
    ("ornaments.centrepiece", SPOTS),
    ("ornaments.mirrored", (True, False)),
    ("between", tuple({"item": item, "per_gap": n} for item in SPOTS for n in (0, 1, 2, 5, 14, 100, 1000))),
    (
        "border",
        tuple({"item": item, "inset": inset, "step": step} for item in SPOTS for inset in TINY for step in STEPS),
    ),
    ("border.step", STEPS),
    ("border.inset", (*TINY, "1/4 in", "1/2 in", "3 in")),
    ("body.width", WIDTHS),
    ("size", tuple({"body_length": each} for each in EDGES)),
    ("size.body_length", EDGES),
    ("billet.size_holes.count", (1, 15, 16, 1000)),
    ("billet.size_holes.spacing", STEPS),
    ("joint.count", (1, 4, 5, 1000)),
    ("joint.spacing", STEPS),
    ("joint.end_distance", STEPS),
    ("stitching", ({}, {"edges": True}, {"turn_back": True})),
    ("stitching.pitch", (*TINY, "2 mm", "5 mm")),
    ("stitching.inset", (*TINY, "1/4 in", "2 in")),
    ("lining", ("lining_2_3", "harness_8_9", "bridle_10_11")),
    ("leather", ("harness_8_9", "bridle_10_11", "latigo_6_7", "lining_2_3", "no_such")),
    ("construction", ("open", "one_piece", "three_piece")),
    ("ends.head.kind", ("plain", "hole", "slot", "ring")),
)  # fmt: skip
"""Members of a spec, and what crowds there."""


def _put(part: Any, path: list[str], value: Any) -> None:
    """Set the member at a path, of the first where there is a list of parts; nothing where no object holds it."""
    for name in path[:-1]:
        part = part[0] if isinstance(part, list) and part else part
        if not isinstance(part, dict):
            return
        part = part.setdefault(name, {})
    part = part[0] if isinstance(part, list) and part else part
    if isinstance(part, dict):
        part[path[-1]] = value


_WAYS = (crowd, repeat, convert, spoil, nest, reorder)
_WEIGHTS = (10, 3, 2, 2, 1, 2)
