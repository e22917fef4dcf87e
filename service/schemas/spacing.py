"""How a row of ornaments is spaced: by a rule, or at a given pitch."""

from typing import Any

from service.schemas.fields import Choice, Length, StrictField, StrictSchema


class PitchSchema(StrictSchema):
    """A given distance from one ornament to the next."""

    pitch = Length(required=True)


class Spacing(StrictField[str | int]):
    """`"ruler"`, `"even"`, or an object with a pitch."""

    kind = 'one of "ruler", "even" and {"pitch": a length}'

    def __init__(self, **more: Any) -> None:
        super().__init__(**more)
        self.word = Choice("ruler", "even")
        self.each = PitchSchema()

    def _read(self, value: object) -> str | int:
        if isinstance(value, dict):
            pitch: int = self.each.read(value)["pitch"]
            return pitch
        if not isinstance(value, str):
            raise self.wrong_type(value)
        word: str = self.word.deserialize(value)
        return word
