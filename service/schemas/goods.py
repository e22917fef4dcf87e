"""The forms of the goods in a shop file: leathers, punches, fasteners, buckles, rings and ornaments."""

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any, TypeVar, get_args

from marshmallow import ValidationError, post_load, validates_schema

from service.schemas.fields import Choice, Flag, Length, Mass, Number, OrderedSchema, StrictField, Text, Whole
from service.schemas.mistakes import Mistake, mistake
from service.shop.fixings import ScrewPost
from service.shop.goods import (
    Buckle,
    CutEdgeShape,
    EdgeIron,
    EndPunch,
    EndShape,
    Fastener,
    Leather,
    Nm,
    Ring,
    RingShape,
    RoundPunch,
    SlotPunch,
    Snap,
)
from service.strap.plane.lengths import SIXTY_FOURTH
from service.words import say, say_list

END_SHAPES = get_args(EndShape)
_COLOUR = re.compile(r"#[0-9a-f]{6}")
_PICTURE = re.compile(r"[a-z0-9][a-z0-9_-]*\.svg")


def a_length(*, zero: bool = False) -> Length:
    """A length of the shop file: always with its unit."""
    return Length(required=True, unit_needed=True, zero=zero)


def a_colour(*, required: bool = True) -> Text:
    """A colour, `#rrggbb` in small letters."""
    return Text(required=required, most=7, form=_COLOUR, kind=say("a colour such as #c9a552"))


def a_picture() -> Text:
    """The file name of an SVG file beside the shop file: never a path."""
    return Text(most=60, form=_PICTURE, kind=say("the name of an SVG file beside this one, such as bell.svg"))


def a_price() -> Number:
    """A price in the shop's currency."""
    return Number("0", "1000000", required=True)


def a_share(least: str = "0", most: str = "1") -> Number:
    """A share or a multiple, as decimal text."""
    return Number(least, most, required=True)


def an_id() -> Text:
    """The id of something declared elsewhere in the file."""
    return Text(required=True, most=40)


