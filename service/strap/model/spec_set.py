"""What a spec sets on a strap: the row along the middle, what stands between, the borders. Lengths are nanometres."""

from typing import Literal

from service.shop.goods import Nm
from service.values import dataclass

Arrange = Literal["graduated", "alternating", "sequence"]
Across = Literal["level", "staggered"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Several rows across the strap, level or staggered, their centre lines `distance` apart."""

    count: int | None = None
    across: Across | None = None
    distance: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The ornaments along the middle.

    Either one `item`, or `items` with the way to `arrange` them: `graduated` (largest in the middle),
    `alternating`, or a `sequence` that is repeated, `mirrored` about the middle where asked. `count` does
    not count the `centrepiece`; a sequence without it is set once, just as it is said. `spacing` is a rule, or a pitch
    in nanometres.
    """

    item: str | None = None
    items: tuple[str, ...] | None = None
    arrange: Arrange | None = None
    mirrored: bool | None = None
    centrepiece: str | None = None
    count: int | None = None
    spacing: Literal["ruler", "even"] | Nm | None = None
    rows: Rows | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Between:
    """Smaller things centred in each gap between neighbouring ornaments."""

    item: str
    per_gap: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A row along both edges, in register with the ornaments. `inset` runs from the edge to a spot's centre."""

    item: str
    inset: Nm | None = None
    step: Nm | None = None
