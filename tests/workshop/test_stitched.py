"""Lined and stitched straps at the bench: what is glued, pricked and sewn, and what that takes."""

from dataclasses import replace

import pytest

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.model.spec import Lining, Size
from service.strap.plane.lengths import reading
from service.strap.solve import solve
from service.workshop.labour import Labour
from service.workshop.materials import Order, edge_length, materials_of
from service.workshop.steps import steps

SHOP = demo_shop()
BAG = read_spec(examples()["lined_bag_strap"], "in")
COLLAR = read_spec(examples()["stitched_collar"], "in")


def told(spec):
    return [step.do for step in steps(solve(spec, SHOP), SHOP)]


def test_a_lining_that_carries_is_glued_before_anything_is_pricked_sewn_or_set():
    work = told(replace(BAG, lining=Lining(leather="lining_2_3", purpose="carry")))
    verbs = ("Glue", "Trim", "Bevel", "Prick", "Sew", "Press")
    order = [next(n for n, do in enumerate(work) if do.startswith(verb)) for verb in verbs]
    assert order == sorted(order)


def test_strips_of_one_width_are_cut_from_each_leather():
    strips = [do for do in told(BAG) if "strap cutter" in do]
    assert len(strips) == 2
    leathers = ("lining_2_3", "latigo_6_7")  # the wider setting first: a lining is cut over
    assert all(SHOP.leathers[name].title in do for name, do in zip(leathers, strips, strict=True))


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


def test_lines_have_their_place_in_figures():
    """A closed line round 10 in of square strip, 1/4 in inside: from 1/4 to 9 3/4 in (by hand)."""
    strip = {"construction": "open", "size": {"body_length": "10 in"}, "body": {"width": "2 in"}}
    square = {"kind": "plain", "shape": "square"}
    stitched = strip | {"ends": {"head": square, "foot": square}, "stitching": {"inset": "1/4 in"}}
    (prick,) = (do for do in told(read_spec(stitched, "in")) if do.startswith("Prick"))
    assert "1/4 in inside the edge, from 1/4 in to 9 3/4 in: " in prick


def test_both_folds_have_their_place_in_figures():
    """The second fold's line mirrors the first: what one has from the head the other has from the foot."""
    pattern = solve(BAG, SHOP)
    strap = pattern.pieces[0]
    ends = [[x for x, _ in line.points] for line in strap.stitch_lines if line.purpose == "fold_stitch"]
    low, high = min(ends[0]), max(ends[0])
    (prick,) = (do for do in told(BAG) if "where its fold is sewn" in do)
    first, second = (
        f"from {reading(a, 'in')} to {reading(b, 'in')}"
        for a, b in ((low, high), (strap.length - high, strap.length - low))
    )
    assert f"{first} and {second}: 4 lines" in prick


def test_the_tail_of_a_sewn_fold_is_pierced_once_it_is_glued_and_before_it_is_sewn():
    """What was pricked in the front ply has no hole in the tail (common practice)."""
    work = told(BAG)
    order = [n for n, do in enumerate(work) if "tail of" in do or "every ply of the fold" in do or "both plies" in do]
    verbs = [work[n].split()[0] for n in order]
    assert verbs == ["Glue", "Glue", "Pierce", "Sew"]


def test_a_single_ply_is_pricked_and_never_pierced():
    assert not [do for do in told(COLLAR) if do.startswith("Pierce")]


def test_the_bench_says_that_a_lining_will_cover_and_when_it_does():
    """Figures and order of the two-ply bell strap, by hand: 60 9/16 and 2 1/2 in are cut an eighth over."""
    work = told(read_spec(examples()["lined_bell_strap"], "in"))
    strip = "60 13/16 in of strip from Harness leather, 8-9 oz, russet for lining, 1/8 in over at each edge"
    told_in_order = [
        f"Set the strap cutter to 2 3/4 in and cut {strip}.",
        (
            "Cut the lining to 60 13/16 in, 1/8 in over at each end, to be trimmed once it is glued, 9/16 in of it to "
            "lie over the backs."
        ),
        "Push the shanks through their slots: 15 × shank bell, 38 mm. The lining will cover the backs.",
        (
            "Glue the lining behind the body, flesh side to flesh side, over the backs of all that is set; "
            "dampen it and mould it down round each. Look at each before: none is reached again."
        ),
        "Trim the lining flush with the edges of the body.",
        "Bevel the edges of the body with its lining, front and back.",
        "Punch with the round punch 5 (5/32 in) through both plies: body: 4 × joint hole.",
    ]
    assert [do for do in work if do in told_in_order] == told_in_order


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
        18,
        3 * sum(line.length * line.count for line in pattern.hardware if line.item == "thread"),
    )
    assert {use.leather for use in materials.leathers} == {"latigo_6_7", "lining_2_3"}
    work = {use.operation: use for use in Labour(SHOP).of(order, SHOP.pricing.operations)}
    stitches = sum(line.stitches for piece in pattern.pieces for line in piece.stitch_lines)
    assert work["stitch"].count == pytest.approx(3 * stitches)
    assert work["glue_lining"].count == 3
