"""A cut plan as frozen dataclasses. Lengths are whole nanometres.

Frame of a hide: origin at the corner where the straightened long edge meets the end that is cut from first;
`from_y` counts across the hide, strip after strip, `from_x` along a strip, piece after piece.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from service.shop.goods import Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """One piece to cut. `ref` and `copy` find its order again, `piece` its name in the pattern."""

    ref: str
    strap: str = ""
    """Which strap of its order, where there are several."""
    copy: int
    piece: str
    leather: str
    width: Nm
    length: Nm

    @property
    def tag(self) -> str:
        """What its strap is called at the bench."""
        return f"{self.ref} {self.strap}" if self.strap else self.ref


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """So many hides (or offcuts) of one leather and usable size."""

    id: str
    leather: str
    length: Nm
    width: Nm
    count: int
    straighten: Nm = 0
    """Cut off one long edge first, to have a straight edge to work from."""
    end_trim: Nm = 0
    """Cut off each end of every strip."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How leather is cut, and the smallest offcut worth keeping."""

    kerf: Nm
    offcut_length: Nm
    offcut_width: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPiece:
    """A piece where it is cut from a strip."""

    wanted: Wanted
    from_x: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip where it is cut from a hide. `n` counts through the whole plan, in working order."""

    n: int
    width: Nm
    from_y: Nm
    pieces: tuple[PlacedPiece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """What is left of a hide and worth keeping: the rest of its width, or of a strip."""

    of: Literal["hide", "strip"]
    from_x: Nm
    from_y: Nm
    length: Nm
    width: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The `n`th hide taken from a stock, and everything that is cut from it."""

    stock: Stock
    n: int
    strips: tuple[Strip, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def area(self) -> int:
        """Of the whole hide, in square nanometres."""
        return self.stock.length * self.stock.width

    @property
    def used_width(self) -> Nm:
        """How far across it its strips reach."""
        return max(strip.from_y + strip.width for strip in self.strips)

    @property
    def pieces_area(self) -> int:
        """Of its pieces (their length times their width), in square nanometres."""
        return sum(p.wanted.length * p.wanted.width for strip in self.strips for p in strip.pieces)

    @property
    def offcuts_area(self) -> int:
        """Of the offcuts worth keeping, in square nanometres."""
        return sum(offcut.length * offcut.width for offcut in self.offcuts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A piece that the stock does not hold, because it is used up or because no hide in it is large enough."""

    wanted: Wanted
    why: Literal["stock_used_up", "fits_no_sheet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class More:
    """What would hold the missing pieces: so many more hides of one size; `at_least` as many by any plan.

    `stock` names a stock entry of that size; without one it is the size that the shop buys this leather in.
    """

    leather: str
    stock: str | None
    length: Nm
    width: Nm
    count: int
    at_least: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Hides and their area, in square nanometres."""

    sheets: int
    area: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LeatherPlan:
    """The plan of one leather. `lower_bound` is what no plan of the pieces that are placed can be below.

    `proven` says that nothing better can be: no fewer hides missing, and then no smaller area used.
    """

    leather: str
    sheets: tuple[Sheet, ...]
    used: Tally
    lower_bound: Tally
    proven: bool
    settings: int
    """How often the strap cutter is set."""
    missing: tuple[Missing, ...]
    more: tuple[More, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """The plan of a whole batch, leather by leather. `cut_short` says that time ended the search."""

    leathers: tuple[LeatherPlan, ...]
    habits: Habits
    cut_short: bool

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """Every hide, in working order."""
        return tuple(sheet for plan in self.leathers for sheet in plan.sheets)

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Every piece that is missing."""
        return tuple(piece for plan in self.leathers for piece in plan.missing)

    @property
    def more(self) -> tuple[More, ...]:
        """What would hold the missing pieces."""
        return tuple(more for plan in self.leathers for more in plan.more)

    @property
    def used(self) -> Tally:
        """All leathers together."""
        return _together(plan.used for plan in self.leathers)

    @property
    def lower_bound(self) -> Tally:
        """All leathers together."""
        return _together(plan.lower_bound for plan in self.leathers)

    @property
    def proven(self) -> bool:
        """Whether every leather's plan is proven."""
        return all(plan.proven for plan in self.leathers)

    @property
    def settings(self) -> int:
        """How often the strap cutter is set, leather after leather."""
        return sum(plan.settings for plan in self.leathers)


def _together(tallies: Iterable[Tally]) -> Tally:
    found = tuple(tallies)
    return Tally(sheets=sum(each.sheets for each in found), area=sum(each.area for each in found))
