"""The tongue end: size holes, and tip enough to pass the keeper at the loosest hole."""

from dataclasses import replace

from service.shop.goods import Buckle, Nm
from service.strap.ends.shapes import buckle_for, tip_form
from service.strap.model.end_measures import Tongue, TurnBack
from service.strap.model.filled_ends import FilledHoles, FilledTip
from service.strap.model.hardware import Cut, size_hole
from service.strap.model.job import End, Job, Laid
from service.strap.model.kind import Kind, Making, Unsaid, Words
from service.strap.model.pattern import Feature
from service.strap.model.side import Side
from service.strap.model.spec import StrapEnd
from service.strap.plane.outline import EndForm
from service.strap.plane.spacing import nearest, round_up
from service.values import dataclass
from service.words import say, say_count


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
        """Lengths are measured to the middle size hole, where the strap is buckled, else to the tip's end."""
        turn = opposite.outermost.turn if opposite else None
        hole = size_hole(self.prong_of, job.shop, self.hole_diameter)
        return _laid(job, self, self._tongue(job, turn), hole)

    def _tongue(self, job: Job, turn: TurnBack | None) -> Tongue:
        """The tip is as long as the spec says; else the shop's number of strap widths, and never less than the least.

        What the shop settles is rounded up to a graduation.
        """
        least = least_tip(job, turn) if turn and job.is_buckled else job.rules.tip_past_keeper
        usual = max(round(self.width * job.rules.tip_widths), least)
        tip = round_up(usual, job.grid) if self.tip_length is None else self.tip_length
        return Tongue(count=self.count, spacing=self.spacing, tip=tip, prongs=len(self.prong_of.prong_places))


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidTip(Laid):
    """A tongue laid out: the row ends the shop's distance before the first size hole."""

    holes: Tongue
    hole: Cut
    end: TipEnd

    @property
    def tongue(self) -> Tongue:
        """It always is one."""
        return self.holes

    def settle(self, job: Job, asked: Nm) -> tuple[Nm, Laid]:
        """The strip's length, and the tongue with what a ruler leaves over in its tip.

        A strip of a given length keeps it, and a finished length its hole; a girth's hole goes to the nearest
        graduation. A tip of a given length takes nothing up.
        """
        if not job.is_buckled:
            return asked, self
        size, tail = job.spec.size, self.holes
        over = job.grid if self.end.tip_length is None else 1
        hole = asked - tail.beyond_nominal
        if size.girth is not None:
            hole = nearest(hole, job.grid)
        elif size.body_length is not None:
            hole = hole // over * over
        length = asked if size.body_length is not None else round_up(hole + tail.beyond_nominal, over)
        return length, _laid(job, self.end, replace(tail, tip=length - hole - (tail.row - tail.to_nominal)), self.hole)

    def features(self, _job: Job, side: Side) -> list[Feature]:
        """The size holes; the first is the nearest to the body, and has the least number. A second prong's follow."""
        tail, first = self.holes, self.holes.tip + self.holes.row
        return [
            Feature(
                id=f"{side.piece}.size_hole.{side.first_hole + row * tail.count + n}", kind="hole", action="punch",
                purpose="size_hole", x=side.at(first - n * tail.spacing), y=y,
                diameter=self.hole.length, tool=self.hole.tool,
            )
            for row, y in enumerate(self.end.prong_of.prong_places)
            for n in range(tail.count)
        ]  # fmt: skip


def _laid(job: Job, end: TipEnd, tail: Tongue, hole: Cut) -> LaidTip:
    free, clear = tail.tip + tail.row + job.rules.first_size_hole, job.rules.hardware_clear
    beyond = tail.beyond_nominal if job.is_buckled else 0  # a strap that is not buckled is measured to its ends
    return LaidTip(
        anchor=free,
        keep=clear,
        border=free + clear,
        guard=end.width,
        takes=free,
        datum=-beyond,
        outer=beyond,
        origin=beyond,
        form=end.form,
        from_joint=free,
        holes=tail,
        hole=hole,
        end=end,
    )


def keeper_reach(job: Job, turn: TurnBack) -> Nm:
    """From the bar's axis to the far side of what holds the tip.

    That is the fixed keeper nearest to the bar, or else a loose one pushed up to the fold's rivet or stitches, or the
    buckle's own frame.
    """
    if turn.loops and turn.loops.fixed:
        return turn.fold.bar_to_rivet + turn.loops.behind()
    if job.keeper or job.buckle is None:
        return turn.fold.bar_to_rivet - turn.hold.half(job.rules)
    return job.buckle.bar_to_heel


def least_tip(job: Job, turn: TurnBack) -> Nm:
    """The shortest tip that passes what holds it at the loosest hole."""
    return keeper_reach(job, turn) + job.rules.tip_past_keeper


def _fill_tip(end: StrapEnd, unsaid: Unsaid) -> FilledTip:
    shape, depth = tip_form(end, unsaid.width, unsaid.shop)
    holes, defaults = end.size_holes, unsaid.defaults
    return FilledTip(
        kind="tip",
        shape=shape,
        depth=depth,
        size_holes=FilledHoles(
            count=holes.count or defaults.size_holes,
            spacing=holes.spacing or defaults.size_hole_spacing,
            diameter=holes.diameter,
        ),
        tip_length=end.tip_length,
    )


def _make_tip(end: FilledTip, making: Making) -> TipEnd:
    """It fits the buckle that the strap has, or else one that its width takes."""
    shop, holes = making.shop, end.size_holes
    return TipEnd(
        place=making.place,
        width=making.width,
        form=end.form,
        prong_of=making.buckle or shop.buckles[buckle_for(making.width, shop)],
        count=holes.count,
        spacing=holes.spacing,
        hole_diameter=holes.diameter,
        tip_length=end.tip_length,
    )


def _tip_ordered(end: FilledTip, words: Words) -> str:
    beyond = say("; {tip_length} from the last hole", tip_length=words.read(end.tip_length)) if end.tip_length else ""
    holes = end.size_holes
    apart = say(", {spacing} apart", spacing=words.read(holes.spacing)) if holes.count > 1 else ""
    return say(
        "tip, {shape}{beyond}; size holes: {count}{apart}",
        shape=words.shape(end.form),
        beyond=beyond,
        count=holes.count,
        apart=apart,
    )


def _tip_seen(end: FilledTip, _words: Words) -> str:
    count = end.size_holes.count
    return say_count("a tip with {count} size hole", "a tip with {count} size holes", count)


TIP = Kind(
    name="tip",
    filled=FilledTip,
    title="tip",
    members=("size_holes", "tip_length"),
    tells=("size_holes", "tip_length"),
    fill=_fill_tip,
    make=_make_tip,
    ordered=_tip_ordered,
    seen=_tip_seen,
)
