"""The tongue end: room before its first hole, tip enough beyond its last, and a tip that can lie down."""

from collections.abc import Iterator

from service.shop.figures import OwnLength
from service.shop.goods import Buckle, Nm
from service.strap.ends.tip import TipEnd
from service.strap.errors import Cure, Path
from service.strap.model.job import End, Job
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.model.places import shape_path
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Placed, Rule, of
from service.strap.rules.blame import BUCKLE, ROW, item
from service.strap.rules.buckle import holder, with_purpose
from service.strap.rules.family import StrapFamily
from service.strap.rules.rings import RING_NARROW
from service.strap.rules.webs import ORNAMENTS_CROWDED
from service.strap.rules.worn import Closure, Under, closures_of, under_tip

FIRST_SIZE_HOLE_NEAR = Code("first_size_hole_near", "the buckle's frame would ride on what lies before the first hole")
TIP_SHORT = Code("tip_short", "the tip does not pass what holds it")
TIP_TOO_DEEP = Code("tip_too_deep", "the last size hole lies where the strap begins to narrow to its tip")
TIP_ON_ORNAMENT = Code("tip_on_ornament", "buckled at the middle hole, the tip lies on what stands up")


def _is_short_by_request(_measured: Measured, job: Job) -> bool:
    return job.billet.tip_length is not None


def _tip_of(measured: Measured, job: Job) -> End:
    return (job.head if "head" in measured.kinds else job.foot).outermost


def _is_tip_of_length(measured: Measured, job: Job) -> bool:
    end = _tip_of(measured, job)
    return isinstance(end, TipEnd) and end.tip_length is not None


def _tip_length(measured: Measured, job: Job) -> Path:
    return (*_tip_of(measured, job).place, "tip_length")


def _tip_depth(measured: Measured, job: Job) -> Path:
    return shape_path(_tip_of(measured, job).place, "depth")


FIRST_SIZE_HOLE = Rule(
    name="first_size_hole",
    meaning="How much of the tongue is free before its first size hole: buckled there, the frame must not "
    "ride on a cap.",
    sense="least",
    sentence="Before the first size hole {found} is free; the buckle's frame needs {limit} there.",
    blames=(Blame(FIRST_SIZE_HOLE_NEAR, BUCKLE, Cure.FIRST_SIZE_HOLE),),
    formula=Formula(
        found="first - before - half_cap",
        limit="bar_to_frame + hardware_clear",
        terms={
            "first": "from the head of the piece to the first size hole",
            "before": "from the head of the piece to what stands before it",
            "half_cap": "half of what that covers",
            "bar_to_frame": "from the bar's axis to the far side of the buckle's frame",
        },
    ),
    source="geometry",
)
TONGUE_REACH = Rule(
    name="tongue_reach",
    meaning="How much tip there is beyond the last size hole: buckled there, it has to pass the keeper.",
    sense="least",
    sentence="Beyond the last size hole there is {found} of tip; to pass the keeper it needs {limit}.",
    blames=(
        Blame(TIP_SHORT, ("billet", "tip_length"), Cure.TIP_LENGTH, when=_is_short_by_request),
        Blame(TIP_SHORT, BUCKLE, Cure.OTHER_BUCKLE),
    ),
    formula=Formula(
        found="length - last",
        limit="holder + tip_past_keeper",
        terms={
            "length": "the length of the piece",
            "last": "from the head of the piece to the last size hole",
            "holder": "from the bar to the far side of the keeper's place, or without one to the frame's heel",
        },
    ),
    source="common practice",
)
TIP_WEB = OwnLength(
    "tip_web",
    meaning="the least leather of full width between the last size hole and where the tip begins to narrow",
    usual=3_000_000,
    zero=True,
)
TIP_DEPTH = Rule(
    name="tip_depth",
    meaning="Whether the last size hole has leather of full width behind it, before the tip begins to narrow.",
    sense="least",
    sentence="Beyond the last size hole there is {found} of tip; with so deep a shape it needs {limit}.",
    blames=(
        Blame(TIP_TOO_DEEP, _tip_length, Cure.TIP_LENGTH, when=_is_tip_of_length),
        Blame(TIP_TOO_DEEP, _tip_depth, Cure.SHALLOWER_ENDS),
    ),
    figure=TIP_WEB,
    formula=Formula(
        found="tip",
        limit="depth + radius + tip_web",
        terms={
            "tip": "from the last size hole to the end of the tip",
            "depth": "from where the tip begins to narrow to its end",
            "radius": "half the diameter of the hole",
        },
    ),
    source="from memory",
)
TIP_CLEAR = Rule(
    name="tip_clear",
    meaning="How far the tip stays off what stands up on the strap, buckled at the middle hole; on a bell it "
    "cannot lie down.",
    sense="least",
    sentence="Buckled at the middle hole, the tip keeps {found} off {what}.",
    overlap="Buckled at the middle hole, the tip comes to lie {found_abs} over {what}, and cannot lie down there.",
    blames=(
        Blame(TIP_ON_ORNAMENT, ("billet", "ring"), Cure.TIP_THROUGH_RING, when=of("lead")),
        Blame(TIP_ON_ORNAMENT, ROW, Cure.TIP_OFF_ORNAMENT, when=of("ornament")),
        Blame(TIP_ON_ORNAMENT, item, Cure.TIP_OFF_ORNAMENT),
    ),
    unless=(ORNAMENTS_CROWDED, RING_NARROW),
    formula=Formula(
        found="drawn_back - over",
        limit="0",
        terms={
            "drawn_back": "from the tightest hole to the middle one",
            "over": "how far the tip reaches past the near rim when buckled at the tightest hole",
        },
    ),
    source="geometry",
)