class Ounces(StrictField[tuple[int, int]]):
    """A leather's weight range in ounces, `[8, 9]`, held as its thickness range in nanometres."""

    kind = "a pair of ounces such as [8, 9]"

    def _read(self, value: object) -> tuple[int, int]:
        if not isinstance(value, list) or len(value) != 2:
            raise self.wrong_type(value)
        low, high = (self._thickness(each) for each in value)
        if low > high:
            raise mistake("out_of_order", say("the first number of ounces may not be more than the second"))
        return low, high

    def _thickness(self, value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong_type(value)
        if not 1 <= value <= 64:
            raise mistake("out_of_range", say("ounces have to lie between 1 and 64, not {value}", value=value))
        return round(value * SIXTY_FOURTH)


class LeatherSchema(OrderedSchema):
    """A leather: its thickness as `ounces`, or as `thin` and `thick`."""

    makes = Leather
    ordered = (("thin", "thick"),)
    title = Text(required=True)
    ounces = Ounces()
    thin = Length(unit_needed=True)
    thick = Length(unit_needed=True)
    strip_length = a_length()
    usable_width = a_length()
    density = a_share("0.1", "3")
    price_per_m2 = a_price()
    colour = a_colour()
    edge_colour = a_colour()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_thickness(self, _data: Mapping[str, Any], original: Mapping[str, Any], **_: object) -> None:
        """Either ounces or both ends of the range."""
        given = [key for key in ("ounces", "thin", "thick") if key in original]
        if given not in (["ounces"], ["thin", "thick"]):
            raise mistake("one_of", say("give either ounces, or both thin and thick"))

    @post_load
    def thickness(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """Ounces as the two ends of the thickness range."""
        if "ounces" in data:
            data["thin"], data["thick"] = data.pop("ounces")
        return data


class RoundPunchSchema(OrderedSchema):
    """A round punch."""

    makes = RoundPunch
    title = Text(required=True)
    diameter = a_length()


class SlotPunchSchema(OrderedSchema):
    """A slot punch; a slot is not wider than long."""

    makes = SlotPunch
    ordered = (("width", "length"),)
    title = Text(required=True)
    length = a_length()
    width = a_length()


class EndPunchSchema(OrderedSchema):
    """An end punch."""

    makes = EndPunch
    title = Text(required=True)
    shape = Choice(*END_SHAPES, required=True)
    width = a_length()
    depth = a_length(zero=True)


class EdgeIronSchema(OrderedSchema):
    """An iron for scalloped or pinked edges; its roots are less deep than a repeat is long."""

    makes = EdgeIron
    ordered = (("depth", "repeat"),)
    title = Text(required=True)
    shape = Choice(*get_args(CutEdgeShape), required=True)
    repeat = a_length()
    depth = a_length()
    count = Whole(1, 40)


class BarrelSchema(OrderedSchema):
    """Something that is told by its grips, or by the `barrel` of a screw post."""

    grips: tuple[str, ...] = ("grip_min", "grip_max")
    """What a barrel stands for."""
    grip_min = Length(unit_needed=True)
    grip_max = Length(unit_needed=True)
    barrel = Length(unit_needed=True)

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_way(self, _data: Mapping[str, Any], original: Mapping[str, Any], **_: object) -> None:
        """Either a barrel, or everything that it stands for."""
        given = [key for key in self.grips if key in original]
        if given != ([] if "barrel" in original else list(self.grips)):
            raise mistake(
                "one_of", say("give either the barrel of a screw post, or {grips}", grips=say_list(self.grips))
            )

    @post_load
    def of_barrel(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """A barrel as what it stands for, until the shop's slack is known."""
        return data | dict.fromkeys(self.grips, data["barrel"]) if "barrel" in data else data


Gripping = TypeVar("Gripping", Fastener, ScrewPost)


def gripping(post: Gripping, slack: Nm) -> Gripping:
    """A screw post of a given barrel with its grips, `slack` less and more than the barrel; any other as it is."""
    if post.barrel is None:
        return post
    return replace(post, grip_min=max(post.barrel - slack, 0), grip_max=post.barrel + slack)


class FastenerSchema(BarrelSchema):
    """A rivet, whose post is longer than the greatest stack that it grips; or a screw post of a given barrel."""

    makes = Fastener
    grips = ("post_length", "grip_min", "grip_max")
    ordered = (("grip_min", "grip_max"), ("grip_max", "post_length"), ("post_diameter", "cap_diameter"))
    title = Text(required=True)
    post_diameter = a_length()
    post_length = Length(unit_needed=True)
    cap_diameter = a_length()
    mass_g = Mass(required=True, attribute="mass_mg")
    price = a_price()
    colour = a_colour()


class BuckleSchema(OrderedSchema):
    """A buckle; its frame is wider than its inside and longer than its bar, or the roller on that, is thick."""

    makes = Buckle
    ordered = (
        ("inside_width", "frame_width"),
        ("bar_thickness", "frame_length"),
        ("prong_width", "prongs_apart"),
        ("prongs_apart", "inside_width"),
        ("bar_thickness", "roller"),
        ("roller", "frame_length"),
    )
    title = Text(required=True)
    inside_width = a_length()
    bar_thickness = a_length()
    roller = Length(unit_needed=True)
    bar_place = Choice("heel", "centre", required=True)
    frame_length = a_length()
    frame_width = a_length()
    frame_thickness = a_length()
    prong_width = a_length()
    prongs_apart = Length(unit_needed=True)
    mass_g = Mass(required=True, attribute="mass_mg")
    price = a_price()
    colour = a_colour()


_RING_LENGTHS = {"rectangle": "inside_length", "hook": "length"}
"""What of a ring's shape is told beside its inside width."""


class RingSchema(OrderedSchema):
    """A ring, a dee, a rectangle or a snap hook, which reaches farther than its eye is wide."""

    makes = Ring
    ordered = (("inside_width", "length"),)
    title = Text(required=True)
    shape = Choice(*get_args(RingShape))
    inside_width = a_length()
    inside_length = Length(unit_needed=True)
    length = Length(unit_needed=True)
    thickness = a_length()
    mass_g = Mass(required=True, attribute="mass_mg")
    price = a_price()
    colour = a_colour()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def length_of_shape(self, _data: Mapping[str, Any], original: Mapping[str, Any], **_: object) -> None:
        """A rectangle is told with its inside length, a hook with its length, and no other ring with either."""
        needed, shape = _RING_LENGTHS.get(str(original.get("shape"))), original.get("shape", "round")
        wrong = {
            name: [Mistake("missing", say("a {shape} has to have it", shape=shape))]
            if name == needed
            else [Mistake("without_meaning", say("a {shape} has none", shape=shape))]
            for name in _RING_LENGTHS.values()
            if (name in original) is not (name == needed)
        }
        if wrong:
            raise ValidationError(wrong)


class SnapSchema(OrderedSchema):
    """A snap fastener: each half grips leather between its flanges."""

    makes = Snap
    ordered = (("grip_min", "grip_max"), ("post_diameter", "stud_diameter"), ("stud_diameter", "cap_diameter"))
    title = Text(required=True)
    cap_diameter = a_length()
    stud_diameter = a_length()
    stud_height = a_length()
    post_diameter = a_length()
    grip_min = a_length()
    grip_max = a_length()
    mass_g = Mass(required=True, attribute="mass_mg")
    price = a_price()
    colour = a_colour()
    breaks_away = Flag()
