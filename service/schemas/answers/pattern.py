"""A pattern: the strap made up, its pieces, what goes on them, and what was checked."""

from typing import Annotated, Literal, NotRequired, TypedDict

from service.schemas.answers.materials import MaterialsDocument
from service.schemas.answers.members import (
    Count,
    Json,
    Keyword,
    Millimetres,
    Named,
    Reading,
    Sealed,
    TermsDocument,
)
from service.schemas.answers.steps import StepDocument
from service.schemas.answers.variation import VariedDocument
from service.shop.goods import CutEdgeShape
from service.strap.model.pattern import Action, Face, FeatureKind, Method, PieceName, Purpose
from service.strap.model.spec import LiningPurpose, MeasuredFrom
from service.strap.model.spec_edges import EdgingLies, TaperLine


class FromEachDatumDocument(TypedDict):
    """The same length from each datum: to the hole or stud that has the size, else to the other end."""

    fold_mm: Millimetres
    fold: Reading
    bar_mm: Millimetres
    bar: Reading
    frame_mm: Millimetres
    frame: Reading


class BuckledDocument(TypedDict):
    """Buckled at one hole; hole 1 is nearest to the buckle.

    `fits` is the girth that fits: the flat length from the bar less π times the strap's thickness and the ease; 0
    where none does. Its reading is that of a tape, to 1/16 in or 1 mm. The holes of a tip that nothing of the strap
    closes fit no girth: their `length` is from the strap's other end, `at` the feature that they are,
    which has the number `hole`.
    """

    hole: Count
    length_mm: Millimetres
    length: Reading
    fits_mm: NotRequired[Millimetres]
    fits: NotRequired[Reading]
    at: NotRequired[str]


_FinishedFrom = TypedDict(
    "_FinishedFrom",
    {
        "measured_from": Annotated[
            MeasuredFrom | Literal["ends", "stud"],
            "The datum of `length`; `ends` of an open strap: from end to end, without its rings; `stud` of one that is "
            "snapped: from its middle stud to its cap; of an even number of studs from the tighter of "
            "the two in the middle.",
        ],
        "length_mm": Millimetres,
        "length": Reading,
        "from": FromEachDatumDocument,
    },
)


class ClosedDocument(TypedDict):
    """A strap closed by its joining strap: its flat length all round, and the girth that fits inside."""

    length_mm: Millimetres
    length: Reading
    fits_mm: Millimetres
    fits: Reading


class JoinedDocument(TypedDict):
    """What a joining strap makes of it, buckled at its innermost holes and at its outermost."""

    tightest: ClosedDocument
    loosest: ClosedDocument
    holes: Annotated[
        list[BuckledDocument],
        "Buckled at the same hole at both its ends, all round from bar to bar and back; hole 1 is the nearest to its "
        "middle. At the middle one it fits the girth that was asked for.",
    ]


class FinishedDocument(_FinishedFrom):
    """The strap made up.

    Lengths run to the nominal size hole, or to the far end of an open strap.
    """

    holes: list[BuckledDocument]
    joined: NotRequired[Annotated[JoinedDocument, "With its joining strap, where it has one."]]
    weight_g: Annotated[float, "Leather and hardware, in grams.", Keyword("minimum", 0)]


class CoveredDocument(TypedDict):
    """A thing under the tip.

    A `fault` keeps the tip from lying down at the middle hole and is refused; whatever else is covered, a flat spot or
    something at another hole, is a `warning`.
    """

    at: Annotated[str, "The id of a feature, or `lead_ring`."]
    by_mm: Millimetres
    by: Reading
    severity: Literal["fault", "warning"]


class WornDocument(TypedDict):
    """The strap buckled at one size hole: the tip lies on its grain side from the bar on.

    A strap with a joining strap is buckled at the same hole at both ends, and lies under both its tips.
    """

    hole: Count
    lies_down: Annotated[bool, "Whether the tip can lie down: else not a hole to wear it at."]
    covers: Annotated[
        list[CoveredDocument],
        "The nearest to the bar first. `by` is how far the tip reaches past the near rim.",
    ]


class _FeatureAt(TypedDict):
    id: Annotated[str, "`piece.purpose.n`, the same for the same spec."]
    kind: FeatureKind
    action: Annotated[Action, "`punch` cuts through; `mark` is scribed, never cut."]
    purpose: Purpose
    x_mm: Millimetres
    x: Reading
    y_mm: Millimetres
    y: Reading


