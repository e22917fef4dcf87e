"""Lines of stitches against edges, cuts and what is set on the strap: as lines, never hole by hole.

A line along the edges lies at its inset from the outline, so that a thing's distance from it is told by its distance
from the outline. The work grows with the features and not with the stitches.
"""

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from itertools import pairwise

from service.shop.figures import OwnLength
from service.shop.goods import Nm
from service.strap.errors import Cure
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule, among, of
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.strap.plane.edges import edge_distance
from service.strap.plane.geometry import Capsule, disc, gap
from service.strap.plane.outline import Outline, Point, uncut
from service.strap.rules.blame import END_DISTANCE
from service.strap.rules.family import PieceFamily
from service.strap.rules.surface import Shape, Surface

STITCHES_NEAR_EDGE = Code("stitches_near_edge", "a line of stitches lies too near the edge")
STITCHES_NEAR_CUT = Code("stitches_near_cut", "a hole or slot leaves too little leather to a line of stitches")
STITCHES_CROWDED = Code("stitches_crowded", "what is set on the strap lies too near a line of stitches")
STITCHES_WITHOUT_ROOM = Code("stitches_without_room", "inside its inset a line of stitches has no room for one stitch")
STITCHED_FOLD_SHORT = Code("stitched_fold_short", "a stitched fold is too short to hold")
STITCHED_JOINT_SHORT = Code("stitched_joint_short", "a billet is sewn to the body over too little of its length")

_INSET = ("stitching", "inset")
_TURN_BACK = ("stitching", "turn_back")
_ALONG_EDGES = among("edge_stitch")


def _crowded(code: Code) -> tuple[Blame, ...]:
    return (
        Blame(code, _INSET, Cure.STITCHES_CLEAR, when=_ALONG_EDGES),
        Blame(code, _TURN_BACK, Cure.STITCH_ROOM),
    )


STITCH_EDGE = Rule(
    name="stitch_edge",
    meaning="How far a line of stitches lies inside the edge; nearer than that the thread cuts its way out.",
    sense="least",
    sentence="From {what} to the edge there is {found}; {limit} is the least.",
    blames=(
        Blame(STITCHES_NEAR_EDGE, _INSET, Cure.STITCH_INSET, when=of("edge_stitch", "splice_stitch")),
        Blame(STITCHES_NEAR_EDGE, _TURN_BACK, Cure.STITCH_INSET),
    ),
    formula=Formula(
        found="depth",
        limit="stitch_edge",
        terms={"depth": "from the line to the outline, and of a stitched fold to that of the tail beneath it too"},
    ),
    source="common practice",
)
STITCH_WEB = Rule(
    name="stitch_web",
    meaning="How much leather stays between a line of stitches and a hole or slot; with less the holes run "
    "into one another.",
    sense="least",
    sentence="Between {what} {found} of leather would stay; {limit} is the least.",
    overlap="{What} run into each other by {found_abs}; {limit} of leather must stay.",
    blames=_crowded(STITCHES_NEAR_CUT),
    formula=Formula(
        found="apart - radius",
        limit="stitch_web",
        terms={"apart": "from the line to the middle line of the cut", "radius": "half the width of the cut"},
    ),
    source="common practice",
)
STITCH_CLEAR = Rule(
    name="stitch_clear",
    meaning="How far a line of stitches stays off what is set on the strap, so that needle and foot pass beside it.",
    sense="least",
    sentence="Between {what} there is {found}; {limit} is the least.",
    overlap="{What} overlap by {found_abs}; {limit} between them is the least.",
    blames=_crowded(STITCHES_CROWDED),
    formula=Formula(
        found="apart - radius",
        limit="stitch_clear",
        terms={"apart": "from the line to the middle of what is set", "radius": "half the diameter of what is set"},
    ),
    source="common practice",
)
STITCH_ROOM = Rule(
    name="stitch_room",
    meaning="Whether inside its inset there is room for a line of stitches at all: one stitch along, and one across.",
    sense="least",
    sentence="Inside the inset {found} is left for {what}; one stitch alone takes {limit}.",
    overlap="The inset leaves {found_abs} less than nothing for {what}; one stitch alone takes {limit}.",
    blames=(
        Blame(STITCHES_WITHOUT_ROOM, _INSET, Cure.STITCH_ROOM, when=_ALONG_EDGES),
        Blame(STITCHES_WITHOUT_ROOM, _TURN_BACK, Cure.STITCH_ROOM),
    ),
    formula=Formula(
        found="min(along, across)",
        limit="pitch",
        terms={
            "along": "how far the lines reach along the piece, of a stitched fold without end",
            "across": "how far the lines reach across the piece",
            "pitch": "from one hole to the next, as it was asked for",
        },
    ),
    source="geometry",
)
STITCHED_FOLD = Rule(
    name="stitched_fold",
    meaning="How far a fold is sewn along the strap; a few stitches do not hold a buckle or a ring.",
    sense="least",
    sentence="The fold is stitched over {found} of its length; it holds from {limit} on.",
    blames=(Blame(STITCHED_FOLD_SHORT, END_DISTANCE, Cure.STITCHED_FOLD),),
    formula=Formula(
        found="along",
        limit="stitched_fold",
        terms={"along": "how far the stitches of the fold reach along the strap; nothing where a fold has none"},
    ),
    source="common practice",
)

