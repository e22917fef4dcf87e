"""A strap of its own between two buckles, as a spec says it."""

from collections.abc import Mapping
from typing import Any, cast

from marshmallow import ValidationError, validates_schema

from service.schemas.ends import EndSchema, SizeHolesSchema
from service.schemas.fields import Length, StrictSchema
from service.schemas.gathered import Part
from service.schemas.mistakes import Mistake, mistake
from service.strap.model.spec import JoiningStrap, Range
from service.words import say, say_list


class _InOrder(StrictSchema):
    """From the least to the most."""

    makes = Range

    @validates_schema(skip_on_field_errors=True)
    def in_order(self, data: Mapping[str, Any], **_: object) -> None:
        """From the less to the more."""
        if data["least"] > data["most"]:
            raise ValidationError({"from": [Mistake("out_of_order", say("from may not be more than to"))]})


_ADDS: dict[str, Any] = {
    "from": Length(required=True, attribute="least"),
    "to": Length(required=True, attribute="most"),
}
AddsSchema = cast("type[StrictSchema]", _InOrder.from_dict(_ADDS, name="AddsSchema"))
"""What a joining strap adds; `from` is a word of Python's."""


class JoiningStrapSchema(StrictSchema):
    """A strap of its own between two buckles: by what it adds, or by its length."""

    makes = JoiningStrap
    width = Length()
    adds = Part(AddsSchema, "what it adds, from and to")
    length = Length()
    size_holes = Part(SizeHolesSchema, "the size holes at each of its ends")
    tip = Part(EndSchema, "the shape of its tips")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_length(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """What it adds, or how long it is."""
        given = [name for name in ("adds", "length") if original.get(name) is not None]
        if len(given) != 1:
            raise mistake(
                "one_of",
                say("give exactly one of adds and length; given: {given}", given=say_list(given) or "none"),
            )
