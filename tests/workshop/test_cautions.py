"""Cautions appear where they apply, and nowhere else; what is not known drops none.

What applies to what is the trade's: collars on animals are worn under supervision and break away, decorated straps
are not rated, what is set or riveted on a strap is a small part (common practice).
"""

import pytest

from service.desk.selling import spec_of
from service.schemas.spec import read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.solve import solve
from service.workshop.cautions import cautions
from tests.support.door import GOOD

SHOP = demo_shop()
BREAKS = (
    "A closure that breaks away is recommended round an animal's neck, such as the break-away snap, line 20. Whether "
    "it is right for this animal and its place is for those to judge who know both."
)
COLLAR = "A collar is worn by an animal under supervision only, and should break away where it could be caught."
ANYONE = "A decorated strap is not rated to lead, tie, lift or restrain a person or an animal."
PERSON = "A decorated strap is not rated to lift or restrain a person."
PLAIN = (
    "No load was reckoned for this strap. Prove it before an animal is led or tied by it, look at its rivets "
    "and seams before each use, and lift or restrain nobody by it."
)
PULLED = "A fold that is pulled at is stitched, or set with solid rivets: tubular caps are pried open."
TAG = "The ring of a decorated collar is for a tag, not for a lead."
NECK = "Long straps near the neck are a strangling hazard."
LACED = "Long straps and laces near the neck are a strangling hazard."
NICKEL = "Nickel against the skin: see the local law on release limits."
ALWAYS = {
    "Work by the tool maker's instructions, and protect your eyes when punching and setting.",
    "Where local rules or licensed practice speak, they stand above this pattern.",
}

BELT = {"construction": "one_piece", "size": {"table": "belt", "label": "92"}, "body": {"width": "1 1/2 in"}}
GIRTH = BELT | {"size": {"girth": "92 cm"}}
BELLS = {"ornaments": {"item": "bell_25", "count": 3}}
HANGING = {
    "construction": "open",
    "size": {"body_length": "20 in"},
    "body": {"width": "2 in"},
    "ornaments": {"item": "concho_25", "count": 3},
    "border": {"item": "spot_6"},
}


def small(parts):
    return f"{parts} are small parts: not for young children."


CASES = {
    "a trouser belt is no animal's, has no ornament and no lace": (BELT, {small("Rivets"), NECK, NICKEL}),
    "nobody said whose strap of that girth it is": (GIRTH, {COLLAR, PLAIN, PULLED, small("Rivets"), NECK, NICKEL}),
    "the spec says what the girth does not": (GIRTH | {"worn_by": "person"}, {small("Rivets"), NECK, NICKEL}),
    "the spec knows better than its table": (
        BELT | {"worn_by": "animal"},
        {COLLAR, PLAIN, PULLED, small("Rivets"), NECK, NICKEL},
    ),
    "a plain collar's ring may be for a lead, a decorated one's is not": (
        {"construction": "one_piece", "size": {"table": "dog_collar", "label": "L"}, "billet": {"ring": "ring_38"}},
        {COLLAR, PLAIN, PULLED, small("Rivets"), NECK, NICKEL},
    ),
    "a decorated collar's ring is for its tag": (
        {
            "construction": "one_piece",
            "size": {"table": "dog_collar", "label": "L"},
            "billet": {"ring": "ring_38"},
            "ornaments": {"item": "spot_10", "count": 3},
        },
        {COLLAR, ANYONE, TAG, small("Spots and rivets"), NECK, NICKEL},
    ),
    "a dancer's garter restrains no animal": (
        {"construction": "one_piece", "size": {"table": "garter", "label": "L"}, "leather": "bridle_10_11"} | BELLS,
        {PERSON, small("Bells and rivets"), LACED, NICKEL},
    ),
    "a dog's collar has them all": (
        {"construction": "one_piece", "size": {"table": "dog_collar", "label": "L"}} | BELLS,
        {COLLAR, BREAKS, ANYONE, small("Bells and rivets"), LACED, NICKEL},
    ),
    "a bag's strap is no collar, but may be taken for a lead": (
        {"construction": "one_piece", "size": {"girth": "40 in"}, "worn_by": "object"} | BELLS,
        {ANYONE, small("Bells and rivets"), LACED},
    ),
    "a door hanging closes round nothing and has no rivet": (
        HANGING,
        {ANYONE, small("Spots and conchos"), NECK, NICKEL},
    ),
    "a bare strip has no small part and no metal": (
        {"construction": "open", "size": {"body_length": "20 in"}},
        {NECK},
    ),
}


@pytest.mark.parametrize(("document", "wanted"), CASES.values(), ids=CASES)
def test_what_applies_is_told_and_nothing_else(document, wanted):
    told = cautions(solve(read_spec(document, "in"), SHOP), SHOP)
    assert {text for text in told if "the tip" not in text} == wanted | ALWAYS
    assert len(set(told)) == len(told)


def test_a_filled_spec_without_its_table_still_knows_who_wears_it():
    """A seal holds the girth in place of the table's label."""
    pattern = solve(read_spec(BELT, "in"), SHOP)
    document = spec_document(pattern.spec, "in")
    document["size"] = {"girth": document["size"]["girth"], "ease": document["size"]["ease"]}
    assert cautions(solve(read_spec(document, "in"), SHOP), SHOP) == cautions(pattern, SHOP)


@pytest.mark.parametrize(
    ("ring", "width", "bunches"),
    [("ring_25", "1 in", True), ("dee_25", "1 in", False), ("ring_38", "1 in", False), ("ring_38", "1 1/2 in", True)],
)
def test_a_round_ring_as_narrow_as_the_strap_is_cautioned_and_a_dee_is_not(ring, width, bunches):
    """A round ring needs more inside width than the strap, a D is named by the strap it takes (common practice)."""
    strap = {"construction": "open", "size": {"body_length": "30 in"}, "body": {"width": width}}
    pattern = solve(read_spec(strap | {"ends": {"head": {"kind": "ring", "ring": ring}}}, "in"), SHOP)
    told = [text for text in cautions(pattern, SHOP) if "bunches" in text]
    assert [SHOP.rings[ring].title in text for text in told] == ([True] if bunches else [])


def test_no_example_and_no_design_has_a_ring_that_bunches_its_fold():
    for document in GOOD.values():
        assert "bunches" not in " ".join(cautions(solve(read_spec(document, "in"), SHOP), SHOP))
    for name, design in SHOP.designs.items():
        usual = {choice.name: choice.offer.default for choice in design.choices}
        assert "bunches" not in " ".join(cautions(solve(spec_of(design, usual, SHOP), SHOP), SHOP)), name
