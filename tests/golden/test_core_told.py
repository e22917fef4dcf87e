"""What the core says that reaches a caller only in part: every cure that is thought of, plans, views and lengths.

The remedies of a refusal are the few cures that were tried and helped; here is the whole list. Cut plans of random
batches and views of straps are kept as digests.
"""

import hashlib
from dataclasses import asdict
from decimal import Decimal

import pytest

from openapi.example_requests import examples
from service.desk.pipeline import Budget, Options, draw, read
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import LengthError, Refusal
from service.strap.plane.lengths import MM, exact_text, millimetres, parse_length, reading
from service.strap.solve import solve
from tests.golden.telling import STRAPS, compare, cures_told, digest
from tests.strap.test_checks import WRONG
from tests.workshop.cut_plan.support import plan
from tests.workshop.cut_plan.test_validity import batch

SHOP = demo_shop()
JUST_RINGED = {
    "construction": "open",
    "size": {"finished_length": "24 in"},
    "body": {"width": exact_text(SHOP.rings["ring_38"].inside_width, "in")},
    "ends": {"head": {"kind": "ring"}},
}
"""A strap just as wide as a ring that is not the default."""
REFUSED = [*(read_spec(spec, "in") for spec in (*STRAPS["refused"], JUST_RINGED)), *(spec for spec, _, _ in WRONG)]
BATCHES = 200
FILES = {"cures", "cut_plans-random", "lengths", "views"}


def cured(spec) -> dict[str, list[str]]:
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    return cures_told(spec, SHOP, refused.value.faults)


@pytest.mark.parametrize("first", range(0, len(REFUSED), 8))
def test_the_cures_of_a_refused_strap_are_as_they_were(first):
    group = enumerate(REFUSED[first : first + 8], first)
    compare("cures", f"from {first:03}", {f"{number:03}": cured(spec) for number, spec in group})


@pytest.mark.parametrize("first", range(0, BATCHES, 5))
def test_the_plan_of_a_random_batch_is_as_it_was(first):
    found = {}
    for seed in range(first, first + 5):
        wanted, stock, kerf = batch(seed)
        made = plan(wanted, stock, SHOP, kerf, least=(150 * MM, 10 * MM))
        whole = digest(asdict(made))
        found[str(seed)] = [made.used.sheets, made.settings, made.proven, len(made.missing), whole]
    compare("cut_plans-random", f"from {first:03}", found)


DRAWN = [*(spec for _, spec in sorted(examples().items())), *STRAPS["made"]]
VIEWS = ("pattern", "finished", "cutter")


@pytest.mark.parametrize("first", range(0, len(DRAWN), 10))
def test_every_view_of_a_strap_is_drawn_as_it_was(first):
    found = {}
    for number, document in enumerate(DRAWN[first : first + 10], first):
        spec, _ = read(document, SHOP)
        try:
            pattern = solve(spec, SHOP)
        except Refusal:
            continue
        views = [Options(form="svg", view=view, kerf=MM // 5 if view == "cutter" else 0) for view in VIEWS]
        drawn = [draw(pattern, SHOP, view, spec.units or "in", Budget(pixels=1, pages=1)) for view in views]
        found[f"{number:03}"] = [hashlib.sha256(each).hexdigest()[:12] for each in drawn]
    compare("views", f"from {first:03}", found)


LENGTHS = (
    "", " ", "1", "1 in", "1in", "1 IN.", "-1 in", "\u22121 mm", "+1 mm", "1/0 in", "0/5 in", "1 1/2", "1-1/2 in",
    "1 - 1/2 in", "11/2 in", "1 1 1/2 in", ".5 in", "5. in", "1e3 mm", "1,5 mm", "0.0000001 mm", "1/3 in", "2/3 mm",
    "24½ in", "½ in", "½½ in", "1 \u2044 2 in", "1/2\u2033", "1/2\u201d", "3 feet", "3 ft", "3 m", "3 cm", "3 inches",
    "3 inch", "3 millimetres", "3 qq", "in", "mm 3", "9" * 39, "9" * 40, "9" * 41, "100 m", "100.0000001 m", "nan",
    "inf", "0x10 mm", "٣ mm", "1\n in", "1\tin", 0, 1, -1, 10**9, 10**10, 10**11, Decimal("0.5"), Decimal("-0.5"),
    Decimal("NaN"), Decimal("Infinity"), Decimal("1e-31"), Decimal("1e-30"), Decimal("1e9"), Decimal("1e10"),
    Decimal("1e400"),
)  # fmt: skip


def read_as(value, units) -> str:
    try:
        length = parse_length(value, units)
    except LengthError as error:
        return error.reason
    return f"{length} nm: {exact_text(length, units)}, {reading(length, units)}, {millimetres(length)}"


def test_lengths_are_read_and_written_as_they_were():
    for units in ("in", "mm"):
        compare("lengths", units, {f"{value!r}": read_as(value, units) for value in LENGTHS})