JOINT_SEWN = OwnLength(
    "stitched_joint",
    meaning="the least length along the strap over which a billet is sewn to the body",
    usual=25_400_000,
)
STITCHED_JOINT = Rule(
    name="stitched_joint",
    meaning="How far a billet is sewn to the body; a shorter seam gives way before the leather does.",
    sense="least",
    sentence="The billet is sewn on over {found} of its length; it holds from {limit} on.",
    blames=(Blame(STITCHED_JOINT_SHORT, END_DISTANCE, Cure.STITCHED_FOLD),),
    figure=JOINT_SEWN,
    formula=Formula(
        found="along",
        limit="stitched_joint",
        terms={"along": "how far the stitches of the joint reach along the strap; nothing where they have no room"},
    ),
    source="from memory",
)


def _stitches(surface: Surface) -> Iterator[Measured]:
    """Their room, their edge, what is cut and set near them."""
    piece, job = surface.piece, surface.job
    if not job.stitching:
        return
    yield from _edge_room(piece, job)
    yield from _fold_room(piece, job)
    yield from _joint_room(piece, job)
    covers = [*surface.kept_inside, *surface.caps]
    for line in piece.stitch_lines:
        if line.purpose == "splice_stitch":
            continue  # its lap lies where nothing is: see `rules.splices`
        distance = _from_edges(line, piece) if line.purpose == "edge_stitch" else _from_chords(line)
        yield STITCH_EDGE.measured(_least_inside(line, piece), job.rules.stitch_edge, line)
        yield from _nearest(STITCH_WEB, line, surface.cuts, distance, job.rules.stitch_web)
        yield from _nearest(STITCH_CLEAR, line, covers, distance, job.rules.stitch_clear)


def _lines(piece: Piece, purpose: StitchPurpose) -> list[StitchLine]:
    return [line for line in piece.stitch_lines if line.purpose == purpose]


def _extent(line: StitchLine, axis: int) -> tuple[int, int]:
    places = [point[axis] for point in line.points]
    return min(places), max(places)


def _size(lines: list[StitchLine], axis: int) -> int:
    """How far lines reach along (0) or across (1) a piece; nothing where there are none."""
    ends = [end for line in lines for end in _extent(line, axis)]
    return max(ends) - min(ends) if ends else 0


def _edge_room(piece: Piece, job: Job) -> Iterator[Measured]:
    """Both rows of stitches lie at least a stitch apart, and are at least a stitch long."""
    if job.edge_stitched and piece.name in ("body", "strap"):
        lines = _lines(piece, "edge_stitch")
        room = min(_size(lines, 0), _size(lines, 1))
        yield STITCH_ROOM.measured(room, job.stitch_pitch, kinds=("edge_stitch",))


def _fold_room(piece: Piece, job: Job) -> Iterator[Measured]:
    """A stitched fold is long enough to hold, and at least a stitch wide."""
    lines, folds = _lines(piece, "fold_stitch"), _sewn_folds(piece, job)
    if folds:
        shortest = min((_size([line], 0) for line in lines), default=0) if len(lines) == 2 * folds else 0
        yield STITCHED_FOLD.measured(shortest, job.rules.stitched_fold, kinds=("fold_stitch",))
    if lines:
        yield STITCH_ROOM.measured(_size(lines, 1), job.stitch_pitch, kinds=("fold_stitch",))


