"""Ready designs: a base spec, and what a buyer may choose of it.

A base spec is kept as JSON text, since this layer knows nothing of specs; `service.schemas` reads it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

Value = int | str | bool
"""What a choice may be set to: a length in nanometres or a count, an id or a word, yes or no."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """Values from `least` to `most`, both allowed, `step` apart: nanometres, or a count of things."""

    least: int
    most: int
    step: int
    default: int

    def __contains__(self, value: object) -> bool:
        """Whether a value is one that is offered."""
        return isinstance(value, int) and self.least <= value <= self.most and (value - self.least) % self.step == 0

    def __iter__(self) -> Iterator[int]:
        """Every value in ascending order."""
        return iter(range(self.least, self.most + 1, self.step))

    def __len__(self) -> int:
        """How many values there are."""
        return (self.most - self.least) // self.step + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One value of a list, and what a buyer reads for it."""

    value: Value
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """A list of values."""

    options: tuple[Option, ...]
    default: Value

    def __contains__(self, value: object) -> bool:
        """Whether a value is one that is offered; `True` is not 1."""
        return any(type(each) is type(value) and each == value for each in self)

    def __iter__(self) -> Iterator[Value]:
        """Every value in the shop's order."""
        return (option.value for option in self.options)

    def __len__(self) -> int:
        """How many values there are."""
        return len(self.options)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Something that a buyer may choose: it sets the member of the spec at `path`."""

    name: str
    title: str
    path: tuple[str, ...]
    is_length: bool
    """Whether its values are lengths in nanometres."""
    offer: Range | Options


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A ready design. `spec` is its base spec as JSON text; every choice has its default set upon it."""

    name: str
    title: str
    about: str
    """One sentence for a buyer."""
    spec: str
    choices: tuple[Choice, ...]
    size_table: str | None = None
    """The shop's table by whose labels it is made in sizes, in place of the length that is chosen."""

    @property
    def length(self) -> Choice:
        """The choice of how long: a range, and always there."""
        return next(each for each in self.choices if _is_range_at(each, "size"))

    @property
    def count(self) -> Choice | None:
        """The choice of how many ornaments, where there is one."""
        return next((each for each in self.choices if each.path == ("ornaments", "count")), None)

    @property
    def others(self) -> tuple[Choice, ...]:
        """Every choice but those of length and count."""
        return tuple(each for each in self.choices if each not in (self.length, self.count))

    def choice(self, name: str) -> Choice:
        """The choice of that name. Raises `KeyError`."""
        return {each.name: each for each in self.choices}[name]

    def defaults(self) -> dict[str, Value]:
        """The value of every choice where a buyer chooses nothing."""
        return {each.name: each.offer.default for each in self.choices}


def range_of(choice: Choice) -> Range:
    """The range of a choice of length or count."""
    if not isinstance(choice.offer, Range):
        raise TypeError(f"{choice.name} is no range")
    return choice.offer


def counts_of(design: Design) -> tuple[int, ...]:
    """Every count that a design offers; 0 alone of one that offers none."""
    return tuple(range_of(design.count)) if design.count else (0,)


def _is_range_at(choice: Choice, part: str) -> bool:
    return choice.path[0] == part and isinstance(choice.offer, Range)


Chosen = dict[str, Value]
"""A value for every choice of a design, by name."""
