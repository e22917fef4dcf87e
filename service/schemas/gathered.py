"""Fields that hold others: a schema, a list of them, and goods by their ids."""

import re
from collections.abc import Callable, Iterable
from typing import Any

from marshmallow import ValidationError

from service.schemas.fields import StrictField, StrictSchema
from service.schemas.mistakes import MOST_REPORTED, how_many, mistake
from service.words import say

_ID = re.compile(r"[a-z][a-z0-9_]{0,39}")


class Part(StrictField[Any]):
    """An object inside an object, read by one schema."""

    def __init__(self, schema: type[StrictSchema], kind: str, **more: Any) -> None:
        super().__init__(**more)
        self.each = schema()
        self.kind = kind

    def _read(self, value: object) -> Any:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        return self.each.read(value)


def read_each(entries: Iterable[tuple[str, Any]], read: Callable[[str, Any], Any]) -> dict[str, Any]:
    """Every entry as it is read, by its key.

    Raises `ValidationError` with the mistakes of the wrong ones, and reads no more once there are enough to tell.
    """
    found: dict[str, Any] = {}
    wrong: dict[str, Any] = {}
    mistakes = 0
    for key, entry in entries:
        try:
            found[key] = read(key, entry)
        except ValidationError as error:
            wrong[key] = error.messages
            mistakes += how_many(error.messages)
            if mistakes > MOST_REPORTED:
                break
    if wrong:
        raise ValidationError(wrong)
    return found


def read_list(entries: Iterable[Any], read: Callable[[Any], Any]) -> tuple[Any, ...]:
    """Every entry of a list as it is read. Raises as `read_each` does, each mistake by the place of its entry."""
    numbered = ((str(index), entry) for index, entry in enumerate(entries))
    return tuple(read_each(numbered, lambda _, entry: read(entry)).values())


class Several(StrictField[tuple[Any, ...]]):
    """A list of one kind of thing, each read by one field; or, where `alone`, one thing without a list."""

    def __init__(self, one: StrictField[Any], most: int, *, alone: bool = False, least: int = 1, **more: Any) -> None:
        super().__init__(**more)
        self.one = one
        self.least = least
        self.most = most
        self.alone = alone
        self.each = getattr(one, "each", None)
        self.kind = (
            say("{kind} or a list of 1 to {most}", kind=one.kind, most=most)
            if alone
            else say("a list of {span}: {kind}", span=self._span(), kind=one.kind)
        )

    def _read(self, value: object) -> Any:
        if not isinstance(value, list):
            if self.alone:
                return self.one.deserialize(value)
            raise self.wrong_type(value)
        if not self.least <= len(value) <= self.most:
            raise mistake(
                "out_of_range",
                say(
                    "has to have {span} entries, not {count}",
                    span=self._span(),
                    count=len(value),
                ),
            )
        return read_list(value, self._entry)

    def _span(self) -> str:
        """How many entries there may be."""
        if self.least == self.most:
            return str(self.most)
        return say("{least} to {most}", least=self.least, most=self.most)

    def _entry(self, value: object) -> Any:
        if value is None:  # a member that is null is not there; an entry always is
            raise self.one.wrong_type(value)
        return self.one.deserialize(value)


class Goods(StrictField[dict[str, Any]]):
    """A table of goods by id; each object is read by one schema and gets its id."""

    def __init__(self, schema: type[StrictSchema], kind: str, *, may_be_empty: bool = False, **more: Any) -> None:
        super().__init__(**more)
        self.each = schema()
        self.kind = kind
        self.may_be_empty = may_be_empty

    def _read(self, value: object) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise self.wrong_type(value)
        if not value and not self.may_be_empty:
            raise mistake("missing", say("needs at least one entry: {kind}", kind=self.kind))
        return read_each(value.items(), self._entry)

    def _entry(self, key: str, entry: object) -> Any:
        if not _ID.fullmatch(key):
            raise mistake("invalid", say("an id has small letters, digits and _ only, 40 at most, a letter first"))
        if not isinstance(entry, dict):
            raise mistake("wrong_type", say("has to be a table: {kind}", kind=self.kind))
        return self.each.read(entry, id=key)