class FeatureMadeDocument(TypedDict, total=False):
    """What only some features have."""

    diameter_mm: Millimetres
    diameter: Reading
    length_mm: Millimetres
    length: Reading
    width_mm: Millimetres
    width: Reading
    angle_deg: Annotated[float, "Of a slot: 0 lies along the strap, 90 across it."]
    method: Annotated[Method, "Where it is not one punch: holes, then cuts."]
    tool: str
    item: str
    fastener: Annotated[str, "The rivet or screw post that holds the ornament there, where it takes one."]


class FeatureDocument(_FeatureAt, FeatureMadeDocument):
    """One thing done to a piece, at its centre."""

    mates: Annotated[list[str], "Features of other pieces that this one meets."]


class StitchLineDocument(TypedDict):
    """A line of stitches on a piece; in a turned-back end it goes through both plies, and is given on the front one."""

    id: Annotated[str, "`piece.edge_stitch.n`; or `fold_stitch`, `joint_stitch` or `splice_stitch` in its place."]
    path: Annotated[str, "SVG path data in millimetres, in the piece's own frame: straight chords."]
    closed: Annotated[bool, "Whether it ends where it begins."]
    holes: Annotated[Count, "Every corner and, of an open line, both ends are holes."]
    stitches: Count
    pitch_mm: Millimetres
    pitch: Reading
    length_mm: Millimetres
    length: Reading


SpliceDocument = TypedDict(
    "SpliceDocument",
    {
        "id": Annotated[str, "`piece.splice.n`."],
        "from_mm": Millimetres,
        "from": Reading,
        "to_mm": Millimetres,
        "to": Reading,
    },
)
"""A lap of two strips, from where to where along the piece; the one nearer its 0 lies on top."""

StripDocument = TypedDict(
    "StripDocument",
    {
        "name": Annotated[str, "`piece.strip.n`, as materials and cut plans name it."],
        "from_mm": Millimetres,
        "from": Annotated[Reading, "Where it begins along the piece."],
        "cut_mm": Millimetres,
        "cut": Annotated[Reading, "The length that it is cut to."],
    },
)
"""One strip of a spliced piece."""


class TaperDocument(TypedDict):
    """How a piece narrows to an end, in straight lines or eased ones."""

    id: Annotated[str, "`piece.taper.1` at the buckle end, `piece.taper.2` at the other."]
    width_mm: Annotated[Millimetres, "At the end."]
    width: Reading
    narrow_x_mm: Annotated[Millimetres, "Along the piece, to where it has the width of the end."]
    narrow_x: Reading
    full_x_mm: Annotated[Millimetres, "Along the piece, to where it has its full width."]
    full_x: Reading
    line: TaperLine


class EdgeDocument(TypedDict):
    """Both long edges, or the upper one of an edging, cut in whole repeats, from crest to crest."""

    shape: CutEdgeShape
    count: Annotated[Count, "Repeats along each edge."]
    repeat_mm: Annotated[Millimetres, "As it came out, along the edge."]
    repeat: Reading
    depth_mm: Annotated[Millimetres, "How far the roots lie inside the edge."]
    depth: Reading
    from_x_mm: Annotated[Millimetres, "Along the piece, to the first crest."]
    from_x: Reading
    to_x_mm: Annotated[Millimetres, "Along the piece, to the last crest."]
    to_x: Reading


class AlongDocument(TypedDict):
    """Where the strips of an edging lie along the long edges of the body, one along each."""

    lies: Annotated[EdgingLies, "Behind its plies, or between it and its lining."]
    reach_mm: Annotated[Millimetres, "How far it stands out beyond the edge."]
    reach: Reading
    hold_mm: Annotated[Millimetres, "How far it reaches inside the edge."]
    hold: Reading
    from_x_mm: Annotated[Millimetres, "Along the body, to where it begins."]
    from_x: Reading
    to_x_mm: Annotated[Millimetres, "Along the body, to where it ends."]
    to_x: Reading


