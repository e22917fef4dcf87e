"""Lines of stitches: where they run, and how many holes and stitches they have. Lengths are whole nanometres."""

from typing import Literal

from service.shop.goods import Nm
from service.strap.plane.outline import Point
from service.values import dataclass

StitchPurpose = Literal["edge_stitch", "fold_stitch", "joint_stitch", "splice_stitch"]


@dataclass(frozen=True, slots=True)
class StitchRun:
    """From one corner of a line of stitches to the next, along straight chords; both corners are holes."""

    points: tuple[Point, ...]
    length: Nm
    stitches: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchLine:
    """A line of stitches: `runs` from corner to corner, of which the last ends where the first begins if `closed`.

    Along the edges it runs at `inset` from them; in a turned-back end it goes through both plies, and is given on the
    front one.
    """

    id: str
    purpose: StitchPurpose
    inset: Nm
    closed: bool
    runs: tuple[StitchRun, ...]

    @property
    def item(self) -> None:
        """Nothing is set on it."""
        return

    @property
    def length(self) -> Nm:
        """All along it."""
        return sum(run.length for run in self.runs)

    @property
    def stitches(self) -> int:
        """From each hole to the next."""
        return sum(run.stitches for run in self.runs)

    @property
    def holes(self) -> int:
        """One a stitch, and one more where the line is open."""
        return self.stitches + (not self.closed)

    @property
    def pitch(self) -> Nm:
        """From hole to hole, in the mean of all its runs."""
        return round(self.length / self.stitches)

    @property
    def points(self) -> tuple[Point, ...]:
        """Every corner of its chords, in order; of a closed line without coming back to the first."""
        joined = [point for run in self.runs for point in run.points[:-1]]
        return tuple(joined) if self.closed else (*joined, self.runs[-1].points[-1])
