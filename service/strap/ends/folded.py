"""An end that is folded round a buckle's bar or round a ring."""

from collections.abc import Iterator
from dataclasses import replace

from service.shop.goods import Buckle, Nm, Ring
from service.strap.ends.shapes import buckle_for, end_form
from service.strap.ends.turn_back import (
    Tail,
    buckle_turn_back,
    fold_line,
    stitch_from,
    tail_of,
    turn_back_features,
    turn_back_round,
    with_ring,
)
from service.strap.model.end_measures import TurnBack
from service.strap.model.filled_ends import FilledBuckle, FilledEnd, FilledRing
from service.strap.model.holding import Holding
from service.strap.model.job import End, Job, Laid
from service.strap.model.kind import Kind, Making, Unsaid, Words
from service.strap.model.loops import Loops
from service.strap.model.pattern import FIXED_KEEPERS, Feature
from service.strap.model.side import Side
from service.strap.model.spec import Keeper, StrapEnd
from service.strap.model.stitch_line import StitchLine
from service.strap.model.two_ends import FOOT
from service.strap.plane.outline import EndForm
from service.values import dataclass
from service.words import say, say_count, say_list


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedEnd(End):
    """An end that is turned back, on the body or on a billet, and what holds it."""

    on_billet: bool
    holding: Holding

    @property
    def hold(self) -> Holding:
        """What holds its fold."""
        return self.holding

    def tail(self, job: Job) -> Tail:
        """What is turned back, past what holds it first."""
        return tail_of(job, self.holding, self.loops, on_billet=self.on_billet)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuckleEnd(FoldedEnd):
    """An end with a buckle, whose prong goes through a slot in the fold.

    `slot` is the length of that slot where it was asked for, `kept` are its keepers if there are any, `tag_ring`
    what is set between the first two rivets of the fold, or in its seam.
    """

    held: Buckle
    slot: Nm | None
    kept: Loops | None
    tag_ring: Ring | None

    @property
    def buckle(self) -> Buckle:
        """The buckle."""
        return self.held

    @property
    def loops(self) -> Loops | None:
        """Its keepers."""
        return self.kept

    @property
    def prong_slot(self) -> Nm | None:
        """As long as was asked for."""
        return self.slot

    @property
    def collar_ring(self) -> Ring | None:
        """The ring in the fold, if there is one."""
        return self.tag_ring

    def lay(self, job: Job, _opposite: Laid | None = None) -> "LaidFold":
        """Lengths are measured to the bar's axis, and made up from there."""
        tail = self.tail(job)
        if self.tag_ring:
            tail = with_ring(job, tail, self.tag_ring, on_billet=self.on_billet)
        turn = buckle_turn_back(job, self.held, self.width, self.slot, tail)
        return laid_fold(job, self, turn, ("square", 0), frame_edge=self.held.bar_to_frame)