def _sewn_folds(piece: Piece, job: Job) -> int:
    """How many seams hold the folds of a piece: two lines each, where they have room; two seams where a ring lies."""
    body = job.ends[0].is_billet or job.ends[1].is_billet
    found = 0
    for end in job.ends:
        name = end.billet_name or ("body" if body else "strap")
        if name == piece.name and end.outermost.hold is not None and end.outermost.hold.is_stitched:
            found += 2 if end.collar_ring else 1
    return found


def _joint_room(piece: Piece, job: Job) -> Iterator[Measured]:
    """A billet that is sewn on is so over enough of its lap to hold."""
    for end in job.ends:
        if end.billet_name == piece.name and end.join and end.join.is_stitched:
            lines = _lines(piece, "joint_stitch")
            sewn = min((_size([line], 0) for line in lines), default=0)
            yield STITCHED_JOINT.measured(sewn, job.rules.of(JOINT_SEWN), kinds=("joint_stitch",))
            if lines:
                yield STITCH_ROOM.measured(_size(lines, 1), job.stitch_pitch, kinds=("joint_stitch",))


def _least_inside(line: StitchLine, piece: Piece) -> float:
    """From the line to the outline, and of a stitched fold to that of the tail beneath it too.

    To ten nanometres: each corner of the line is rounded to one.
    """
    places = line.points
    if line.purpose == "fold_stitch":
        fold = min((f.x for f in piece.features if f.kind == "fold"), key=lambda x: abs(x - places[0][0]), default=0)
        places = (*places, *((2 * fold - x, y) for x, y in places))
    return round(_least_depth(piece.outline, places), -1)


@lru_cache(maxsize=128)
def _least_depth(outline: Outline, places: tuple[Point, ...]) -> float:
    """How deep inside an outline the outermost of some places lies."""
    return min(edge_distance(outline, disc(x, y, 0)) for x, y in places)


_Distance = Callable[[Capsule], float]


def _from_edges(line: StitchLine, piece: Piece) -> _Distance:
    """The clear distance from a line at its inset, or from its ends; never more than it is."""
    low, high = _extent(line, 0)
    outline, root, inset = uncut(piece.outline), piece.outline.root_depth, line.inset

    def distance(shape: Capsule) -> float:
        depth = edge_distance(outline, shape) + shape.radius - root
        if depth >= inset:
            aside = depth - inset
        else:
            aside = inset - depth - max(abs(shape.x2 - shape.x1), abs(shape.y2 - shape.y1))
        beyond = max(low - max(shape.x1, shape.x2), min(shape.x1, shape.x2) - high)
        return max(aside, beyond) - shape.radius

    return distance


def _from_chords(line: StitchLine) -> _Distance:
    """The clear distance from a line chord by chord."""
    corners = [*line.points, line.points[0]] if line.closed else line.points
    chords = [Capsule(*a, *b, 0.0) for a, b in pairwise(corners)]
    return lambda shape: min(gap(shape, chord) for chord in chords)


def _nearest(
    rule: Rule, line: StitchLine, shapes: Iterable[Shape], distance: _Distance, limit: Nm
) -> Iterator[Measured]:
    """The nearest thing of each purpose. What lies farther along the piece than the nearest so far is passed over."""
    low, high = _extent(line, 0)
    nearest: dict[Purpose, tuple[float, Feature]] = {}
    for shape in shapes:
        capsule, feature = shape.capsule, shape.feature
        along = max(low - capsule.x2, capsule.x1 - high) - capsule.radius
        if feature.purpose in nearest and along >= nearest[feature.purpose][0]:
            continue
        found = distance(capsule)
        if feature.purpose not in nearest or found < nearest[feature.purpose][0]:
            nearest[feature.purpose] = (found, feature)
    for found, feature in nearest.values():
        yield rule.measured(found, limit, line, feature)


STITCHES = PieceFamily(
    rules=(STITCH_EDGE, STITCH_WEB, STITCH_CLEAR, STITCH_ROOM, STITCHED_FOLD, STITCHED_JOINT), measure=_stitches
)
