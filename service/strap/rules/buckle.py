"""The buckle end: a buckle as wide as the strap, and a fold that leaves room for frame, keeper and prong."""

from collections.abc import Iterator
from math import pi

from service.shop.goods import Buckle, Nm
from service.strap.errors import Cure, Path
from service.strap.model.job import End, Job
from service.strap.model.loops import half_hold
from service.strap.model.pattern import Feature, Pattern, Piece, Purpose
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Placed, Rule
from service.strap.plane.bend import bend_allowance
from service.strap.plane.lengths import reading
from service.strap.rules.blame import BUCKLE, END_DISTANCE
from service.strap.rules.family import StrapFamily
from service.words import say

BUCKLE_NARROW = Code("buckle_narrow", "the buckle is narrower inside than the strap")
BUCKLE_WIDE = Code("buckle_wide", "the buckle is much wider inside than the strap")
FOLD_TOO_SHORT = Code("fold_too_short", "what holds the fold does not clear the buckle's frame")
KEEPER_ROOM_SHORT = Code("keeper_room_short", "the keeper has no room beside the buckle's frame")
PRONG_SLOT_SHORT = Code("prong_slot_short", "the prong's slot is too short for the prong to swing")
TONGUE_WIDE = Code("tongue_wide", "the tongue is wider than its buckle is inside")
TAIL_MEETS_BODY = Code("tail_meets_body", "the turned-back tail runs into the body's end")


def _buckle_wanted(job: Job) -> str:
    """What buckle a strap of this width takes."""
    width = job.strap_width
    least, most = reading(width, job.units), reading(width + job.rules.buckle_slack, job.units)
    return say(" A strap of {least} takes one of {least} to {most} inside.", least=least, most=most)


def _tongue_width(_measured: Measured, job: Job) -> Path:
    """Where the spec says how wide its tongue is."""
    foot, taper = job.spec.ends.foot, job.spec.body.taper
    if foot.kind == "billet":
        return ("ends", "foot", "taper", "to") if foot.taper else ("ends", "foot", "width")
    return ("body", "taper", "foot", "to") if taper and taper.foot else ("body", "width")


_WIDTHS = {"inside_width": "how wide the buckle is inside", "strap_width": "the width of the strap in it"}
_FOLD = {
    "reach": "from the bar's axis to what holds the fold, along the front ply",
    "half_hold": "half a rivet's cap, what a line of stitches keeps clear, or how far a fixed keeper reaches before it",
    "bar_to_heel": "from the bar's axis to the heel of the buckle's frame",
}

