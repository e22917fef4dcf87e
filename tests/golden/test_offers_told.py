"""What is offered of the demo designs, and the ways out of what cannot be made, at the corners of their grids."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from service.desk.selling import offers_of
from service.schemas.design_document import way_out_document
from service.shop.designs import Design
from service.shop_file import demo_shop
from tests.golden.telling import compare

SHOP = demo_shop()
FILES = {f"offers-{name}" for name in SHOP.designs}


def said(chosen) -> str:
    return " ".join(f"{name}={value}" for name, value in chosen.items())


def sizes_of(design) -> list:
    """The choices of length and count."""
    return [choice for choice in (design.length, design.count) if choice]


def corners(design) -> Iterator[dict]:
    """The least, the usual and the greatest of length and count in every pair, with each value of each other choice."""
    sizes = sizes_of(design)
    ends = product(*((each.offer.least, each.offer.default, each.offer.most) for each in sizes))
    others = [{choice.name: value} for choice in design.others for value in choice.offer]
    for other, pair in product([{}, *others], list(ends)):
        yield other | {choice.name: value for choice, value in zip(sizes, pair, strict=True)}


def narrowed(design, thirds) -> Design:
    """The design with three lengths and three counts only, so many thirds up from the least."""
    changed = {}
    for choice, part in zip(sizes_of(design), thirds, strict=True):
        offer = choice.offer
        least = offer.least + (len(offer) - 3) * part // 3 * offer.step
        new = replace(offer, least=least, most=least + 2 * offer.step, default=least + offer.step)
        changed[choice.name] = replace(choice, offer=new)
    return replace(design, choices=tuple(changed.get(choice.name, choice) for choice in design.choices))


@pytest.mark.parametrize("name", SHOP.designs)
def test_the_ways_out_of_a_design_are_as_they_were(name):
    design = SHOP.designs[name]
    offers, defaults = offers_of(design, SHOP), design.defaults()
    found = {
        said(chosen): [said(way.changes) for way in offers.ways_out({**defaults, **chosen})]
        for chosen in corners(design)
    }
    compare(f"offers-{name}", "ways out", found)


NARROWED = [
    (name, thirds)
    for name, design in SHOP.designs.items()
    for thirds in product(range(4), repeat=len(sizes_of(design)))
]


@pytest.mark.parametrize(("name", "thirds"), NARROWED)
def test_what_is_offered_of_a_narrowed_design_is_as_it_was(name, thirds):
    design = narrowed(SHOP.designs[name], thirds)
    offers, chosen = offers_of(design, SHOP), design.defaults()
    counts = tuple(design.count.offer) if design.count else (0,)
    found = {
        "lines": [f"{line.length}: {line.counts}" for line in offers.lines(chosen, design.length.offer, counts)],
        "lengths": list(offers.lengths(chosen)),
        "values": {each.name: offers.values(chosen, each, design.length.offer, counts) for each in design.others},
        "ways out": {
            said(corner): [
                way_out_document(design, {**chosen, **corner}, way, SHOP.defaults.units)["detail"]
                for way in offers.ways_out({**chosen, **corner})
            ]
            for corner in corners(design)
        },
    }
    compare(f"offers-{name}", f"narrowed to {said(chosen)}", found)
