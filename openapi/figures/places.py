"""Where along or across a piece a rule measures: from one place to another, in nanometres."""

from collections.abc import Callable

from openapi.figures.plan import Part, box, piece_items, strip
from openapi.figures.seen import Seen
from openapi.figures.sketch import MEASURED, MEASURED_FILL, Dimension, Sketch
from service.drawing import palette
from service.drawing.model import Item, LineTo, MoveTo, Path, Pen
from service.strap.model.edging_at import EdgingAt
from service.strap.model.lead_ring import beside_lead_ring
from service.strap.model.pattern import Feature
from service.strap.model.splice import Splice
from service.strap.model.touching import touches
from service.strap.plane.lengths import MM
from service.strap.plane.profile import cut_edge, edge_at

_HIDDEN = Pen(0.9, palette.VERMILLION, (3.0, 1.5))
Ends = tuple[float, float]
Crossing = tuple[float, float, float]
"""x, and from which y to which."""


def hole_to_end(seen: Seen) -> Ends:
    """From a hole to the nearer end of its piece."""
    x = seen.feature().x
    return (0.0, x) if x <= seen.piece.length - x else (x, seen.piece.length)


def whole(seen: Seen) -> Ends:
    """The whole piece."""
    return 0.0, seen.piece.length


def seam(purpose: str) -> Callable[[Seen], Ends]:
    """How far the shortest seam of a purpose reaches along its piece."""

    def ends(seen: Seen) -> Ends:
        pieces = (piece for piece in seen.pattern.pieces for line in piece.stitch_lines if line.purpose == purpose)
        spans = [[x for x, _ in line.points] for line in next(pieces).stitch_lines if line.purpose == purpose]
        return min(((min(xs), max(xs)) for xs in spans), key=lambda span: span[1] - span[0])

    return ends


def seams_apart(seen: Seen) -> Crossing:
    """How far the seams along the edges lie apart."""
    ys = [y for line in seen.pattern.pieces[0].stitch_lines for _, y in line.points]
    return seen.pattern.pieces[0].length / 2, min(ys), max(ys)


def full_width(seen: Seen) -> Crossing:
    """The whole width, in the middle."""
    return seen.piece.length / 2, -seen.piece.width / 2, seen.piece.width / 2


def beside_lap(seen: Seen) -> Ends:
    """From the nearer end of a lap to what is cut or lies there."""
    lap = next(each for each in seen.measured.places if isinstance(each, Splice))
    thing, goods = seen.feature(), seen.job.shop.ornaments
    reach = touches(thing, goods)
    return (lap.end, thing.x - reach) if thing.x > lap.end else (thing.x + reach, lap.start)


def shortest_strip(seen: Seen) -> Ends:
    """The shortest strip of a spliced piece."""
    found = min(seen.pattern.pieces[0].strips, key=lambda each: each.end - each.start)
    return found.start, found.end


def lap_lines(seen: Seen) -> Crossing:
    """Between the first two lines of stitches of a lap."""
    lines = [line for line in seen.pattern.pieces[0].stitch_lines if line.purpose == "splice_stitch"]
    first, second = sorted({line.points[0][1] for line in lines})[:2]
    return sum(x for x, _ in lines[0].points[:2]) / 2, first, second


def tapers(seen: Seen) -> tuple[Part, ...]:
    """What each end takes of the length, and what each taper does."""
    narrowings, length = seen.piece.outline.narrowings, seen.piece.length
    if narrowings is None:
        raise ValueError("it does not narrow")
    head, foot = narrowings
    return (
        Part(0, head.parallel, "what the head takes, of one width", "head"),
        Part(head.parallel, head.reach, "over this the strap narrows to its head", "head_over"),
        Part(length - foot.reach, length - foot.parallel, "over this it narrows to its foot", "foot_over"),
        Part(length - foot.parallel, length, "what the foot takes, of one width", "foot"),
    )


def tip_and_shape(seen: Seen) -> tuple[Part, ...]:
    """From the last size hole to the end of the tip, and how far that is shaped."""
    length, depth = seen.piece.length, seen.piece.outline.foot_depth
    return (
        Part(seen.feature().x, length, "from the last size hole to the end of the tip"),
        Part(length - depth, length, "from where the tip begins to narrow to its end", "depth", below=True),
    )


def shaped_ends(seen: Seen) -> tuple[Part, ...]:
    """How far each end is shaped."""
    outline, length = seen.piece.outline, seen.piece.length
    return (
        Part(0, outline.head_depth, "from the tip of the head to where full width begins", "head_depth"),
        Part(length - outline.foot_depth, length, "from where full width ends to the tip of the foot", "foot_depth"),
    )


def parts(of: Callable[[Seen], tuple[Part, ...]]) -> Callable[[Seen], Sketch]:
    """Several parts of a piece's length, each with its dimension."""
    return lambda seen: strip(seen, of(seen))


def edge_length(seen: Seen) -> Ends:
    """One edge between what both ends take."""
    found = cut_edge(seen.piece.outline)
    if found is None:
        raise ValueError("its edges are straight")
    return found.start, found.end


def one_repeat(seen: Seen) -> tuple[Part, ...]:
    """One scallop as it came out, and below it one of the iron."""
    found, cut = cut_edge(seen.piece.outline), seen.job.spec.body.cut
    if found is None or cut is None or cut.iron is None:
        raise ValueError("no iron cuts its edges")
    iron = seen.job.shop.edge_irons[cut.iron]
    start, after = found.start + found.repeat, found.start + 2 * found.repeat
    return (
        Part(start, after, "one repeat, as whole repeats came out along the edge", "along"),
        Part(after, after + iron.repeat, "one repeat of the iron", "repeat"),
    )


