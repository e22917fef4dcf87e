"""Straps under `ruler` drawn with a seed, and what of each does not lie on the shop's finest graduation.

`tests/heavy ruled` tells of 10,000 straps how many lie on it, and why the rest do not.
"""

import random
import sys
from collections import Counter
from collections.abc import Iterator
from itertools import count, islice
from typing import Any

from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.pattern import Feature, Pattern
from service.strap.model.spec import Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve

SHOP = demo_shop()
GRADUATION = {"in": INCH // 16, "mm": MM}
"""A ruler's finest graduation: 1/16 in, 1 mm (common practice)."""
STATIONS = ("ornament", "between", "border")
LEAST = 0.95
"""How many of them have to lie on the ruler, as a share."""
_COARSE = {"in": INCH // 8, "mm": 5 * MM}
"""The step of the lengths that are asked for."""


def ruled_strap(seed: int) -> Spec:
    """The strap of a seed: the same in every process."""
    chance = random.Random(seed)
    units = _one_of(chance, ("in", "in", "mm"))
    construction = _one_of(chance, ("three_piece", "one_piece", "open"))
    row = _row(chance)
    inches = {"three_piece": (12, 48), "one_piece": (13, 44), "open": (10, 48)}[construction]
    return Spec(
        construction=construction,
        units=units,
        size=_size(chance, construction, _length(chance, units, *inches)),
        body=Body(width=_width(chance, units, construction, tall=bool(row.rows))),
        ends=Ends(head=_end(chance), foot=_end(chance)) if construction == "open" else Ends(),
        ornaments=row,
        between=Between(item="spot_6", per_gap=_one_of(chance, (1, 1, 2, 3))) if chance.random() < 0.25 else None,
        border=_border(chance, units) if construction != "one_piece" and chance.random() < 0.4 else None,
    )


def _one_of(chance: random.Random, values: Any) -> Any:
    """`random.choice` may draw otherwise in another Python; `random.random` never does."""
    return values[int(chance.random() * len(values))]


def _length(chance: random.Random, units: str, low: float, high: float) -> int:
    """A length that somebody would ask for: whole eighths of an inch, or whole steps of 5 mm."""
    step = _COARSE[units]
    return round((low + chance.random() * (high - low)) * INCH / step) * step


def _size(chance: random.Random, construction: str, length: int) -> Size:
    ways = ("body_length", "finished_length") if construction == "open" else ("girth", "body_length", "finished_length")
    return Size(**{_one_of(chance, ways): length})


def _width(chance: random.Random, units: str, construction: str, *, tall: bool) -> int:
    if construction == "one_piece":
        return _one_of(chance, (25 * MM, 38 * MM) if units == "mm" else (INCH, 3 * INCH // 2))
    return _length(chance, units, 3 if tall else 1.5, 4 if tall else 3)


def _end(chance: random.Random) -> StrapEnd:
    return _one_of(chance, (StrapEnd(kind="plain"), StrapEnd(kind="hole"), StrapEnd(kind="ring", ring="ring_38")))


def _row(chance: random.Random) -> Row:
    count, kind = 1 + int(chance.random() * 14), chance.random()
    if kind < 0.2:
        items, arrange = _one_of(chance, (("bell_25", "bell_38"), ("spot_10", "concho_25"))), "graduated"
        return Row(items=items, arrange=arrange if chance.random() < 0.7 else "alternating", count=count)
    if kind < 0.35:
        across = _one_of(chance, ("staggered", "level"))
        return Row(item="spot_10", count=count, rows=Rows(count=2 + int(chance.random() * 2), across=across))
    return Row(item=_one_of(chance, ("bell_25", "bell_30", "bell_38", "spot_6", "spot_10", "concho_25")), count=count)


def _border(chance: random.Random, units: str) -> Border:
    steps = (None, 15 * MM, 20 * MM, 30 * MM) if units == "mm" else (None, INCH * 3 // 4, INCH, INCH * 3 // 2)
    return Border(item="spot_6", step=_one_of(chance, steps))


def made(spec: Spec) -> Pattern | None:
    """Its pattern, or nothing where it is refused."""
    try:
        return solve(spec, SHOP)
    except Refusal:
        return None


def off_ruler(pattern: Pattern) -> list[Feature]:
    """The ornaments, things between and border spots that lie off the finest graduation."""
    step = GRADUATION[str(pattern.spec.units)]
    features = [feature for piece in pattern.pieces for feature in piece.features]
    return [each for each in features if each.purpose in STATIONS and each.x % step]


def reason(pattern: Pattern, off: list[Feature]) -> str:
    """Why a strap does not lie on the ruler whole, by what lies off it."""
    kinds, row = {feature.purpose for feature in off}, pattern.spec.ornaments
    if kinds == {"border"}:
        return "no border step within a quarter of the wanted one is on the graduation"
    if "ornament" not in kinds:
        return "the clearances leave what stands between no graduation"
    step = GRADUATION[str(pattern.spec.units)]
    if row and row.rows and row.rows.across == "staggered" and all(feature.x % step == step // 2 for feature in off):
        return "the second row stands half a graduation off, in the middle of uneven gaps"
    return "the clearances leave the row no graduation"


def patterns() -> Iterator[Pattern]:
    """The patterns of all seeds whose strap can be made, in order, without end."""
    return (pattern for pattern in (made(ruled_strap(seed)) for seed in count()) if pattern)


def tally(straps: int) -> Counter[str]:
    """Of so many straps that can be made the reasons why some do not lie on the ruler whole."""
    off = ((pattern, off_ruler(pattern)) for pattern in islice(patterns(), straps))
    return Counter(reason(pattern, features) for pattern, features in off if features)


def main() -> None:
    """Print the tally of as many straps as asked for, 10,000 unless said; fail where too few lie on the ruler."""
    straps = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    reasons = tally(straps)
    whole = straps - reasons.total()
    lines = [f"{whole} of {straps} straps lie on the ruler whole: {100 * whole / straps:.1f} %, aim: at least 95 %"]
    lines += [f"{many:6} {why}" for why, many in reasons.most_common()]
    sys.stdout.write("\n".join(lines) + "\n")
    if whole < LEAST * straps:
        raise SystemExit("too few lie on the ruler")


if __name__ == "__main__":
    main()