BUCKLE_WIDTH = Rule(
    name="buckle_width",
    meaning="Whether the strap goes through its buckle.",
    sense="least",
    sentence="The buckle is narrower inside than the strap by {found_abs}.",
    advice=_buckle_wanted,
    blames=(Blame(BUCKLE_NARROW, BUCKLE, Cure.OTHER_BUCKLE),),
    formula=Formula(found="inside_width - strap_width", limit="0", terms=_WIDTHS),
    source="geometry",
)
BUCKLE_SLACK = Rule(
    name="buckle_slack",
    meaning="How much wider than the strap a buckle is inside; in one that is too wide the strap wanders and "
    "looks lost.",
    sense="most",
    sentence="The buckle is wider inside than the strap by {found}; at most {limit} looks right.",
    advice=_buckle_wanted,
    blames=(Blame(BUCKLE_WIDE, BUCKLE, Cure.OTHER_BUCKLE),),
    formula=Formula(found="inside_width - strap_width", limit="buckle_slack", terms=_WIDTHS),
    source="common practice",
)
TONGUE_WIDTH = Rule(
    name="tongue_width",
    meaning="Whether the tongue goes through the buckle, where it is wider than the end that the buckle is on.",
    sense="least",
    sentence="The tongue is wider than its buckle is inside by {found_abs}.",
    blames=(Blame(TONGUE_WIDE, _tongue_width, Cure.TONGUE_WIDTH),),
    formula=Formula(
        found="inside_width - tongue_width",
        limit="0",
        terms={"inside_width": _WIDTHS["inside_width"], "tongue_width": "the width of the tongue"},
    ),
    source="geometry",
)
FOLD_REACH = Rule(
    name="fold_reach",
    meaning="How far from the bar the fold is held: the rivet or the seam has to clear the frame.",
    sense="least",
    sentence="What holds the fold lies {found} from the bar; to clear the frame it needs {limit}.",
    blames=(Blame(FOLD_TOO_SHORT, BUCKLE, Cure.OTHER_BUCKLE),),
    formula=Formula(found="reach", limit="bar_to_heel + half_hold", terms=_FOLD),
    source="geometry",
)
KEEPER_ROOM = Rule(
    name="keeper_room",
    meaning="How much room a loose keeper has between the frame and what holds the fold.",
    sense="least",
    sentence="Beside the frame the keeper has {found} of room; it needs {limit}.",
    overlap="The frame reaches {found_abs} beyond the keeper's place; the keeper needs {limit}.",
    blames=(Blame(KEEPER_ROOM_SHORT, BUCKLE, Cure.OTHER_BUCKLE),),
    formula=Formula(
        found="reach - half_hold - bar_to_heel",
        limit="loose * (keeper + hardware_clear)",
        terms={
            **_FOLD,
            "loose": "how many loose keepers there are",
            "keeper": "the width of the keeper's loop, along the strap",
        },
    ),
    source="geometry",
)
PRONG_SLOT_LENGTH = Rule(
    name="prong_slot_length",
    meaning="How long the prong's slot is: the prong has to swing freely half round the bar.",
    sense="least",
    sentence="The prong's slot is {found} long; to swing round the bar the prong needs {limit}.",
    blames=(Blame(PRONG_SLOT_SHORT, ("billet", "prong_slot"), Cure.PRONG_SLOT),),
    formula=Formula(
        found="slot",
        limit="pi * (bar / 2 + neutral_fraction * fold)",
        terms={
            "slot": "the length of the slot, over all",
            "bar": "how thick the buckle's bar is, or the roller on it",
            "fold": "how thick the leather is where it is folded",
        },
    ),
    source="Machinery's Handbook 26: bend allowance of half a turn",
)
TAIL_GAP = Rule(
    name="tail_gap",
    meaning="How far before the body's end the turned-back tail ends, so that both lie flat under the billet.",
    sense="least",
    sentence="The turned-back tail ends {found} before the body's end; {limit} is the least.",
    overlap="The turned-back tail runs {found_abs} past the body's end.",
    blames=(Blame(TAIL_MEETS_BODY, END_DISTANCE, Cure.TAIL),),
    formula=Formula(
        found="body - tail",
        limit="tail_gap",
        terms={"body": "from the bar to the body's end, made up", "tail": "from the bar to the tail's end, made up"},
    ),
    source="geometry",
)


def bar_to_hold(pattern: Pattern, end: End, *, is_foot: bool = False) -> tuple[Nm, Placed]:
    """What holds an end's fold on the front ply nearest the bar, a rivet or stitches, and how far from its axis."""
    piece, fold = _fold_line(pattern, end, is_foot=is_foot)
    ply = max((p for p in pattern.placements if p.piece == piece.name), key=lambda p: p.layer)
    finished = pattern.finished
    inwards, bar = (-1, finished.foot_at.bar) if is_foot else (1, finished.head_at.bar)
    stitched = [line for line in piece.stitch_lines if line.purpose == "fold_stitch"]
    if stitched:
        line = stitched[-1 if is_foot else 0]
        return min(inwards * (ply.offset + x - bar) for x, _ in line.points), line
    rivets = [f for f in piece.features if f.purpose == "fold_rivet" and ply.from_x <= f.x <= ply.to_x]
    nearest = min(rivets, key=lambda feature: inwards * feature.x, default=fold)
    return inwards * (ply.offset + nearest.x - bar), nearest


def half_held(job: Job, end: End) -> Nm:
    """How far what holds an end's fold reaches towards the bar."""
    hold = end.outermost.hold
    return half_hold(hold, end.loops, job.rules) if hold else 0


