"""The goods a shop cuts, punches and sets: leathers, punches, fasteners, buckles and rings.

Every length is a whole number of nanometres, every mass a whole number of milligrams.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, assert_never

Nm = int
"""A length in whole nanometres: every 1/64 in (396 875 nm) and every 0.001 mm is a whole number of them."""

BarPlace = Literal["heel", "centre"]
EndShape = Literal["square", "round", "english_point", "straight_point", "clipped"]
CutEdgeShape = Literal["scalloped", "pinked"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leather:
    """A leather in stock. `thin` and `thick` are the ends of its thickness range, unskived."""

    id: str
    title: str
    thin: Nm
    thick: Nm
    strip_length: Nm
    """The longest straight strip that it yields."""
    usable_width: Nm
    density: Decimal
    """Grams per cubic centimetre."""
    price_per_m2: Decimal
    colour: str
    """`#rrggbb` of the grain side, for the finished look."""
    edge_colour: str

    @property
    def thickness(self) -> Nm:
        """The middle of the range: the thickness that lengths are worked out with."""
        return (self.thin + self.thick) // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundPunch:
    """A punch that cuts a round hole of `diameter`."""

    id: str
    title: str
    diameter: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotPunch:
    """A punch that cuts a slot with round ends, `length` over all and `width` across."""

    id: str
    title: str
    length: Nm
    width: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class EndPunch:
    """A punch that shapes the end of a strap exactly `width` wide; the point is `depth` deep."""

    id: str
    title: str
    shape: EndShape
    width: Nm
    depth: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeIron:
    """An iron that scallops or pinks an edge: `count` repeats at one blow, each `repeat` long, roots `depth` inside."""

    id: str
    title: str
    shape: CutEdgeShape
    repeat: Nm
    depth: Nm
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """A rivet of post and cap, or a screw post. It holds a stack of leather between `grip_min` and `grip_max` thick."""

    id: str
    title: str
    post_diameter: Nm
    post_length: Nm
    cap_diameter: Nm
    grip_min: Nm
    grip_max: Nm
    barrel: Nm | None = None
    """Length of a screw post's barrel, which is its post; the grips are the shop's slack about it."""
    mass_mg: int
    price: Decimal
    colour: str

    @property
    def is_screw(self) -> bool:
        """Whether it is a screw post, and not a rivet."""
        return self.barrel is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Buckle:
    """A buckle with one prong or two, named by the strap width that it takes.

    `frame_length` is measured along the strap, over all, `frame_width` across it. The bar lies at
    the heel of the frame or across its middle; a frame with its bar at the heel needs a keeper.
    """

    id: str
    title: str
    inside_width: Nm
    bar_thickness: Nm
    roller: Nm | None = None
    """Outer diameter of the tube that turns on the bar, if there is one: the fold goes round that."""
    bar_place: BarPlace
    frame_length: Nm
    frame_width: Nm
    frame_thickness: Nm
    """Thickness of the frame's rail, seen from the front."""
    prong_width: Nm
    prongs_apart: Nm = 0
    """From the middle of the one prong to that of the other; 0 where there is one."""
    mass_mg: int
    price: Decimal
    colour: str

    @property
    def prong_places(self) -> tuple[Nm, ...]:
        """Where its prongs lie across the strap, from the middle."""
        half = self.prongs_apart // 2
        return (-half, half) if half else (0,)

    @property
    def folded_round(self) -> Nm:
        """How thick what the strap is folded round is: the bar, or the roller on it."""
        return self.roller or self.bar_thickness

    @property
    def needs_keeper(self) -> bool:
        """Whether the tongue's tip has to be held by a loop of leather."""
        return self.bar_place == "heel"

    @property
    def bar_to_frame(self) -> Nm:
        """From the bar's axis to the frame's outer edge, away from the fold."""
        if self.bar_place == "centre":
            return self.frame_length // 2
        return self.frame_length - self.folded_round // 2

    @property
    def bar_to_heel(self) -> Nm:
        """From the bar's axis to the frame's edge on the fold's side."""
        return self.frame_length - self.bar_to_frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Snap:
    """A snap fastener: a cap with its socket in one end of a strap, a stud with its post in the other.

    Each half is set through a hole for its `post_diameter`, and grips leather from `grip_min` to `grip_max` thick.
    Mass and price are those of one half, whichever it is.
    """

    id: str
    title: str
    cap_diameter: Nm
    """Of the cap, seen from the front, and of the flanges that hold leather."""
    stud_diameter: Nm
    """Of the stud's flange, seen from the front."""
    stud_height: Nm
    """What the stud stands up above the leather."""
    post_diameter: Nm
    grip_min: Nm
    grip_max: Nm
    mass_mg: int
    price: Decimal
    colour: str
    breaks_away: bool = False
    """Whether it is made to let go where a strap is caught: for collars, and never where a load is borne."""


SnapHalf = Literal["cap", "stud"]
RingShape = Literal["round", "dee", "rectangle", "hook"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A ring that a strap's end is folded round.

    It is closed and round, or a dee or a rectangle, whose straight side the fold lies on, or a snap hook, which the
    fold holds by its eye. `inside_length` is a rectangle's, along the strap; `length` that of a hook, from the axis of
    its eye's rail in the fold to its outer edge.
    """

    id: str
    title: str
    inside_width: Nm
    thickness: Nm
    mass_mg: int
    price: Decimal
    colour: str
    shape: RingShape = "round"
    inside_length: Nm = 0
    length: Nm = 0

    @property
    def reach(self) -> Nm:
        """From the axis of its rail in the fold to its outer edge: a dee's bow is half a circle."""
        across, half = self.inside_width + self.thickness, self.thickness // 2
        match self.shape:
            case "round":
                return across + half
            case "dee":
                return across // 2 + half
            case "rectangle":
                return self.inside_length + self.thickness + half
            case "hook":
                return self.length
            case _:
                assert_never(self.shape)
