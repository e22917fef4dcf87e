"""Whether a strap is spliced: a word, or an object that says how."""

from typing import Any, get_args

from service.schemas.fields import Choice, StrictField, StrictSchema, Whole
from service.strap.model.spec_leather import Splices, Splicing

MOST_SPLICES = 12


class SplicesSchema(StrictSchema):
    """How many laps there are, and how each is sewn."""

    makes = Splices
    count = Whole(0, MOST_SPLICES)
    stitch_lines = Whole(2, 4)


class SplicesField(StrictField[Splicing | Splices]):
    """`allowed` or `none`, or an object."""

    kind = "allowed, none, or an object"

    def __init__(self, **more: Any) -> None:
        super().__init__(**more)
        self.word = Choice(*get_args(Splicing))
        self.each = SplicesSchema()

    def _read(self, value: object) -> Any:
        if isinstance(value, dict):
            return self.each.read(value)
        if not isinstance(value, str):
            raise self.wrong_type(value)
        return self.word.deserialize(value)