def holder(pattern: Pattern, job: Job, buckle: Buckle) -> Nm:
    """From the bar to the far side of what holds the tip: a keeper, or without one the frame's heel."""
    if not job.keeper:
        return buckle.bar_to_heel
    reach, _ = bar_to_hold(pattern, job.head)
    loops = job.head.loops
    return reach + loops.behind() if loops and loops.fixed else reach - half_held(job, job.head)


def _fold_line(pattern: Pattern, end: End, *, is_foot: bool) -> tuple[Piece, Feature]:
    piece = next(piece for piece in pattern.pieces if piece.name == (end.billet_name or pattern.pieces[0].name))
    folds = [each for each in piece.features if each.purpose == "fold_line"]
    return piece, folds[-1 if is_foot else 0]


def with_purpose(pattern: Pattern, purpose: Purpose) -> tuple[Piece, Feature]:
    """The first piece that has a feature of this purpose, and that feature."""
    return next((p, f) for p in pattern.pieces for f in p.features if f.purpose == purpose)


def _buckle_end(pattern: Pattern, job: Job) -> Iterator[Measured]:
    for end, is_foot in ((job.head, False), (job.foot, True)):
        if end.buckle:
            yield from _buckle(pattern, job, end, end.buckle, is_foot=is_foot)
        yield from _tail(pattern, job, end, is_foot=is_foot)


def _buckle(pattern: Pattern, job: Job, end: End, buckle: Buckle, *, is_foot: bool) -> Iterator[Measured]:
    rules = job.rules
    kinds: tuple[Kind, ...] = ("buckle", "foot") if is_foot else ("buckle",)
    room = buckle.inside_width - end.outer_width
    yield BUCKLE_WIDTH.measured(room, 0, kinds=kinds)
    if not is_foot and job.is_buckled and job.foot.outer_width > end.outer_width:
        yield TONGUE_WIDTH.measured(buckle.inside_width - job.foot.outer_width, 0, kinds=("buckle",))
    yield BUCKLE_SLACK.measured(room, rules.buckle_slack, kinds=kinds)
    reach, hold = bar_to_hold(pattern, end, is_foot=is_foot)
    about: tuple[Kind, ...] = (hold.purpose, "foot") if is_foot else ()
    half = half_held(job, end)
    yield FOLD_REACH.measured(reach, buckle.bar_to_heel + half, hold, kinds=about)
    if end.loops and end.loops.loose:
        beside = reach - half - buckle.bar_to_heel
        yield KEEPER_ROOM.measured(beside, end.loops.room(rules), hold, kinds=about)
    if end.prong_slot is not None:
        piece, _ = _fold_line(pattern, end, is_foot=is_foot)
        slot = [each for each in piece.features if each.purpose == "prong_slot"][-1 if is_foot else 0]
        turn = bend_allowance(pi, buckle.folded_round // 2, job.fold_thickness, rules.neutral_fraction)
        yield PRONG_SLOT_LENGTH.measured(slot.long, turn, slot, kinds=("prong_slot", "foot") if is_foot else ())


def _tail(pattern: Pattern, job: Job, end: End, *, is_foot: bool) -> Iterator[Measured]:
    """How far a folded billet's tail ends before the body's end."""
    if not end.is_billet or (end.buckle is None and end.ring is None):
        return
    piece, _ = _fold_line(pattern, end, is_foot=is_foot)
    body = next(ply for ply in pattern.placements if ply.piece == "body" and ply.direction == 1)
    tail = next(ply for ply in pattern.placements if ply.piece == piece.name and ply.direction == -1)
    _, hold = bar_to_hold(pattern, end, is_foot=is_foot)
    gap = body.offset - tail.offset
    if is_foot:
        gap = tail.offset - piece.length - body.offset - pattern.pieces[0].length
    yield TAIL_GAP.measured(gap, job.rules.tail_gap, hold)


BUCKLE_END = StrapFamily(
    rules=(BUCKLE_WIDTH, TONGUE_WIDTH, BUCKLE_SLACK, FOLD_REACH, KEEPER_ROOM, PRONG_SLOT_LENGTH, TAIL_GAP),
    measure=_buckle_end,
)