def _tongue_ends(pattern: Pattern, job: Job) -> Iterator[Measured]:
    closing = job.buckle if job.is_buckled else None
    if closing:
        yield from _closed(pattern, job, closing)
    yield from _tip_depths(pattern, job)
    for closure in closures_of(pattern, job):
        yield from _tip(pattern, closure, job)


def _closed(pattern: Pattern, job: Job, buckle: Buckle) -> Iterator[Measured]:
    """The tongue in its buckle: the frame before its first hole, the keeper behind its last."""
    piece, first = with_purpose(pattern, "size_hole")
    last = max(_size_holes(piece), key=lambda hole: hole.x)
    reach, before = _before(piece, first)
    clear = first.x - reach
    yield FIRST_SIZE_HOLE.measured(clear, buckle.bar_to_frame + job.rules.hardware_clear, before, first)
    yield TONGUE_REACH.measured(piece.length - last.x, holder(pattern, job, buckle) + job.rules.tip_past_keeper, last)


def _before(piece: Piece, first: Feature) -> tuple[Nm, Placed]:
    """What lies before the first size hole, a rivet, a hole or a seam, and how far it reaches."""
    features = (f for f in piece.features if f.x < first.x and f.purpose != "fold_line")
    found: list[tuple[Nm, Placed]] = [(f.x + f.footprint // 2, f) for f in features]
    seams = (line for line in piece.stitch_lines if line.purpose == "joint_stitch")
    found += [(max(x for x, _ in line.points), line) for line in seams]
    return max(found, key=lambda each: each[0], default=(0, first))


def _tip_depths(pattern: Pattern, job: Job) -> Iterator[Measured]:
    """Each tip behind its last size hole, whether it has a buckle on this strap or on another."""
    if isinstance(job.head.outermost, TipEnd):
        piece = _outermost_piece(pattern, job.head)
        last = min(_size_holes(piece), key=lambda hole: hole.x)
        yield _full_width(job, last, last.x, piece.outline.head_depth, ("size_hole", "head"))
    if isinstance(job.foot.outermost, TipEnd):
        piece = _outermost_piece(pattern, job.foot)
        last = max(_size_holes(piece), key=lambda hole: hole.x)
        yield _full_width(job, last, piece.length - last.x, piece.outline.foot_depth, ("size_hole",))


def _full_width(job: Job, last: Feature, tip: Nm, depth: Nm, kinds: tuple[Kind, ...]) -> Measured:
    return TIP_DEPTH.measured(tip, depth + last.across // 2 + job.rules.of(TIP_WEB), last, kinds=kinds)


def _outermost_piece(pattern: Pattern, end: End) -> Piece:
    name = end.billet_name or pattern.pieces[0].name
    return next(piece for piece in pattern.pieces if piece.name == name)


def _size_holes(piece: Piece) -> list[Feature]:
    return [feature for feature in piece.features if feature.purpose == "size_hole"]


def _tip(pattern: Pattern, closure: Closure, job: Job) -> Iterator[Measured]:
    """How far the tip, at the middle hole, keeps off what is raised; only what it reaches at the tightest is measured.

    One measure for each kind of thing: the one that it lies on farthest.
    """
    drawn_back = closure.reaches[0] - closure.reaches[(len(closure.reaches) - 1) // 2]
    worst: dict[tuple[Kind, str], Under] = {}
    for each in under_tip(pattern, closure, job):
        key: tuple[Kind, str] = (each.feature.purpose if each.feature else "lead", each.item)
        if each.lies == "raised" and (key not in worst or each.over > worst[key].over):
            worst[key] = each
    for (kind, _), each in worst.items():
        places = (each.feature,) if each.feature else ()
        yield TIP_CLEAR.measured(drawn_back - each.over, 0, *places, kinds=(kind,))


TONGUE_END = StrapFamily(rules=(FIRST_SIZE_HOLE, TONGUE_REACH, TIP_DEPTH, TIP_CLEAR), measure=_tongue_ends)