@dataclass(frozen=True, slots=True, kw_only=True)
class RingEnd(FoldedEnd):
    """An end that is folded round a ring."""

    form: EndForm
    held: Ring

    @property
    def ring(self) -> Ring:
        """The ring."""
        return self.held

    def lay(self, job: Job, _opposite: Laid | None = None) -> "LaidFold":
        """Lengths are measured to the ring's axis in the fold; made up, a strap begins at the fold's outer edge."""
        turn = turn_back_round(job, self.held.thickness, self.tail(job))
        return laid_fold(
            job, self, turn, self.form,
            frame_edge=self.held.reach, origin=turn.fold.outer_edge, depth=self.form[1], spare=job.end_distance,
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidFold(Laid):
    """An end that is turned back: the row begins where its tail lands."""

    bent: TurnBack
    width: Nm

    @property
    def turn(self) -> TurnBack:
        """It always is."""
        return self.bent

    def drawn_back(self, job: Job, by: Nm) -> "Laid | None":
        """With so much less tail, if enough is left to hold its rivet."""
        turn = replace(self.bent, tail=self.bent.tail - by)
        if turn.tail < job.rules.end_distance or turn.gap:
            return None
        from_joint = _joint_past(job, turn)
        return replace(self, bent=turn, datum=turn.bar_offset, from_joint=from_joint)

    def features(self, _job: Job, side: Side) -> list[Feature]:
        """Fold line, prong slot and rivets."""
        return turn_back_features(self.bent, side)

    def stitch_from(self, job: Job) -> Nm | None:
        """Behind what is turned back."""
        return stitch_from(job, self.bent)

    def stitches(self, job: Job, side: Side) -> Iterator[StitchLine]:
        """The lines that hold the fold, where it is stitched."""
        return fold_line(job, self.bent, self.form, self.width, side)


def laid_fold(
    job: Job,
    end: End,
    turn: TurnBack,
    form: EndForm,
    *,
    frame_edge: Nm,
    origin: Nm = 0,
    depth: Nm = 0,
    spare: Nm = 0,
) -> LaidFold:
    """An end that is turned back so, measured to the axis of what it goes round."""
    clear = job.rules.hardware_clear
    return LaidFold(
        anchor=turn.landing,
        keep=clear,
        border=turn.landing + clear,
        guard=end.width,
        takes=turn.landing,
        depth=depth,
        spare=spare,
        datum=turn.bar_offset,
        fold_edge=turn.fold.outer_edge,
        frame_edge=frame_edge,
        outer=frame_edge,
        origin=origin,
        form=form,
        from_joint=_joint_past(job, turn),
        bent=turn,
        width=end.width,
    )


def _joint_past(job: Job, turn: TurnBack) -> Nm:
    """From a billet's outer end to the first rivet of its joint, behind those of its fold, or its longer seam."""
    if turn.gap:
        return turn.landing + job.rules.tail_gap + job.end_distance
    return turn.front + (turn.count - 1) * turn.spacing + job.rules.first_fold_rivet


def _fill_buckle(end: StrapEnd, unsaid: Unsaid) -> FilledBuckle:
    buckle = end.buckle or buckle_for(unsaid.width, unsaid.shop)
    known = unsaid.shop.buckles.get(buckle)
    usual: Keeper = "loose" if known and known.needs_keeper else "none"
    return FilledBuckle(
        kind="buckle",
        shape=end.shape,
        depth=end.depth,
        ring=end.ring,
        buckle=buckle,
        prong_slot=end.prong_slot,
        keeper=end.keeper or usual,
        keeper_width=end.keeper_width,
        hold=end.hold,
    )


def _make_buckle(end: FilledBuckle, making: Making) -> BuckleEnd:
    return BuckleEnd(
        place=making.place,
        width=making.width,
        on_billet=making.on_billet,
        holding=making.holds.of_fold(end.hold),
        held=making.shop.buckles[end.buckle],
        slot=end.prong_slot,
        kept=_loops(end, making),
        tag_ring=making.shop.rings[end.ring] if end.ring else None,
    )


def _loops(end: FilledBuckle, making: Making) -> Loops | None:
    if not end.keepers:
        return None
    return Loops(
        width=end.keeper_width or making.rules.keeper_width,
        loose=end.keepers.count("loose"),
        fixed=end.keepers.count("fixed"),
        piece=FIXED_KEEPERS[making.place[:2] == FOOT],
        hold=making.holds.of_kept_fold(end.hold),
    )


def held(end: FilledEnd) -> str:
    """What holds it, where that was said."""
    return say(", held by {hold}", hold=end.hold) if end.hold else ""


def kept_words(keepers: tuple[Keeper, ...]) -> str:
    """`a keeper`, or `2 fixed keepers`, or `a keeper and a fixed keeper`."""
    told = (("loose", "a keeper", "{count} keepers"), ("fixed", "a fixed keeper", "{count} fixed keepers"))
    counts = ((one, many, sum(each == how for each in keepers)) for how, one, many in told)
    return say_list(say_count(one, many, count) for one, many, count in counts if count)


def _buckle_ordered(end: FilledBuckle, words: Words) -> str:
    keeper = say(", with {keepers}", keepers=kept_words(end.keepers)) if end.keepers else ""
    return (
        words.title(end.buckle)
        + held(end)
        + keeper
        + (say(", and {ring}", ring=words.title(end.ring)) if end.ring else "")
    )


def _buckle_seen(end: FilledBuckle, words: Words) -> str:
    keeper = say(" and {keepers} of leather", keepers=kept_words(end.keepers)) if end.keepers else ""
    return say("folded round a {buckle}{keeper}", buckle=words.title(end.buckle), keeper=keeper)


def _fill_ring(end: StrapEnd, unsaid: Unsaid) -> FilledRing:
    shape, depth = end_form(end, "square", unsaid.width)
    ring = end.ring or unsaid.defaults.ring
    return FilledRing(kind="ring", shape=shape, depth=depth, ring=ring, hold=end.hold)


def _make_ring(end: FilledRing, making: Making) -> RingEnd:
    return RingEnd(
        place=making.place,
        width=making.width,
        on_billet=making.on_billet,
        holding=making.holds.of_fold(end.hold),
        form=end.form,
        held=making.shop.rings[end.ring],
    )


BUCKLE = Kind(
    name="buckle",
    filled=FilledBuckle,
    title="buckle",
    members=("buckle", "prong_slot", "keeper", "keeper_width", "ring", "hold"),
    tells=("buckle",),
    fill=_fill_buckle,
    make=_make_buckle,
    ordered=_buckle_ordered,
    seen=_buckle_seen,
)
RING = Kind(
    name="ring",
    filled=FilledRing,
    title="ring",
    members=("ring", "hold"),
    tells=("ring",),
    fill=_fill_ring,
    make=_make_ring,
    ordered=lambda end, words: say("folded round {ring}", ring=words.title(end.ring)) + held(end),
    seen=lambda end, words: say("folded round a {ring}", ring=words.title(end.ring)),
)
