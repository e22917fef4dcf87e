"""The tongue end: size holes, and tip enough to pass the keeper at the loosest hole."""

from dataclasses import dataclass, replace

from service.shop.goods import Buckle, Nm
from service.strap.model.end_measures import Tongue, TurnBack
from service.strap.model.hardware import Cut, size_hole
from service.strap.model.job import End, Job, Laid
from service.strap.model.pattern import Feature
from service.strap.model.side import Side
from service.strap.plane.outline import EndForm
from service.strap.plane.spacing import nearest, round_up


@dataclass(frozen=True, slots=True, kw_only=True)
class TipEnd(End):
    """A tip of a form behind a row of size holes for the prong of a buckle.

    `hole_diameter` and `tip_length` are what was asked for; nothing asked: the shop's rules.
    """

    form: EndForm
    prong_of: Buckle
    count: int
    spacing: Nm
    hole_diameter: Nm | None
    tip_length: Nm | None

    @property
    def fits(self) -> Buckle:
        """The one that its holes are made for."""
        return self.prong_of

    def lay(self, job: Job, opposite: Laid | None = None) -> "LaidTip":
        """Lengths are measured to the middle size hole."""
        turn = opposite.outermost.turn if opposite else None
        return _laid(job, self, self._tongue(job, turn))

    def _tongue(self, job: Job, turn: TurnBack | None) -> Tongue:
        """The tip is as long as the spec says; else the shop's number of strap widths, and never less than the least.

        What the shop settles is rounded up to a graduation.
        """
        least = least_tip(job, turn) if turn and job.closes else job.rules.tip_past_keeper
        usual = max(round(self.width * job.rules.tip_widths), least)
        tip = round_up(usual, job.grid) if self.tip_length is None else self.tip_length
        return Tongue(count=self.count, spacing=self.spacing, tip=tip)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidTip(Laid):
    """A tongue laid out: the row ends the shop's distance before the first size hole."""

    row: Tongue
    hole: Cut
    end: TipEnd

    def settle(self, job: Job, asked: Nm) -> tuple[Nm, Laid]:
        """The strip's length, and the tongue with what a ruler leaves over in its tip.

        A strip of a given length keeps it, and a finished length its hole; a girth's hole goes to the nearest
        graduation. A tip of a given length takes nothing up.
        """
        size, tail = job.spec.size, self.row
        over = job.grid if self.end.tip_length is None else 1
        hole = asked - tail.beyond_nominal
        if size.girth is not None:
            hole = nearest(hole, job.grid)
        elif size.body_length is not None:
            hole = hole // over * over
        length = asked if size.body_length is not None else round_up(hole + tail.beyond_nominal, over)
        return length, _laid(job, self.end, replace(tail, tip=length - hole - (tail.row - tail.to_nominal)))

    def features(self, _job: Job, side: Side) -> list[Feature]:
        """The size holes; the first is the nearest to the body, and has the least number."""
        tail, first = self.row, self.row.tip + self.row.row
        return [
            Feature(
                id=f"{side.piece}.size_hole.{side.first_hole + n}", kind="hole", action="punch", purpose="size_hole",
                x=side.at(first - n * tail.spacing), diameter=self.hole.length, tool=self.hole.tool,
            )
            for n in range(tail.count)
        ]  # fmt: skip


def _laid(job: Job, end: TipEnd, tail: Tongue) -> LaidTip:
    free, clear = tail.tip + tail.row + job.rules.first_size_hole, job.rules.hardware_clear
    return LaidTip(
        anchor=free,
        keep=clear,
        border=free + clear,
        guard=end.width,
        takes=free,
        datum=-tail.beyond_nominal,
        outer=tail.beyond_nominal,
        origin=tail.beyond_nominal,
        form=end.form,
        from_joint=free,
        tongue=tail,
        row=tail,
        hole=size_hole(end.prong_of, job.shop, end.hole_diameter),
        end=end,
    )


def keeper_reach(job: Job, turn: TurnBack) -> Nm:
    """From the bar's axis to the far side of what holds the tip.

    That is a loose keeper pushed up to the fold's rivet or stitches, or the buckle's own frame.
    """
    if job.keeper or job.buckle is None:
        return turn.fold.bar_to_rivet - job.fold_half
    return job.buckle.bar_to_heel


def least_tip(job: Job, turn: TurnBack) -> Nm:
    """The shortest tip that passes what holds it at the loosest hole."""
    return keeper_reach(job, turn) + job.rules.tip_past_keeper
