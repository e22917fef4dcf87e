"""The form of what a shop file says of its drawings: how they are printed and shown."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError, validates_schema

from service.schemas.fields import Length, StrictField, StrictSchema
from service.schemas.goods import a_colour
from service.schemas.mistakes import Mistake
from service.shop.shop import FinishedLook, Paper
from service.strap.lengths import MM

_PAPER_BOUNDS: dict[str, tuple[int, int]] = {"margin": (0, 25), "overlap": (5, 40)}
"""The least and the most of each in millimetres: what every paper has room for."""


class PaperSchema(StrictSchema):
    """How patterns are printed; what is not said has its default."""

    makes = Paper
    margin = Length(unit_needed=True, zero=True)
    overlap = Length(unit_needed=True)

    @validates_schema(skip_on_field_errors=False)
    def within_bounds(self, data: Mapping[str, Any], **_: object) -> None:
        """Refuse what would leave no room on the smallest paper."""
        wrong = {}
        for key, (least, most) in _PAPER_BOUNDS.items():
            value = data.get(key)
            if value is not None and not least * MM <= value <= most * MM:
                wrong[key] = [Mistake("out_of_range", f"has to lie between {least} mm and {most} mm")]
        if wrong:
            raise ValidationError(wrong)


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
