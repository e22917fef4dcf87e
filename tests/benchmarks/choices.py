"""What can be made of a design, cold, against laying out every pair of length and count."""

from dataclasses import replace

import orjson

from service.desk.selling import offers_of, spec_of
from service.schemas.design_document import choices_document
from service.shop.designs import Design, range_of
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec_changes import sized
from service.strap.solve import solve
from tests.benchmarks._timing import line, side_by_side

SHOP = demo_shop()
PLAIN = """{"construction": "open", "body": {"width": "1 1/4 in"}, "ornaments": {"item": "bell_30"},
            "ends": {"head": {"ring": "ring_38"}, "foot": {"kind": "plain"}}}"""


SEVERAL_ROWS = """{"construction": "open", "body": {"width": "3 in"}, "leather": "latigo_6_7",
                   "ornaments": {"item": "spot_10", "rows": {"count": 3, "across": "staggered"}}}"""
LINED = """{"construction": "open", "body": {"width": "3 in"}, "leather": "latigo_6_7",
            "lining": "lining_2_3", "ornaments": {"item": "spot_10"}}"""
KINDS = {"bells of one size": (PLAIN, 50), "three staggered rows": (SEVERAL_ROWS, 100), "a lining": (LINED, 100)}
"""Base specs for the door strap's own lengths and counts, and the most milliseconds that each should take."""


def axes(design: Design) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The lengths and the counts of a design."""
    return tuple(range_of(design.length)), tuple(range_of(design.count)) if design.count else (0,)


def answered(design: Design) -> bytes:
    """The answer of /choices, from nothing."""
    lengths, counts = axes(design)
    chosen, offers = design.defaults(), offers_of(design, SHOP)
    lines = offers.lines(chosen, lengths, counts)
    offered = {each.name: offers.values(chosen, each, lengths, counts) for each in design.others}
    return orjson.dumps(choices_document(design, {}, lines, offered, "in"))


def with_spec(spec: str) -> Design:
    """The lengths and counts of the door strap with another base spec, in its leather if it says one."""
    design = SHOP.designs["door_strap"]
    said = orjson.loads(spec)
    free = tuple(each for each in design.choices if each.path != ("leather",) or "leather" not in said)
    return replace(design, spec=spec, choices=free)


def offered(design: Design) -> int:
    """How many pairs can be made: a grid in which everything is refused is quickly answered, and says nothing."""
    lines = orjson.loads(answered(design))["makeable"]
    return sum(most - least + 1 for line_of in lines for least, most in line_of["counts"])


def laid_out(design: Design) -> int:
    """How many pairs the solver takes, each laid out."""
    lengths, counts = axes(design)
    spec = spec_of(design, design.defaults(), SHOP)
    taken = 0
    for length in lengths:
        for count in counts:
            try:
                solve(sized(spec, length, count), SHOP)
                taken += 1
            except Refusal:
                pass
    return taken


def main() -> None:
    """Print milliseconds of each demo design's whole answer, and the ratio for the largest plain grid."""
    for design in SHOP.designs.values():
        lengths, counts = axes(design)
        times = side_by_side(5, 1, cold=lambda design=design: answered(design))
        aim = "aim: at most 50" if (len(lengths), len(counts)) == (60, 20) else ""
        line(f"{design.name}: {len(lengths)} x {len(counts)}, cold", times["cold"], "ms", aim)
    for name, (spec, most) in KINDS.items():
        design = with_spec(spec)
        times = side_by_side(5, 1, cold=lambda design=design: answered(design))
        line(f"{name}: 60 x 20, {offered(design)} pairs made, cold", times["cold"], "ms", f"aim: at most {most}")
    largest = max(SHOP.designs.values(), key=lambda design: len(axes(design)[0]) * len(axes(design)[1]))
    times = side_by_side(1, 1, cold=lambda: answered(largest), pairs=lambda: laid_out(largest))
    line(f"{largest.name}: every pair laid out", times["pairs"], "ms")
    line("times faster than that", times["pairs"] / times["cold"], "x")


if __name__ == "__main__":
    main()
