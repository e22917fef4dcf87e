"""Keepers between ornaments: room for each beside what is set near it."""

from collections.abc import Iterator
from operator import attrgetter

from service.strap.errors import Cure
from service.strap.model.pattern import Feature
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.plane.geometry import Capsule
from service.strap.rules.blame import KEEPERS_BETWEEN
from service.strap.rules.family import PieceFamily
from service.strap.rules.surface import Shape, Surface
from service.strap.rules.sweep import against

KEEPERS_CROWDED = Code("keepers_crowded", "a keeper between two ornaments has no room beside what is set there")

KEEPER_CLEAR = Rule(
    name="keeper_clear",
    meaning="How far a keeper round the strap stays off the ornaments beside it, so that it can be drawn on "
    "and lies square.",
    sense="least",
    sentence="Between {what} there is {found}; a clear gap of {limit} is the least.",
    overlap="{What} overlap by {found_abs}; a clear gap of {limit} is the least.",
    blames=(Blame(KEEPERS_CROWDED, KEEPERS_BETWEEN, Cure.KEEPERS_CLEAR),),
    formula=Formula(
        found="apart - half_keeper - radius",
        limit="hardware_clear",
        terms={
            "apart": "from the middle line of the keeper, across the strap, to the middle of what is set",
            "half_keeper": "half the width of the keeper's loop, along the strap",
            "radius": "half the diameter of what is set",
        },
    ),
    source="common practice",
)


def _keepers(surface: Surface) -> Iterator[Measured]:
    """The keeper that has the least room beside something of each kind."""
    keepers = surface.job.spec.keepers_between
    if keepers is None or surface.piece.name not in ("body", "strap"):
        return
    places = [each for each in surface.piece.features if each.purpose == "keeper_place"]
    bare = [shape for shape in surface.cuts if not shape.feature.footprint]
    loops = [_loop(place, keepers.width, surface.piece.width) for place in places]
    near = sorted([*surface.ornaments, *surface.caps, *bare], key=attrgetter("left"))
    yield from against(KEEPER_CLEAR, loops, near, surface.job.rules.hardware_clear)


def _loop(place: Feature, width: int, across: int) -> Shape:
    """A keeper over the whole width of its strap."""
    half, reach = across / 2, width / 2
    band = Capsule(place.x, -half, place.x, half, reach)
    return Shape(place.x - reach, place.x + reach, -half - reach, half + reach, "keeper_place", band, place)


LOOPS = PieceFamily(rules=(KEEPER_CLEAR,), measure=_keepers)
