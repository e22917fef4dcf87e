"""The forms of ornaments in a shop file, and of the ways in which they are fixed."""

from collections.abc import Mapping
from typing import Any

from marshmallow import post_load, validates_schema

from service.schemas.fields import Choice, Flag, Mass, OrderedSchema, Text
from service.schemas.gathered import Part
from service.schemas.goods import BarrelSchema, a_colour, a_length, a_picture, a_price
from service.schemas.mistakes import mistake
from service.shop.fixings import FIXINGS, Prongs, Rivet, Screw, ScrewPost, Shank, SplitPin
from service.shop.ornaments import Ornament
from service.words import say


class ShankSchema(OrderedSchema):
    """A loop behind an ornament."""

    makes = Shank
    width = a_length()
    thickness = a_length()
    height = a_length()
    direction = Choice("along", "across", required=True)


class ProngsSchema(OrderedSchema):
    """Two prongs."""

    makes = Prongs
    spread = a_length()
    length = a_length()


class ScrewPostSchema(BarrelSchema):
    """A screw post behind an ornament."""

    makes = ScrewPost
    ordered = (("grip_min", "grip_max"),)
    diameter = a_length()


class SplitPinSchema(OrderedSchema):
    """A split pin behind an ornament."""

    makes = SplitPin
    diameter = a_length()
    length = a_length()


class HeldSchema(OrderedSchema):
    """A hole in an ornament whose metal is `base` thick there."""

    hole = a_length()
    base = a_length(zero=True)


class RivetSchema(HeldSchema):
    """A hole for a rivet of the shop's."""

    makes = Rivet


class ScrewSchema(HeldSchema):
    """A hole for a screw post of the shop's."""

    makes = Screw


_FIXINGS = tuple(each.word for each in FIXINGS)


class OrnamentSchema(OrderedSchema):
    """An ornament, with exactly one way of fixing it."""

    makes = Ornament
    title = Text(required=True)
    family = Choice("bell", "spot", "concho", required=True)
    diameter = a_length()
    height = a_length()
    shank = Part(ShankSchema, "a shank")
    prongs = Part(ProngsSchema, "prongs")
    screw_post = Part(ScrewPostSchema, "a screw post")
    split_pin = Part(SplitPinSchema, "a split pin")
    rivet = Part(RivetSchema, "a hole for a rivet")
    screw = Part(ScrewSchema, "a hole for a screw post")
    overhang = Flag(required=True)
    mass_g = Mass(required=True, attribute="mass_mg")
    price = a_price()
    colour = a_colour()
    picture = a_picture()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_fixing(self, _data: Mapping[str, Any], original: Mapping[str, Any], **_: object) -> None:
        """Exactly one fixing."""
        if sum(word in original for word in _FIXINGS) != 1:
            raise mistake(
                "one_of",
                say(
                    "give exactly one of {fixings} and {last}",
                    fixings=", ".join(_FIXINGS[:-1]),
                    last=_FIXINGS[-1],
                ),
            )

    @post_load
    def fixing(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """The one fixing under its common name."""
        data["fixing"] = data.pop(next(word for word in _FIXINGS if word in data))
        return data
