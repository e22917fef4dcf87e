"""A strap spec: what somebody asks for, as frozen dataclasses.

A field that is `None` was left unsaid; `service.strap.resolve.fill` says it from the shop's defaults.
Lengths are whole nanometres. Names are those of the JSON document.
"""

from dataclasses import dataclass
from typing import Literal

from service.shop.goods import EndShape, Nm
from service.shop.shop import Units

Construction = Literal["three_piece", "one_piece", "open"]
MeasuredFrom = Literal["fold", "bar", "frame"]
EndKind = Literal["plain", "hole", "ring"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Exactly one of `body_length`, `finished_length` and `girth` is given.

    `body_length` is the body of a three-piece strap, or the whole flat strip of the other two.
    `measured_from` belongs to `finished_length`, `ease` to `girth`.
    """

    body_length: Nm | None = None
    finished_length: Nm | None = None
    measured_from: MeasuredFrom | None = None
    girth: Nm | None = None
    ease: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """The shape of an end. `depth` is measured along the strap, from the tip to where full width begins."""

    shape: EndShape | None = None
    depth: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """The decorated part: its width, and the shape of its ends (three-piece and open straps)."""

    width: Nm | None = None
    end: End = End()


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeHoles:
    """The row of holes for the prong; the middle one is the nominal size."""

    count: int | None = None
    spacing: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Billet:
    """The buckled parts: of a three-piece strap two billets, of a one-piece strap its two ends."""

    width: Nm | None = None
    buckle: str | None = None
    tip: End = End()
    size_holes: SizeHoles = SizeHoles()
    keeper: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """How pieces are riveted: to one another, or a turned-back end to itself."""

    fastener: str | None = None
    count: int | None = None
    spacing: Nm | None = None
    end_distance: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEnd:
    """One end of an open strap: plain, with a hanging hole, or folded round a ring."""

    kind: EndKind | None = None
    shape: EndShape | None = None
    depth: Nm | None = None
    hole: Nm | None = None
    """Diameter of the hanging hole."""
    ring: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """The two ends of an open strap: `head` lies at the origin, `foot` at the far end."""

    head: StrapEnd = StrapEnd()
    foot: StrapEnd = StrapEnd()


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The ornaments along the middle. `spacing` is a rule, or a pitch in nanometres."""

    item: str
    count: int
    spacing: Literal["ruler", "even"] | Nm | None = None


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """The whole of what is asked for."""

    construction: Construction
    size: Size
    units: Units | None = None
    leather: str | None = None
    body: Body = Body()
    billet: Billet = Billet()
    joint: Joint = Joint()
    ends: Ends = Ends()
    ornaments: Row | None = None
    between: Between | None = None
    border: Border | None = None
