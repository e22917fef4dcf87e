"""A lining: the id of its leather, or an object that says what it is for as well."""

from typing import Any, get_args

from service.schemas.fields import Choice, StrictField, StrictSchema
from service.schemas.ids import Id
from service.strap.model.spec import Lining, LiningHold, LiningPurpose


class LiningSchema(StrictSchema):
    """A lining, what it is for and what holds it."""

    leather = Id(required=True)
    purpose = Choice(*get_args(LiningPurpose))
    held_by = Choice(*get_args(LiningHold))


class LiningField(StrictField[str | Lining]):
    """An id, or an object; one that says no more than the id means the same as the id."""

    kind = "the id of a leather, or an object with it"

    def __init__(self, **more: Any) -> None:
        super().__init__(**more)
        self.name_alone = Id()
        self.each = LiningSchema()

    def _read(self, value: object) -> str | Lining:
        if isinstance(value, dict):
            said = self.each.read(value)
            return Lining(**said) if len(said) > 1 else str(said["leather"])
        if not isinstance(value, str):
            raise self.wrong_type(value)
        name: str = self.name_alone.deserialize(value)
        return name
