"""A list of objects, each read by one schema; every fault carries its place in the list."""

from typing import Any

from marshmallow import ValidationError

from service.schemas.fields import StrictField, StrictSchema
from service.schemas.mistakes import mistake


class Several(StrictField[list[Any]]):
    """A list of `least` to `most` objects."""

    def __init__(self, schema: type[StrictSchema], kind: str, *, least: int, most: int, **more: Any) -> None:
        super().__init__(**more)
        self.each = schema()
        self.kind = f"a list of {kind}"
        self.least = least
        self.most = most

    def _read(self, value: object) -> list[Any]:
        if not isinstance(value, list):
            raise self.wrong_type(value)
        if not self.least <= len(value) <= self.most:
            raise mistake("out_of_range", f"has to have {self.least} to {self.most} entries, not {len(value)}")
        read: list[Any] = []
        wrong: dict[str, Any] = {}
        for index, entry in enumerate(value):
            try:
                read.append(self._entry(entry))
            except ValidationError as error:
                wrong[str(index)] = error.messages
        if wrong:
            raise ValidationError(wrong)
        return read

    def _entry(self, entry: object) -> Any:
        if not isinstance(entry, dict):
            raise mistake("wrong_type", f"has to be an object, in {self.kind}")
        return self.each.read(entry)