def _edging(seen: Seen) -> EdgingAt:
    found = seen.pattern.pieces[0].edging
    if found is None:
        raise ValueError("it has no edging")
    return found


def edging_length(seen: Seen) -> Ends:
    """What both ends leave for an edging."""
    return _edging(seen).start, _edging(seen).end


def edging_crest(seen: Seen) -> Crossing:
    """From the edge to the points of the edging."""
    at = _edging(seen)
    half = edge_at(seen.pattern.pieces[0].outline, at.start)
    return at.start + _repeat(at), -half, -half - at.reach


def edging_root(seen: Seen) -> Crossing:
    """From the edge to the roots between the points of the edging."""
    at = _edging(seen)
    half = edge_at(seen.pattern.pieces[0].outline, at.start)
    return at.start + 1.5 * _repeat(at), -half, -half - at.reach + (at.cut.depth if at.cut else 0)


def _repeat(at: EdgingAt) -> float:
    return (at.end - at.start) / at.cut.count if at.cut else 0.0


def inside_edging(seen: Seen) -> Crossing:
    """From the inner edge of an edging to what is cut inside it."""
    thing, at = seen.feature(), _edging(seen)
    half = thing.long / 2 if thing.angle else thing.across / 2
    return thing.x, -edge_at(seen.pattern.pieces[0].outline, thing.x) + at.hold, thing.y - (half or thing.footprint / 2)


def beside_back(seen: Seen) -> Crossing:
    """From what a back takes across the strap to its edge."""
    thing = seen.feature()
    half = thing.long / 2 if thing.angle else thing.across / 2
    return thing.x, thing.y - half, -edge_at(seen.pattern.pieces[0].outline, thing.x)


def ring_room(seen: Seen) -> Ends:
    """Between what holds the fold first and next."""
    first, second = beside_lead_ring(seen.pattern)
    return first.at + first.half - _front(seen), second.at - second.half - _front(seen)


def _front(seen: Seen) -> float:
    """Where the front ply's origin lies, made up."""
    return next(ply.offset for ply in seen.pattern.placements if ply.direction == 1)


def studs(seen: Seen) -> Ends:
    """From one stud to the next."""
    first, second = (each.x for each in seen.of("snap_stud")[:2])
    return first, second


def inner_holes(seen: Seen) -> Ends:
    """Between the innermost holes of a joining strap."""
    holes = [each.x for each in seen.piece.features]
    return holes[len(holes) // 2 - 1], holes[len(holes) // 2]


def added(seen: Seen) -> Ends:
    """What a billet that is sewn on adds to the body."""
    return seen.piece.lap, seen.piece.length


def slot(seen: Seen) -> Ends:
    """A slot along the strap."""
    found = seen.feature()
    return found.x - found.long / 2, found.x + found.long / 2


def _keeper_width(seen: Seen) -> int:
    loops = seen.job.head.loops
    return loops.width if loops else 0


def keeper_band(seen: Seen) -> tuple[Item, ...]:
    """A fixed keeper over its strap, and the end of the tail behind it, seen through the front ply."""
    keeper, wide, width = seen.feature().x / MM, seen.piece.width / MM, _keeper_width(seen) / MM
    end = held_keeper(seen)[1] / MM
    band = Path(box(keeper - width / 2, -wide / 2 - 1.5, width, wide + 3), MEASURED, MEASURED_FILL)
    return band, Path((MoveTo(end, -wide / 2), LineTo(end, wide / 2)), _HIDDEN)


def past_keeper(seen: Seen) -> Ends:
    """From a fixed keeper to the next one, or to the next rivet of its fold."""
    last, following, width = seen.feature(0), seen.feature(1), _keeper_width(seen)
    is_rivet = following.purpose == "fold_rivet" and seen.measured.value != following.x - last.x - width
    return last.x + width / 2, following.x - (following.footprint if is_rivet else width) / 2


def held_keeper(seen: Seen) -> Ends:
    """From a fixed keeper to the end of what is turned back, seen through the front ply."""
    folds = [each.x for each in seen.pattern.pieces[0].features if each.purpose == "fold_line"]
    return seen.feature().x + _keeper_width(seen) / 2, 2 * min(folds)


def before_hole(seen: Seen) -> Ends:
    """From the far side of what lies before the first size hole to its middle."""
    before, first = seen.feature(0), seen.feature(1)
    return before.x + before.footprint / 2, first.x


def behind_last(seen: Seen) -> Ends:
    """From the last size hole to the end of the tip."""
    return seen.feature().x, seen.piece.length


def keeper_to_rim(words: str) -> Callable[[Seen], Sketch]:
    """From a keeper round the strap to what is set beside it."""

    def drawn(seen: Seen) -> Sketch:
        keeper, thing = _keeper_first(seen)
        between = seen.job.spec.keepers_between
        half, reach = (between.width if between else 0) / 2, thing.footprint / 2
        side = 1 if thing.x > keeper.x else -1
        start, end = keeper.x + side * half, thing.x - side * reach
        wide = seen.piece.width / MM
        band = Path(box((keeper.x - half) / MM, -wide / 2, 2 * half / MM, wide), MEASURED, MEASURED_FILL)
        found = strip(seen, (Part(start, end, words),), (band,))
        dimension = Dimension((start / MM, 0.0), (end / MM, 0.0), words, at=-wide / 2 - 5)
        around = ((keeper.x / MM - 24, wide / 2), (keeper.x / MM + 24, -wide / 2 - 5))
        return Sketch(items=piece_items(seen.piece), measured=found.measured, dimensions=(dimension,), around=around)

    return drawn


def _keeper_first(seen: Seen) -> tuple[Feature, Feature]:
    one, other = seen.feature(0), seen.feature(1)
    return (one, other) if one.purpose == "keeper_place" else (other, one)
