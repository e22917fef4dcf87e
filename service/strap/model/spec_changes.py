"""Changing one field of a spec by its path."""

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import Any, TypeVar

from service.shop.goods import Nm
from service.strap.errors import Path
from service.strap.model.places import held_at
from service.strap.model.spec import JoiningStrap, Range, Spec, Stitching
from service.strap.model.spec_edges import Taper
from service.strap.model.spec_leather import Splices
from service.strap.model.spec_set import Between
from service.values import dataclass

Strap = TypeVar("Strap", bound=Spec)
Value = Nm | str | bool | None
"""What a field may be set to: a length or a count, an id or a word, yes or no, or nothing said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Set the field at `path` to `value`, a length in nanometres where `is_length`; `None` leaves it unsaid.

    `why` says what that does.
    """

    path: Path
    value: Value
    is_length: bool = False
    why: str = "change"

    @property
    def is_leaving_out(self) -> bool:
        """Whether it leaves out a whole part: a row, a border, a lining."""
        return self.value is None and len(self.path) == 1

    @property
    def is_number(self) -> bool:
        """Whether it sets a length or a count, rather than an id or a word."""
        return isinstance(self.value, int) and not isinstance(self.value, bool)


Changes = tuple[Change, ...]
"""Changes that are made together."""

_UNSAID: dict[str, Any] = {
    "stitching": Stitching(),
    "between": Between(item=""),
    "splices": Splices(),
    "joining_strap": JoiningStrap(),
    "adds": Range(least=0, most=0),
    "head": Taper(to=0),
    "foot": Taper(to=0),
}
"""What a change of one field of a part that was left out begins with, or said by a word."""


def apply(spec: Spec, changes: Iterable[Change]) -> Spec:
    """The spec with each change made, in order."""
    for change in changes:
        spec = _set(spec, held_at(change.path), change.value)
    return spec


def _set(part: Any, path: Path, value: Value) -> Any:
    """A copy of the dataclass with the field at `path` set, or as if it had never been said."""
    name, rest = path[0], path[1:]
    if isinstance(part, tuple):
        index = int(name)
        return (*part[:index], _set(part[index], rest, value) if rest else value, *part[index + 1 :])
    if rest:
        held = getattr(part, name)
        value = _set(_UNSAID[name] if held is None or isinstance(held, str) else held, rest, value)
    elif value is None:
        return replace(part, **{name: next(field.default for field in fields(part) if field.name == name)})
    return replace(part, **{name: value})


def sized(spec: Strap, length: Nm, count: int | None) -> Strap:
    """The spec, given or filled, with its stated size set to `length`, and its row to `count` where one is given."""
    size = spec.size.at(length)
    if count is None or spec.ornaments is None:
        return replace(spec, size=size)
    return replace(spec, size=size, ornaments=replace(spec.ornaments, count=count))
