"""What a shop file may say of a figure of the bench: a note beside its type, from which its reading follows."""

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Any, get_type_hints

from service.shop.goods import Nm


@dataclass(frozen=True, slots=True)
class Length:
    """A length, always with its unit, and longer than nothing unless `zero`.

    One that is `laid_out` may be otherwise in a job in millimetres, `usual_mm` where the shop says nothing of it.
    """

    zero: bool = False
    laid_out: bool = False
    usual_mm: Nm | None = None


@dataclass(frozen=True, slots=True)
class Number:
    """A share or a multiple from `least` to `most`, as decimal text."""

    least: str = "0"
    most: str = "1"


@dataclass(frozen=True, slots=True)
class OwnLength:
    """A length that a single rule declares and reads; `usual` where the shop says nothing."""

    name: str
    meaning: str
    usual: Nm
    zero: bool = False


Figure = Length | Number


def figures_of(part: type[Any]) -> dict[str, Figure]:
    """The figures among the members of a part of the shop, by name: lengths and decimals, with what is noted there."""
    hints = get_type_hints(part, include_extras=True)
    found = {each.name: _figure(hints[each.name]) for each in fields(part)}
    return {name: figure for name, figure in found.items() if figure}


def _figure(hint: Any) -> Figure | None:
    noted: tuple[Figure, ...] = getattr(hint, "__metadata__", ())
    usual: dict[Any, Figure] = {Nm: Length(), Decimal: Number()}
    return noted[0] if noted else usual.get(hint)
