"""A spec with every default said: what was asked for in `service.strap.model.spec`, without the `None` of the unsaid.

Each part is one of the spec's with its types narrowed to what is there once it is filled, so that a filled spec is
read, and written as JSON, wherever a given one is. `service.strap.filling` makes them. What a strap may really lack (a
lining, a ring, a row) stays `None`.
"""

from dataclasses import replace
from typing import Any, Literal

from service.shop.goods import CutEdgeShape, EndShape, Nm
from service.shop.shop import Units
from service.strap.model.filled_ends import FilledEnds, FilledHoles, FilledTaper, FilledTip
from service.strap.model.spec import Body, End, JoiningStrap, Joint, MeasuredFrom, Size, Spec, Stitching, as_list
from service.strap.model.spec_edges import Edge, Edging, EdgingLies
from service.strap.model.spec_leather import KeepersBetween, Splices
from service.strap.model.spec_set import Across, Between, Border, Row, Rows
from service.values import dataclass

Measure = Literal["body_length", "bar_to_bar", "overall_length", "finished_length", "girth"]
"""A way of `Size` to say a length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledSize(Size):
    """A size whose length is `stated` by one `measure`; 0 of a table or label that the shop does not have.

    A finished length is measured from `datum`. `wearing_ease` is what a girth is made longer by, whether it is asked
    for or is what fits at a hole.
    """

    measure: Measure
    stated: Nm
    datum: MeasuredFrom
    wearing_ease: Nm

    def at(self, length: Nm) -> "FilledSize":
        """The same size of another length."""
        changed: dict[str, Any] = {self.measure: length}
        return replace(self, stated=length, **changed)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledSplices(Splices):
    """Laps with their lines of stitches; no `count`: as few as the leather allows."""

    stitch_lines: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledEdge(Edge):
    """Edges that are cut in scallops or points."""

    shape: CutEdgeShape
    repeat: Nm
    depth: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledEdging(Edging):
    """An edging with how far it stands out and where it lies, and how its outer edge is `cut`, where it is."""

    reach: Nm
    lies: EdgingLies
    cut: FilledEdge | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledBody(Body):
    """A body with its width. Its ends have a form where anything is riveted to them.

    `narrows` is how it does so to its head and to its foot, however that was asked for. `splices` are `None` too where
    the spec says `none`, and the shop is not asked.
    """

    width: Nm
    narrows: tuple[FilledTaper | None, FilledTaper | None] = (None, None)
    cut: FilledEdge | None = None
    """How its long edges are cut, where they are."""
    splices: FilledSplices | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledJoint(Joint):
    """A joint with its fastener and where its rivets stand."""

    fastener: str
    count: int
    spacing: Nm
    end_distance: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledRows(Rows):
    """Several rows with all that is said of them."""

    count: int
    across: Across
    distance: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledRow(Row):
    """A row with its count and spacing."""

    count: int
    spacing: Literal["ruler", "even"] | Nm
    rows: FilledRows | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledBetween(Between):
    """Things in each gap, and how many of them."""

    per_gap: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledKeepers(KeepersBetween):
    """Keepers between the ornaments, with their width."""

    width: Nm

    def numbers(self, count: int) -> tuple[int, ...]:
        """The gaps that have one, of `count` of them; the first is 1."""
        spans = self.gaps or ((1, count, self.every or 1),)
        return tuple(sorted({n for low, high, step in spans for n in range(low, min(high, count) + 1, step)}))


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledBorder(Border):
    """A border row with its place."""

    inset: Nm
    step: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledStitching(Stitching):
    """Stitches with their place and number; the wanted distance of two holes is `apart`, however it was asked for."""

    inset: Nm
    strands: int
    edges: bool
    turn_back: bool
    apart: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledShape(End):
    """The shape of an end with its depth."""

    shape: EndShape
    depth: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledJoining(JoiningStrap):
    """A joining strap with its width, its holes and its tips."""

    width: Nm
    size_holes: FilledHoles
    tip: FilledShape


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled(Spec):
    """The whole of what is asked for, filled in.

    `two` are the ends of the strap, whichever way they were asked for; `billet` and `ends` say them as the spec did.
    """

    size: FilledSize
    units: Units
    leather: str
    body: FilledBody
    joint: FilledJoint
    ornaments: FilledRow | None = None
    between: FilledBetween | tuple[FilledBetween, ...] | None = None
    border: FilledBorder | tuple[FilledBorder, ...] | None = None
    keepers_between: FilledKeepers | None = None
    edging: FilledEdging | None = None
    stitching: FilledStitching | None = None
    joining_strap: FilledJoining | None = None
    two: FilledEnds

    @property
    def betweens(self) -> tuple[FilledBetween, ...]:
        """What stands in each gap, as a list."""
        return as_list(self.between)

    @property
    def borders(self) -> tuple[FilledBorder, ...]:
        """The rows along the edges, as a list."""
        return as_list(self.border)

    @property
    def tip(self) -> FilledTip | None:
        """The tip that is buckled, or else whichever there is, the foot's first."""
        head, foot = self.two.outermost
        return next((end for end in (foot, head) if isinstance(end, FilledTip)), None)