class PieceDocument(TypedDict):
    """One flat piece of leather.

    Origin on its centre line at the buckle end, x along it, y down the drawing.
    """

    name: PieceName
    leather: str
    thickness_mm: Millimetres
    thickness: Reading
    skived_mm: Millimetres
    skived: Reading
    length_mm: Millimetres
    length: Reading
    width_mm: Millimetres
    width: Reading
    face: Annotated[Face, "The side of the leather that lies up in the piece's frame."]
    outline: Annotated[str, "SVG path data in millimetres, in the piece's own frame."]
    features: list[FeatureDocument]
    purpose: NotRequired[
        Annotated[
            LiningPurpose,
            "Of a lining: whether it covers the backs of what is set, or is set through too.",
        ]
    ]
    over_mm: NotRequired[
        Annotated[Millimetres, "Of a lining: how much larger it is cut all round, to be trimmed flush."]
    ]
    over: NotRequired[Reading]
    rise_mm: NotRequired[Annotated[Millimetres, "Of a lining: how much longer it is cut, to lie over the backs."]]
    rise: NotRequired[Reading]
    cut_length_mm: NotRequired[
        Annotated[Millimetres, "Of a lining: what it is cut to, its length with `rise` and, at both ends, `over`."]
    ]
    cut_length: NotRequired[Reading]
    cut_width_mm: NotRequired[Annotated[Millimetres, "Of a lining: what the strap cutter is set to."]]
    cut_width: NotRequired[Reading]
    count: NotRequired[Annotated[Count, "How many of it there are, where it is more than one."]]
    at: NotRequired[Annotated[list[str], "Of keepers between ornaments: the ids of the marks that they go over."]]
    along: NotRequired[Annotated[AlongDocument, "Of an edging: where it lies, and how far it stands out."]]
    cut_to_size: NotRequired[
        Annotated[bool, "Of a lining: whether it has edges of its own, for an edging lies before it."]
    ]
    held_by: NotRequired[Annotated[Literal["keepers"], "Of a lining that keepers hold: neither glued nor sewn."]]
    splices: NotRequired[Annotated[list[SpliceDocument], "The laps of a piece that is made of several strips."]]
    strips: NotRequired[Annotated[list[StripDocument], "What a spliced piece is cut out of, from its 0 on."]]
    lap_mm: NotRequired[Annotated[Millimetres, "Of a billet that is sewn on: how far it lies over the body's end."]]
    lap: NotRequired[Reading]
    edge: NotRequired[Annotated[EdgeDocument, "Left out where its edges are not cut."]]
    tapers: NotRequired[Annotated[list[TaperDocument], "Left out where the piece has one width."]]
    stitch_lines: NotRequired[Annotated[list[StitchLineDocument], "Left out where the piece is not stitched."]]


_HardwareFor = TypedDict("_HardwareFor", {"item": str, "count": Count, "for": str})


class HardwareDocument(_HardwareFor):
    """So many of one item; lace and thread have a length."""

    length_mm: NotRequired[Millimetres]
    length: NotRequired[Reading]


class CheckDocument(TypedDict):
    """The tightest place of one rule."""

    rule: str
    passed: bool
    sense: Annotated[Literal["least", "most"], "Whether `limit` is the least or the most that `value` may be."]
    value_mm: Millimetres
    value: Reading
    limit_mm: Millimetres
    limit: Reading
    at: Annotated[list[str], "The features that it was measured at."]


class _PatternBegins(TypedDict):
    code: Annotated[str, "Stands for the spec in `/v1/patterns/{code}`."]
    sealed: Sealed
    shop: TermsDocument


class MadeDocument(TypedDict):
    """What a pattern is, and how it is made."""

    spec: Annotated[Json, Named("Spec"), "The spec with every default filled in."]
    finished: FinishedDocument
    pieces: list[PieceDocument]
    hardware: list[HardwareDocument]
    checks: Annotated[list[CheckDocument], "The tightest place of every rule."]
    worn: Annotated[list[WornDocument], "What the tip lies on, for each size hole; empty of an open strap."]
    steps: Annotated[list[StepDocument], "What to do, in order."]
    cautions: Annotated[list[str], "What to heed when making and using this strap."]


class FurtherDocument(TypedDict, total=False):
    """What is told where it was asked for."""

    varied: Annotated[VariedDocument, "What changes where something is turned."]


class PatternDocument(_PatternBegins, MadeDocument, FurtherDocument):
    """Everything that one strap needs."""

    materials: MaterialsDocument
