"""The strap that joins the two buckles of another: a tip at each end, and a row of size holes behind each."""

from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.ends.pieces import piece_of
from service.strap.ends.tip import least_tip
from service.strap.model.closed import HoleLength, Joined
from service.strap.model.end_measures import Tongue
from service.strap.model.hardware import Cut, size_hole
from service.strap.model.job import Job, Laid
from service.strap.model.joining import Joining
from service.strap.model.pattern import Feature, Piece
from service.strap.model.plies import thickness
from service.strap.plane.bend import girth_for_flat
from service.strap.plane.outline import strap_outline
from service.strap.plane.spacing import round_up


@dataclass(frozen=True, slots=True)
class LaidJoining:
    """A joining strap laid out: the tongue at each of its ends, and how long it is."""

    joining: Joining
    tongue: Tongue
    length: Nm

    @property
    def most(self) -> Nm:
        """What it adds between the bars, buckled at its outermost holes."""
        return self.length - 2 * self.tongue.tip

    @property
    def least(self) -> Nm:
        """What it adds at its innermost holes."""
        return self.most - 2 * self.tongue.row

    @property
    def nominal(self) -> Nm:
        """What it adds at its middle holes; of an even number at the tighter two."""
        return self.least + 2 * self.tongue.to_nominal

    def piece(self, job: Job) -> Piece:
        """It, with its holes numbered from its head on."""
        tongue, joining = self.tongue, self.joining
        cut = size_hole(joining.prong_of, job.shop, joining.hole_diameter)
        rows = [tongue.tip + n * tongue.spacing for n in range(tongue.count)]
        places = [*rows, *(self.length - x for x in reversed(rows))]
        outline = strap_outline(self.length, joining.width, joining.form, joining.form)
        holes = [(x, y) for y in joining.prong_of.prong_places for x in places]
        return piece_of(job, "joining_strap", outline, [_hole(n, each, cut) for n, each in enumerate(holes, 1)])

    def joined(self, job: Job, bar_to_bar: Nm) -> Joined:
        """How long both are together at each of its holes, the same at both ends, and which girth fits there."""
        ease, thick, tongue = job.spec.size.wearing_ease, thickness(job.plies.decorated), self.tongue
        flats = (bar_to_bar + self.least + 2 * n * tongue.spacing for n in range(tongue.count))
        return Joined(
            tuple(
                HoleLength(hole=hole, length=flat, fits=girth_for_flat(flat, ease, thick))
                for hole, flat in enumerate(flats, 1)
            )
        )


def lay_joining(job: Job, ends: tuple[Laid, Laid]) -> LaidJoining | None:
    """The joining strap, where there is one: with what it adds, or with what its own length leaves."""
    joining = job.joining
    if joining is None:
        return None
    tongue = Tongue(count=joining.count, spacing=joining.spacing, tip=_tip(job, joining, ends))
    length = (joining.adds or 0) + 2 * tongue.tip if joining.length is None else joining.length
    return LaidJoining(joining, tongue, length)


def _tip(job: Job, joining: Joining, ends: tuple[Laid, Laid]) -> Nm:
    """Beyond the outermost hole: the shop's number of widths, and never less than passes what holds it."""
    turns = [laid.outermost.turn for laid in ends]
    least = max(least_tip(job, turn) for turn in turns if turn)
    return round_up(max(round(joining.width * job.rules.tip_widths), least), job.grid)


def _hole(n: int, place: tuple[Nm, Nm], cut: Cut) -> Feature:
    return Feature(
        id=f"joining_strap.size_hole.{n}", kind="hole", action="punch", purpose="size_hole", x=place[0], y=place[1],
        diameter=cut.length, tool=cut.tool,
    )  # fmt: skip
