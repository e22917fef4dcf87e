"""The form of what a shop file says of its drawings: how they are printed and shown."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, validates_schema

from service.schemas.fields import Length, StrictField, StrictSchema, Whole
from service.schemas.gathered import Part
from service.schemas.goods import a_colour
from service.schemas.mistakes import Mistake
from service.shop.looks import CutterLines, FinishedLook, Paper
from service.strap.plane.lengths import MM
from service.words import say, say_list

_THINNEST = MM // 100
_PAPER_BOUNDS: dict[str, tuple[int, int]] = {"margin": (0, 25), "inch_margin": (0, 25), "overlap": (5, 40)}
"""The least and the most of each in millimetres: what every paper has room for."""


class PaperSchema(StrictSchema):
    """How patterns are printed; what is not said has its default."""

    makes = Paper
    margin = Length(unit_needed=True, zero=True)
    inch_margin = Length(unit_needed=True, zero=True)
    overlap = Length(unit_needed=True)
    joint_sheets = Whole(0, 100)

    @validates_schema(skip_on_field_errors=False)
    def within_bounds(self, data: Mapping[str, Any], **_: object) -> None:
        """Refuse what would leave no room on the smallest paper."""
        wrong = {}
        for key, (least, most) in _PAPER_BOUNDS.items():
            value = data.get(key)
            if value is not None and not least * MM <= value <= most * MM:
                wrong[key] = [
                    Mistake("out_of_range", say("has to lie between {least} mm and {most} mm", least=least, most=most))
                ]
        if wrong:
            raise ValidationError(wrong)


class ColoursSchema(StrictSchema):
    """A colour for each layer of the cutter's drawing; folds and names have one where none is said."""

    cut = a_colour()
    punch = a_colour()
    mark = a_colour()
    fold = a_colour(required=False)
    text = a_colour(required=False)

    @validates_schema(skip_on_field_errors=True)
    def apart(self, data: Mapping[str, Any], **_: object) -> None:
        """Two layers of one colour would be one to the machine."""
        wrong = [name for name, colour in data.items() if list(data.values()).count(colour) > 1]
        if wrong:
            twice = Mistake(
                "given_twice", say("has the colour of another layer: {wrong} have to differ", wrong=say_list(wrong))
            )
            raise ValidationError({name: [twice] for name in wrong})


class CutterSchema(StrictSchema):
    """How the cutter's drawing tells its layers apart; what is not said is as on the working drawing."""

    line_width = Length(unit_needed=True)
    colours = Part(ColoursSchema, "a colour for each of cut, punch, mark, fold and text")

    @validates_schema(skip_on_field_errors=False)
    def line_is_one(self, data: Mapping[str, Any], **_: object) -> None:
        """A line that is neither lost nor a band."""
        width = data.get("line_width")
        if width is not None and not _THINNEST <= width <= MM:
            raise ValidationError({"line_width": [Mistake("out_of_range", say("has to lie between 0.01 mm and 1 mm"))]})

    def read(self, document: Mapping[str, Any], **_: Any) -> CutterLines:
        """The lines, each colour by its layer."""
        said = {name: value for name, value in self.load(document).items() if value is not None}
        return CutterLines(**said.pop("colours", {}), **said)


class Background(StrictField[str | None]):
    """A colour, or the word `transparent`."""

    kind = "a colour such as #f4efe6, or transparent"

    def _read(self, value: object) -> str | None:
        return None if value == "transparent" else a_colour().deserialize(value)


class FinishedLookSchema(StrictSchema):
    """How a finished strap is shown."""

    background = Background(required=True)

    def read(self, document: Mapping[str, Any], **_: Any) -> FinishedLook:
        """The look; transparent stands for no background."""
        return FinishedLook(background=self.load(document)["background"])
