"""What the core thinks of and a caller is told in part: cures that were not tried, plans, ways out of a design."""

from dataclasses import asdict
from itertools import product

import pytest

from service.desk.selling import offers_of
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.plane.lengths import MM
from service.strap.remedies.cures import cures_for
from service.strap.solve import solve
from tests.golden.kept import digest, hold
from tests.golden.refused import REFUSED
from tests.strap.test_checks import WRONG
from tests.workshop.cut_plan.support import plan
from tests.workshop.cut_plan.test_validity import batch

SHOP = demo_shop()
BATCHES = 60
FILES = {"cures", "plans", "ways_out"}


def test_the_cures_of_each_kind_of_fault_are_as_they_were():
    """Each kind of cure where it first comes up: for a code, the places that it would change."""
    found, seen = [], set()
    for spec in (*(read_spec(each, "in") for each in REFUSED), *(spec for spec, _, _ in WRONG)):
        with pytest.raises(Refusal) as refused:
            solve(spec, SHOP)
        for fault in refused.value.faults:
            cures = cures_for(spec, SHOP, fault)
            kind = (fault.code, tuple(change.path for cure in cures for change in cure))
            if kind not in seen:
                seen.add(kind)
                found += [f"{'.'.join(fault.path)} {fault.code}: {fault.detail}", *map(cure_told, cures), ""]
    hold("told/cures.txt", "\n".join(found))


def cure_told(cure) -> str:
    """One cure on a line."""
    changes = (f"{'.'.join(each.path)} = {each.value!r}{' nm' * each.is_length}: {each.why}" for each in cure)
    return "  " + "; ".join(changes)


def test_the_plans_of_random_batches_are_as_they_were():
    """What each takes of hides and of settings of the cutter; where its pieces lie, as a digest."""
    found = []
    for seed in range(BATCHES):
        wanted, stock, kerf = batch(seed)
        made = plan(wanted, stock, SHOP, kerf, least=(150 * MM, 10 * MM))
        proven = "proven" if made.proven else "not proven"
        found.append(
            f"batch {seed}, {len(wanted)} pieces: {made.used.sheets} hides, {made.settings} settings, {proven}, "
            f"{len(made.missing)} missing, {digest(repr(asdict(made)))}\n"
        )
    hold("told/plans.txt", "".join(found))


def test_the_ways_out_of_each_design_are_as_they_were():
    """At the corners of its length and count, with each value of each other choice."""
    found = []
    for name, design in SHOP.designs.items():
        offers, defaults = offers_of(design, SHOP), design.defaults()
        sizes = [choice for choice in (design.length, design.count) if choice]
        corners = list(product(*((each.offer.least, each.offer.default, each.offer.most) for each in sizes)))
        for other in ({}, *({choice.name: value} for choice in design.others for value in choice.offer)):
            for corner in corners:
                chosen = other | {choice.name: value for choice, value in zip(sizes, corner, strict=True)}
                ways = offers.ways_out({**defaults, **chosen})
                if ways:
                    found.append(f"{name} {said(chosen)}: {' | '.join(said(way.changes) for way in ways)}\n")
    hold("told/ways_out.txt", "".join(found))


def said(chosen) -> str:
    return " ".join(f"{name}={value}" for name, value in chosen.items())
