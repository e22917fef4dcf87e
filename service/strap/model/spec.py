"""A strap spec: what somebody asks for, as frozen dataclasses.

A field that is `None` was left unsaid; `service.strap.filling.fill` says it from the shop's defaults.
Lengths are whole nanometres. Names are those of the JSON document.
"""

from dataclasses import replace
from typing import Any, Literal, TypeVar

from service.shop.goods import EndShape, Nm, SnapHalf
from service.shop.shop import Units, WornBy
from service.strap.model.spec_edges import BodyTaper, Edge, Edging, Taper
from service.strap.model.spec_leather import KeepersBetween, Splices, Splicing
from service.strap.model.spec_set import Between, Border, Row
from service.values import dataclass

Part = TypeVar("Part")

Construction = Literal["three_piece", "one_piece", "open", "two_ends"]
MeasuredFrom = Literal["fold", "bar", "frame"]
EndKind = Literal["plain", "hole", "slot", "ring", "loop", "buckle", "tip", "snap", "billet"]
FOLDED: tuple[EndKind, ...] = ("ring", "loop", "buckle")
"""Ends that are folded back on themselves."""
Keeper = Literal["loose", "fixed", "none"]
"""A loose keeper slides on the strap beside the buckle's frame, a fixed one is held in what is turned back."""
Hand = Literal["left", "right"]
"""Of a pair, the strap as it is asked for, and its mirror image."""
Hold = Literal["rivets", "stitches", "screws"]
LiningHold = Literal["stitches", "keepers"]
LiningPurpose = Literal["cover", "carry"]
"""A lining covers the backs of what is set, or it carries: what is set goes through both plies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Exactly one of the lengths, `girth` and `table` with `label` is given.

    `body_length` is the body between billets, or the whole flat strip. `bar_to_bar` lies between two buckles,
    `overall_length` between whatever lies outermost. `measured_from` belongs to `finished_length`, `ease` to `girth`. A
    `table` of the shop's gives the girth or length of a `label` such as M.
    """

    body_length: Nm | None = None
    bar_to_bar: Nm | None = None
    overall_length: Nm | None = None
    finished_length: Nm | None = None
    measured_from: MeasuredFrom | None = None
    girth: Nm | None = None
    ease: Nm | None = None
    table: str | None = None
    label: str | None = None

    def at(self, length: Nm) -> "Size":
        """The same size of another length; of a table it stays what the shop says."""
        changed: dict[str, Any] = {name: length for name in LENGTHS if getattr(self, name) is not None}
        return replace(self, **changed)


LENGTHS: tuple[str, ...] = ("body_length", "bar_to_bar", "overall_length", "finished_length", "girth")
"""The ways of `Size` to say a length outright."""


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """The shape of an end. `depth` is measured along the strap, from the tip to where full width begins."""

    shape: EndShape | None = None
    depth: Nm | None = None


