"""An edging: room for it, how far it stands out, and nothing cut through it but its own stitches."""

from collections.abc import Iterator

from service.shop.figures import OwnLength
from service.strap.errors import Cure, Path
from service.strap.model.edging_at import EdgingAt
from service.strap.model.rule import Blame, Code, Formula, Measured, Rule
from service.strap.plane.beside import edge_between
from service.strap.plane.edges import edge_distance
from service.strap.plane.outline import uncut
from service.strap.plane.teeth import length_along
from service.strap.rules.family import PieceFamily
from service.strap.rules.surface import Shape, Surface
from service.strap.rules.sweep import least
from service.strap.rules.tapers import by_iron

EDGING_WITHOUT_ROOM = Code("edging_without_room", "between its ends a strap has no room for an edging")
EDGING_REACHES_FAR = Code("edging_reaches_far", "an edging stands out too far for what holds it")
EDGING_HIDDEN = Code("edging_hidden", "the roots of an edging lie behind the edge that it is to stand out from")
EDGING_CUT = Code("edging_cut", "something would be cut or set through an edging")

_EDGING: Path = ("edging",)
_REACH: Path = ("edging", "reach")

EDGING_ROOM = Rule(
    name="edging_room",
    meaning="Whether between its ends the strap is long enough for an edging.",
    sense="least",
    sentence="Between its ends the strap has {found} for an edging; it takes {limit}.",
    overlap="Its ends leave {found_abs} less than nothing for an edging; it takes {limit}.",
    blames=(Blame(EDGING_WITHOUT_ROOM, _EDGING, Cure.EDGING_ROOM),),
    formula=Formula(
        found="between",
        limit="repeat",
        terms={
            "between": "along the strap between what both ends take: folds, joints, size holes and tips",
            "repeat": "one scallop or point of it, or of a straight one a stitch",
        },
    ),
    source="geometry",
)
EDGING_REACH = Rule(
    name="edging_reach",
    meaning="How far an edging stands out beyond the edge, held as it is; one that stands out farther curls.",
    sense="most",
    sentence="The edging stands out {found} beyond the edge; held as it is, {limit} is the most.",
    blames=(Blame(EDGING_REACHES_FAR, _REACH, Cure.EDGING_REACH),),
    formula=Formula(
        found="reach",
        limit="edging_reach * hold",
        terms={
            "reach": "how far it stands out beyond the edge",
            "hold": "how far it reaches inside the edge: behind its stitches as far as they lie inside",
        },
    ),
    source="from memory: one that is held by less curls",
)
EDGING_ROOTS = Rule(
    name="edging_roots",
    meaning="Whether the roots between the points of an edging stand out beyond the edge; else the edge lies "
    "bare there.",
    sense="least",
    sentence="The roots of the edging lie {found} beyond the edge; {limit} is the least.",
    overlap="The roots of the edging lie {found_abs} behind the edge that it stands out from; {limit} is the least.",
    blames=(Blame(EDGING_HIDDEN, _REACH, Cure.EDGING_SEEN),),
    formula=Formula(
        found="reach - depth",
        limit="0",
        terms={"reach": "how far it stands out beyond the edge", "depth": "how deep its scallops or points are cut"},
    ),
    source="geometry: between its points the edge would else be bare",
)
CLEAR = OwnLength(
    "edging_clear",
    meaning="the least distance from an edging to anything that is cut or set through the strap",
    usual=1_587_500,
)
EDGING_CLEAR = Rule(
    name="edging_clear",
    meaning="How far what goes through the strap stays off the edging behind it, whose own holes would tear out.",
    sense="least",
    sentence="Between the edging and {what} there is {found}; {limit} is the least.",
    overlap="{What} would go through the edging, which reaches {found_abs} farther in; {limit} is the least.",
    blames=(Blame(EDGING_CUT, _EDGING, Cure.EDGING_CLEAR),),
    figure=CLEAR,
    formula=Formula(
        found="inside - hold - radius",
        limit="edging_clear",
        terms={
            "inside": "from the edge to the middle of what is cut or set",
            "hold": "how far the edging reaches inside the edge",
            "radius": "half the width of the cut, or half of what is set in a mark",
        },
    ),
    source="from memory: its holes would tear out, and what is set there stand crooked",
)


def _edging(surface: Surface) -> Iterator[Measured]:
    piece, job = surface.piece, surface.job
    asked = job.spec.edging
    if asked is None or piece.name not in ("body", "strap"):
        return
    needed = asked.cut.repeat if asked.cut else job.stitch_pitch
    at = piece.edging
    along = round(length_along(edge_between(piece.outline, at.start, at.end))) if at else 0
    yield EDGING_ROOM.measured(along, needed, kinds=("edging",))
    if at is None:
        return
    yield EDGING_REACH.measured(at.reach, int(at.hold * job.rules.edging_reach), kinds=("edging",))
    if at.cut:
        yield EDGING_ROOTS.measured(at.reach - at.cut.depth, 0, kinds=("edging",))
        yield from by_iron(job, asked.cut, along // at.cut.count, "edging")
    yield from _clear(surface, at)


def _clear(surface: Surface, at: EdgingAt) -> Iterator[Measured]:
    """What is cut, or set in a mark, nearest to the inner edge of the edging, of each purpose."""
    outline = uncut(surface.piece.outline)
    shapes = (*surface.cuts, *_marked(surface))
    beside = [shape for shape in shapes if shape.right >= at.start and shape.left <= at.end]
    limit = surface.job.rules.of(CLEAR)
    yield from least(EDGING_CLEAR, beside, lambda capsule: edge_distance(outline, capsule) - at.hold, limit)


def _marked(surface: Surface) -> Iterator[Shape]:
    """What is set without a cut: its prongs go through somewhere beneath it."""
    yield from (shape for shape in surface.ornaments if shape.feature.action == "mark")


EDGINGS = PieceFamily(rules=(EDGING_ROOM, EDGING_REACH, EDGING_ROOTS, EDGING_CLEAR), measure=_edging)
