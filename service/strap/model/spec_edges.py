"""The parts of a spec that say how the long edges of a piece run: how it narrows, and how they are cut."""

from typing import Literal

from service.shop.goods import Nm
from service.values import dataclass

TaperLine = Literal["straight", "eased"]
BodyEdge = Literal["straight", "scalloped", "pinked"]
EdgingLies = Literal["behind", "between"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """How the long edges of a body are cut: in whole repeats, of about `repeat` each, their roots `depth` inside.

    By its `shape`, or by an `iron` of the shop's, which has one.
    """

    shape: BodyEdge | None = None
    repeat: Nm | None = None
    depth: Nm | None = None
    iron: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Edging(Edge):
    """Strips of another leather, sewn on along the long edges of a body, that stand out `reach` beyond them.

    They lie `behind` its plies, or `between` it and its lining, and their outer edge is cut as an edge is.
    """

    leather: str
    reach: Nm | None = None
    lies: EdgingLies | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """How a piece narrows `to` its end, `over` a length along it, in straight lines or eased ones."""

    to: Nm
    over: Nm | None = None
    line: TaperLine | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyTaper:
    """How a body narrows: alike to both its ends, or to its `head`, its `foot`, or each otherwise."""

    to: Nm | None = None
    over: Nm | None = None
    line: TaperLine | None = None
    head: Taper | None = None
    foot: Taper | None = None

    @property
    def both(self) -> tuple[Taper | None, Taper | None]:
        """To the head, and to the foot."""
        if self.to is None:
            return self.head, self.foot
        alike = Taper(to=self.to, over=self.over, line=self.line)
        return alike, alike