_STRAIGHT = BodyTaper()


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """The decorated part: its width, and the shape of its ends (three-piece and open straps).

    `splices` says whether a body, or a single strip, that is longer than its leather's strips is made of several.
    """

    width: Nm | None = None
    end: End = End()
    splices: Splicing | Splices | None = None
    taper: BodyTaper | None = None
    edge: Edge | None = None

    @property
    def tapers(self) -> tuple[Taper | None, Taper | None]:
        """How it narrows to its head and to its foot."""
        return (self.taper or _STRAIGHT).both


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeHoles:
    """The row of holes for the prong; the middle one is the nominal size."""

    count: int | None = None
    spacing: Nm | None = None
    diameter: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Billet:
    """The buckled parts: of a three-piece strap two billets, of a one-piece strap its two ends.

    `prong_slot`, `keeper_width` and the size holes' `diameter` stay unsaid where the shop's rules settle them.
    """

    width: Nm | None = None
    buckle: str | None = None
    tip: End = End()
    size_holes: SizeHoles = SizeHoles()
    prong_slot: Nm | None = None
    """Length of the slot for the buckle's prong, along the strap."""
    keeper: bool | None = None
    keeper_width: Nm | None = None
    """Of the keeper's loop, along the strap."""
    ring: str | None = None
    """A ring between the turned-back end's first two rivets: a collar ring (one-piece straps)."""
    tip_length: Nm | None = None
    """From the last size hole to the tip's end; nothing said: the shop's rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """How pieces are riveted: to one another, or a turned-back end to itself."""

    fastener: str | None = None
    count: int | None = None
    spacing: Nm | None = None
    end_distance: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEnd:
    """One end of a strap: plain, to hang it by, folded round a ring or a buckle, or a tip with size holes.

    A billet is riveted on: `shape` is that of its riveted end, and `end` says what it ends in itself.
    """

    kind: EndKind | None = None
    shape: EndShape | None = None
    depth: Nm | None = None
    hole: Nm | None = None
    """Diameter of the hanging hole."""
    slot: Nm | None = None
    """Length of the hanging slot, across the strap."""
    ring: str | None = None
    """What the end is folded round; beside a buckle the collar ring in its fold."""
    buckle: str | None = None
    prong_slot: Nm | None = None
    keeper: Keeper | tuple[Keeper, ...] | None = None
    keeper_width: Nm | None = None
    hold: Hold | None = None
    """What holds a turned-back end; nothing said: stitches where the spec's `stitching` says so, else rivets."""
    join: Hold | None = None
    """What joins a billet to the body; nothing said: rivets."""
    rod: Nm | None = None
    """How thick what goes through a loop is."""
    size_holes: SizeHoles = SizeHoles()
    tip_length: Nm | None = None
    snap: str | None = None
    half: SnapHalf | None = None
    count: int | None = None
    """How many studs of a snap, each a size."""
    spacing: Nm | None = None
    """From one stud to the next."""
    width: Nm | None = None
    """Of a billet."""
    taper: Taper | None = None
    """Of a billet, to its outer end."""
    adds: Nm | None = None
    """How far a billet reaches past the body's end; nothing said: as far as what it carries needs."""
    end: "StrapEnd | None" = None

    @property
    def outermost(self) -> "StrapEnd":
        """What a billet ends in; any other end itself."""
        return self.end or self

    @property
    def keepers(self) -> tuple[Keeper, ...]:
        """Its keepers that are asked for."""
        asked: tuple[Keeper, ...] = as_list(self.keeper)
        return tuple(each for each in asked if each != "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """From the least to the most."""

    least: Nm
    most: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class JoiningStrap:
    """A strap of its own with a tip at each end, which joins the two buckles of another.

    `adds` is what it adds between their bars, from its innermost holes to its outermost; or its own `length` says that.
    """

    width: Nm | None = None
    adds: Range | None = None
    length: Nm | None = None
    size_holes: SizeHoles = SizeHoles()
    tip: End = End()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """The two ends of a strap that is said by them: `head` lies at the origin, `foot` at the far end."""

    head: StrapEnd = StrapEnd()
    foot: StrapEnd = StrapEnd()

    @property
    def both(self) -> tuple[StrapEnd, StrapEnd]:
        """The head, and the foot."""
        return self.head, self.foot

    @property
    def outermost(self) -> tuple[StrapEnd, StrapEnd]:
        """What each end is where it reaches farthest out."""
        return self.head.outermost, self.foot.outermost

    @property
    def is_strip(self) -> bool:
        """Whether the strap is a single strip, with nothing riveted on; each end's kind is named."""
        return self.head.kind != "billet" and self.foot.kind != "billet"

    @property
    def closes(self) -> bool:
        """Whether they close on one another."""
        head, foot = self.outermost
        return (head.kind == "buckle" and foot.kind == "tip") or self.is_snapped

    @property
    def is_snapped(self) -> bool:
        """Whether they are a cap and a stud."""
        head, foot = self.outermost
        return {head.half, foot.half} == {"cap", "stud"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lining:
    """A lining of which it is said what it is for, or what holds it.

    One that keepers hold is a strap of its own behind the other: it is neither glued nor sewn, and covers the backs.
    """

    leather: str
    purpose: LiningPurpose | None = None
    held_by: LiningHold | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitching:
    """Lines of stitches `inset` from the edges: along them, and in a turned-back end in place of its rivets.

    Either so many stitches `per_inch`, or a `pitch` from hole to hole. `strands` of thread lie in each line: a
    saddle stitch has two.
    """

    inset: Nm | None = None
    per_inch: int | None = None
    pitch: Nm | None = None
    strands: int | None = None
    edges: bool | None = None
    turn_back: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """The whole of what is asked for."""

    construction: Construction
    size: Size
    units: Units | None = None
    worn_by: WornBy | None = None
    """Stays unsaid where neither the spec nor its size table knows."""
    hand: Hand | None = None
    """Which of a pair it is; the right one is the mirror image, grain side up like the left."""
    leather: str | None = None
    lining: str | Lining | None = None
    """The leather behind the body, or behind the whole of a single strip. Of a bare id the fixings say what it is for:
    see `service.strap.model.lining`."""
    body: Body = Body()
    billet: Billet = Billet()
    joint: Joint = Joint()
    ends: Ends = Ends()
    joining_strap: JoiningStrap | None = None
    ornaments: Row | None = None
    between: Between | tuple[Between, ...] | None = None
    """Things in each gap; of several each stands once or `per_gap` times, in this order."""
    border: Border | tuple[Border, ...] | None = None
    """Rows along both edges."""
    keepers_between: KeepersBetween | None = None
    edging: Edging | None = None
    stitching: Stitching | None = None
    """Nothing said: an unlined strap is not stitched, a lined one along its edges."""

    @property
    def lining_leather(self) -> str | None:
        """The id of the lining's leather, whichever way it was asked for."""
        return self.lining.leather if isinstance(self.lining, Lining) else self.lining

    @property
    def lining_purpose(self) -> LiningPurpose | None:
        """What the lining is for, where that was said, or follows from what holds it."""
        if not isinstance(self.lining, Lining):
            return None
        return "cover" if self.lining_is_loose and self.lining.purpose is None else self.lining.purpose

    @property
    def lining_is_loose(self) -> bool:
        """Whether keepers hold the lining, and neither glue nor stitches."""
        return isinstance(self.lining, Lining) and self.lining.held_by == "keepers"

    @property
    def betweens(self) -> tuple[Between, ...]:
        """What stands in each gap, as a list."""
        return as_list(self.between)

    @property
    def borders(self) -> tuple[Border, ...]:
        """The rows along the edges, as a list."""
        return as_list(self.border)


def as_list(value: Part | tuple[Part, ...] | None) -> tuple[Part, ...]:
    """One, several or none, as a tuple."""
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)
