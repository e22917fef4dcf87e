"""The ends of a filled spec: each kind with what is always said of it."""

from service.shop.goods import EndShape, Nm, SnapHalf
from service.strap.model.spec import EndKind, Ends, Keeper, SizeHoles, StrapEnd
from service.strap.model.spec_edges import Taper, TaperLine
from service.strap.plane.narrowing import Narrowing
from service.strap.plane.outline import EndForm
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledEnd(StrapEnd):
    """An end whose kind is named."""

    kind: EndKind
    end: "FilledEnd | None" = None

    @property
    def outermost(self) -> "FilledEnd":
        """What a billet ends in; any other end itself."""
        return self.end or self


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapedEnd(FilledEnd):
    """An end with a form: a plain one, and whatever else is shaped."""

    shape: EndShape
    depth: Nm

    @property
    def form(self) -> EndForm:
        """Its shape and depth."""
        return self.shape, self.depth


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledHole(ShapedEnd):
    """An end with a hanging hole."""

    hole: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledSlot(ShapedEnd):
    """An end with a hanging slot."""

    slot: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledRing(ShapedEnd):
    """An end that is folded round a ring."""

    ring: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledLoop(ShapedEnd):
    """An end that is turned back into a loop."""

    rod: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledBuckle(FilledEnd):
    """An end with a buckle."""

    buckle: str
    keeper: Keeper | tuple[Keeper, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledHoles(SizeHoles):
    """A row of size holes with its count and spacing."""

    count: int
    spacing: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledTip(ShapedEnd):
    """A tip with its size holes."""

    size_holes: FilledHoles


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledSnap(ShapedEnd):
    """An end with so many of one half of a snap."""

    snap: str
    half: SnapHalf
    count: int
    spacing: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledTaper(Taper):
    """How a piece narrows to its end."""

    over: Nm
    line: TaperLine

    def narrowing(self, parallel: Nm) -> Narrowing:
        """How an outline narrows by it, behind so much of the end's own width."""
        return Narrowing(self.to, parallel, self.over, eased=self.line == "eased")


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledBillet(ShapedEnd):
    """A billet that is riveted on: `shape` is that of its riveted end, and `under` the form of the body's end there."""

    width: Nm
    taper: FilledTaper | None = None
    end: FilledEnd
    under: EndForm

    @property
    def outer_width(self) -> Nm:
        """Its width at its own outer end."""
        return self.taper.to if self.taper else self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledEnds(Ends):
    """Both ends, filled."""

    head: FilledEnd
    foot: FilledEnd

    @property
    def both(self) -> tuple[FilledEnd, FilledEnd]:
        """The head, and the foot."""
        return self.head, self.foot

    @property
    def outermost(self) -> tuple[FilledEnd, FilledEnd]:
        """What each end is where it reaches farthest out."""
        return self.head.outermost, self.foot.outermost
