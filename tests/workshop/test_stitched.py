"""Lined and stitched straps at the bench: what is glued, pricked and sewn, and what that takes."""

from dataclasses import replace

import pytest

from openapi.build import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.solve import solve
from service.strap.spec import Size
from service.workshop.labour import Labour
from service.workshop.materials import Order, edge_length, materials_of
from service.workshop.steps import steps

SHOP = demo_shop()
BAG = read_spec(examples()["lined_bag_strap"], "in")
COLLAR = read_spec(examples()["stitched_collar"], "in")


def told(spec):
    return [step.do for step in steps(solve(spec, SHOP), SHOP)]


def test_the_lining_is_glued_before_anything_is_pricked_sewn_or_set():
    work = told(BAG)
    verbs = ("Glue", "Prick", "Sew", "Press")
    order = [next(n for n, do in enumerate(work) if do.startswith(verb)) for verb in verbs]
    assert order == sorted(order)


def test_strips_of_one_width_are_cut_from_each_leather():
    strips = [do for do in told(BAG) if "strap cutter" in do]
    assert len(strips) == 2
    assert [SHOP.leathers[name].title in do for name, do in zip(("latigo_6_7", "lining_2_3"), strips, strict=True)] == [
        True, True,
    ]  # fmt: skip


def test_a_stitched_fold_is_glued_and_sewn_and_never_riveted():
    assert not [do for do in told(BAG) if "rivet" in do]
    for end in ("first", "last"):
        fold = f"Fold the strap's {end} end, grain side out, round the welded dee"
        glue = f"Glue the tail of the strap's {end} end down"
        order = [next(n for n, do in enumerate(told(BAG)) if do.startswith(verb)) for verb in (fold, glue)]
        order += [next(n for n, do in enumerate(told(BAG)) if "through both plies of the fold" in do)]
        assert order == sorted(order)


def test_holes_are_told_as_the_pattern_has_them():
    (line,) = (line for piece in solve(COLLAR, SHOP).pieces for line in piece.stitch_lines)
    (prick,) = (do for do in told(COLLAR) if do.startswith("Prick"))
    assert f"{line.holes} holes" in prick


def test_a_lining_has_no_edge_of_its_own():
    lined = solve(BAG, SHOP)
    plain = solve(replace(BAG, lining=None, size=Size(body_length=lined.pieces[0].length)), SHOP)
    assert edge_length(lined) == edge_length(plain)


def test_thread_leather_and_labour_are_counted():
    pattern = solve(BAG, SHOP)
    order = Order(pattern=pattern, quantity=3)
    materials = materials_of([order], SHOP)
    (thread,) = (use for use in materials.lengths if use.item == "thread")
    assert (thread.count, thread.length) == (
        12,
        3 * sum(line.length * line.count for line in pattern.hardware if line.item == "thread"),
    )
    assert {use.leather for use in materials.leathers} == {"latigo_6_7", "lining_2_3"}
    work = {use.operation: use for use in Labour(SHOP).of(order, SHOP.pricing.operations)}
    stitches = sum(line.stitches for piece in pattern.pieces for line in piece.stitch_lines)
    assert work["stitch"].count == pytest.approx(3 * stitches)
    assert work["glue_lining"].count == 3
