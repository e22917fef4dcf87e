"""What ends measure along the leather: one that is turned back, and the tongue with its size holes."""

from service.shop.goods import Nm
from service.strap.model.hardware import Cut
from service.strap.model.holding import Holding
from service.strap.model.loops import Loops
from service.strap.plane.bend import Fold
from service.values import dataclass

Span = tuple[Nm, Nm]
"""From one place along the leather to another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnBack:
    """`tail` runs from the strip's end to its first rivet; `fold.flat` between the innermost mated holes."""

    tail: Nm
    count: int
    spacing: Nm
    fold: Fold
    hold: Holding
    slot: Cut | None
    """The slot of each prong, where there is one."""
    prong_places: tuple[Nm, ...] = ()
    """Where the prongs lie across the strap."""
    loops: Loops | None = None
    """The keepers at its buckle, if there are any."""
    gap: Span | None = None
    """From where to where its seam is left open for a ring, from the beginning of the seam."""

    @property
    def innermost(self) -> Nm:
        """From the strip's end to the tail's rivet nearest the fold."""
        return self.tail + (self.count - 1) * self.spacing

    @property
    def middle(self) -> Nm:
        """From the strip's end to the fold line."""
        return self.innermost + self.fold.flat // 2

    @property
    def front(self) -> Nm:
        """From the strip's end to the front ply's rivet nearest the fold."""
        return self.innermost + self.fold.flat

    @property
    def fixed_keepers(self) -> tuple[Nm, ...]:
        """From the strip's end to the middle of each fixed keeper, on the front ply."""
        return tuple(self.front + away for away in self.loops.middles(self.spacing)) if self.loops else ()

    @property
    def landing(self) -> Nm:
        """Where the strip's end comes to lie on the front ply."""
        return self.front + self.innermost

    @property
    def bar_offset(self) -> Nm:
        """Add it to a place on the front ply to get its distance from the bar's axis, made up."""
        return self.fold.bar_to_rivet - self.front


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """So many sizes that a strap is closed at, `spacing` apart: size holes, or studs. The first is the tightest."""

    count: int
    spacing: Nm

    @property
    def holes(self) -> int:
        """How many holes they take."""
        return self.count

    @property
    def row(self) -> Nm:
        """From the first to the last."""
        return (self.count - 1) * self.spacing

    @property
    def to_nominal(self) -> Nm:
        """From the first to the middle one."""
        return (self.count - 1) // 2 * self.spacing


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue(Sizes):
    """The size holes of a tongue, and `tip` beyond the last one: a row for each of so many prongs."""

    tip: Nm
    prongs: int = 1

    @property
    def holes(self) -> int:
        """One for each prong at each size."""
        return self.count * self.prongs

    @property
    def beyond_nominal(self) -> Nm:
        """From the middle size hole to the tip's end: how far the tip lies past the bar when buckled there."""
        return self.row - self.to_nominal + self.tip
