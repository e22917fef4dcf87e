"""How the long edges of a piece run, as JSON: how it narrows to its ends, and how they are cut."""

from collections.abc import Mapping
from typing import Any, get_args

from marshmallow import ValidationError, validates_schema

from service.schemas.fields import Choice, Length, StrictSchema
from service.schemas.gathered import Part
from service.schemas.ids import Id
from service.schemas.mistakes import Mistake, mistake, refuse
from service.strap.model.spec_edges import BodyEdge, BodyTaper, Edge, Edging, EdgingLies, Taper, TaperLine
from service.words import say, say_list


class TaperSchema(StrictSchema):
    """How a piece narrows to an end."""

    makes = Taper
    to = Length(required=True)
    over = Length()
    line = Choice(*get_args(TaperLine))


class BodyTaperSchema(StrictSchema):
    """How a body narrows: `to` a width at both ends, or otherwise at its `head` and its `foot`."""

    makes = BodyTaper
    to = Length()
    over = Length()
    line = Choice(*get_args(TaperLine))
    head = Part(TaperSchema, "how the body narrows to its head")
    foot = Part(TaperSchema, "how the body narrows to its foot")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_way(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Either both ends alike, or each by itself."""
        by_end = [name for name in ("head", "foot") if original.get(name) is not None]
        if (original.get("to") is not None) == bool(by_end):
            given = say_list(name for name in ("to", "head", "foot") if original.get(name) is not None)
            raise mistake(
                "one_of", say("give either to, for both ends, or head and foot; given: {given}", given=given or "none")
            )
        refuse(
            {
                name: say(
                    "{name} belongs to one taper: give it with to, or inside {by_end}",
                    name=name,
                    by_end=say_list(by_end),
                )
                for name in ("over", "line")
                if by_end and original.get(name) is not None
            }
        )


class EdgeSchema(StrictSchema):
    """How the long edges of a body are cut: by a shape, or by an iron of the shop's."""

    makes = Edge
    shape = Choice(*get_args(BodyEdge))
    repeat = Length()
    depth = Length()
    iron = Id()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def cut_edges(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Straight edges have neither a repeat nor a depth, and others a shape or an iron."""
        if original.get("shape") is None and original.get("iron") is None:
            told = say("has to be given, or an iron of the shop's")
            raise ValidationError({"shape": [Mistake("missing", told)]})
        _refuse_of_straight(original)


class EdgingSchema(StrictSchema):
    """Strips of another leather that stand out beyond the long edges."""

    makes = Edging
    leather = Id(required=True)
    shape = Choice(*get_args(BodyEdge))
    reach = Length()
    lies = Choice(*get_args(EdgingLies))
    repeat = Length()
    depth = Length()
    iron = Id()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def cut_edges(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """A straight one has neither a repeat nor a depth."""
        _refuse_of_straight(original)


def _refuse_of_straight(original: Mapping[str, Any]) -> None:
    straight = original.get("shape") == "straight"
    given = [name for name in ("repeat", "depth", "iron") if straight and original.get(name) is not None]
    told = "{name} belongs to an edge that is scalloped or pinked"
    refuse({name: say(told, name=name) for name in given})
