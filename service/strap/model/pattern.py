"""A pattern: every piece with every hole, slot, mark and fold, none of which ever changes.

Frame of a piece: origin on its centre line at the buckle end; x along the piece, y across it, positive
towards the bottom of the drawing. Lengths are whole nanometres.
"""

from dataclasses import field, replace
from typing import Literal, NamedTuple, get_args

from service.shop.goods import Leather, Nm
from service.shop.shop import Units
from service.strap.model.check import Check
from service.strap.model.closed import HoleLength, Joined
from service.strap.model.edging_at import EdgingAt
from service.strap.model.filled import Filled
from service.strap.model.filled_ends import FilledEnds
from service.strap.model.spec import LiningPurpose, MeasuredFrom
from service.strap.model.splice import Splice, Strip, strips_of
from service.strap.model.stitch_line import StitchLine
from service.strap.model.worn import Worn
from service.strap.plane.outline import Outline, lengthened, uncut
from service.values import dataclass

FeatureKind = Literal["hole", "slot", "mark", "fold"]
Action = Literal["punch", "mark", "fold"]
Method = Literal["one_punch", "holes_and_cuts"]
PieceName = Literal[
    "body", "lining", "edging", "buckle_billet", "tongue_billet", "keeper", "strap",
    "head_billet", "head_buckle_billet", "head_tongue_billet", "head_keeper",
    "foot_billet", "foot_buckle_billet", "foot_tongue_billet", "foot_keeper",
    "joining_strap", "keeper_between", "keeper_between_2", "keeper_between_3", "keeper_between_4", "keeper_between_5",
    "keeper_between_6", "keeper_between_7", "keeper_between_8", "keeper_between_9", "keeper_between_10",
    "keeper_between_11", "keeper_between_12", "fixed_keeper", "foot_fixed_keeper",
]  # fmt: skip
"""What is alike at both ends is called by its end, `head_` and `foot_`, and so is what is seldom at that end."""
KEEPERS: tuple[PieceName, ...] = ("keeper", "head_keeper", "foot_keeper")
"""Loose keepers; that of the head is called so alone where the foot has one too."""
BETWEEN_KEEPERS: tuple[PieceName, ...] = tuple(each for each in get_args(PieceName) if "keeper_between" in each)
"""Keepers between ornaments, the longest first: on a strap that narrows they are of several lengths."""
FIXED_KEEPERS: tuple[PieceName, ...] = ("fixed_keeper", "foot_fixed_keeper")
"""Keepers that are held in what is turned back at the head, and at the foot."""
Purpose = Literal[
    "joint", "fold_rivet", "prong_slot", "size_hole", "ornament", "between", "border", "keeper_rivet",
    "hanger", "fold_line", "snap_cap", "snap_stud", "keeper_place", "fixed_keeper",
]  # fmt: skip
Face = Literal["grain", "flesh"]


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing done to a piece, at its centre (`x`, `y`).

    Holes have `diameter`; slots have `length` and `width` over all, with round ends, and `angle`
    (0 along the strap, 90 across it). A mark is scribed, never cut. A fold runs across the piece at `x`.
    `footprint` is the diameter of what will sit there (a cap or an ornament), 0 where nothing stands out. `item` is
    what is set there, `fastener` what holds an ornament that does not hold by itself.
    """

    id: str
    kind: FeatureKind
    action: Action
    purpose: Purpose
    x: Nm
    y: Nm = 0
    diameter: Nm | None = None
    length: Nm | None = None
    width: Nm | None = None
    angle: int = 0
    method: Method = "one_punch"
    tool: str | None = None
    item: str | None = None
    footprint: Nm = 0
    fastener: str | None = None
    mates: tuple[str, ...] = ()
    level: Nm | None = None
    """Of a spot along an edge that narrows: the `y` of its row where the piece has its full width."""

    @property
    def row_y(self) -> Nm:
        """The `y` by which a row is told: one that follows its edge is one row."""
        return self.y if self.level is None else self.level

    @property
    def across(self) -> Nm:
        """How wide the cut is: a hole's diameter, a slot's width; 0 where nothing is cut."""
        return self.diameter or self.width or 0

    @property
    def long(self) -> Nm:
        """How long the cut is: a slot's length, a hole's diameter; 0 where nothing is cut."""
        return self.length or self.diameter or 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One flat piece of leather. `skived` is its thickness where it is thinned, else `thickness`.

    One with `splices` is several strips lapped in line, and one piece from there on. A lining has a `purpose`. It is
    cut larger than it is all round by `over`, and longer by its `rise` over the backs that it covers, and trimmed
    flush once it is glued.
    """

    name: PieceName
    leather: Leather
    length: Nm
    width: Nm
    outline: Outline
    features: tuple[Feature, ...]
    thickness: Nm
    skived: Nm
    stitch_lines: tuple[StitchLine, ...] = ()
    purpose: LiningPurpose | None = None
    over: Nm = 0
    rise: Nm = 0
    lap: Nm = 0
    """How far a billet that is sewn on lies over the body's end; one that is riveted is laid by its holes."""
    splices: tuple[Splice, ...] = ()
    count: int = 1
    """How many of it there are, all alike: keepers of one end, or as many between ornaments as lie at one width."""
    at: tuple[str, ...] = ()
    """Of keepers between ornaments the ids of the marks that they go round the strap at."""
    edging: EdgingAt | None = None
    """What stands out along its edges; of an edging itself where it lies."""
    is_cut_to_size: bool = False
    """Whether a lining that is glued on has edges of its own, since an edging stands out before it."""
    is_loose: bool = False
    """Whether a lining is held by keepers alone, and has edges of its own."""

    @property
    def strips(self) -> tuple[Strip, ...]:
        """What it is cut out of, from its 0 on: itself, or the strips of one that is spliced."""
        if not self.splices:
            return (Strip(self.name, 0, self.length, self.cut_length, self.outline),)
        return strips_of(self.name, self.outline, self.splices, self.over, self.rise)

    @property
    def has_edges(self) -> bool:
        """Whether edges of its own are worked; those of a lining that is glued on are one with what it lines.

        Those of an edging that is pinked or scalloped stay as they are cut.
        """
        if self.name == "edging":
            return self.outline.cut is None
        return self.name != "lining" or self.is_loose or self.is_cut_to_size

    @property
    def stands_out(self) -> Nm:
        """How far an edging stands out beyond its edges; 0 where it has none."""
        return self.edging.reach if self.edging and self.name != "edging" else 0

    @property
    def cut_length(self) -> Nm:
        """How long it is before it is trimmed."""
        return self.length + self.rise + 2 * self.over

    @property
    def cut_outline(self) -> Outline:
        """Its outline with its rise in it, before `over` is added all round; what is trimmed flush is cut straight."""
        if not self.purpose:
            return self.outline
        return lengthened(self.outline if self.has_edges else uncut(self.outline), self.rise)

    @property
    def is_plain_strip(self) -> bool:
        """Whether strap cutter and knife make it: straight edges, square ends, nothing cut out of it."""
        ends = {self.outline.head[0], self.outline.foot[0]}
        return ends == {"square"} and not self.outline.narrowings and not self.features

    @property
    def cut_width(self) -> Nm:
        """What the strap cutter is set to for it."""
        return self.width + 2 * self.over

    @property
    def face(self) -> Face:
        """The side of the leather that lies up in the piece's frame: a lining lies with its grain to the back."""
        return "flesh" if self.name == "lining" else "grain"


class Placement(NamedTuple):
    """Where a ply of a piece lies once the strap is made up.

    Made-up x = `offset` + `direction` · x, with the bar's axis (or the head's outer end) at 0.
    `from_x` to `to_x` is the part of the piece in this ply, in the piece's own frame.
    """

    piece: PieceName
    offset: Nm
    direction: Literal[1, -1]
    from_x: Nm
    to_x: Nm
    layer: int
    """0 is the back; a greater layer lies nearer the viewer."""


class HoleAt(NamedTuple):
    """A size hole of a strap that nothing closes, and how far it lies from the strap's other end.

    `hole` is the number on its piece, as its feature has it.
    """

    hole: int
    length: Nm
    piece: PieceName

    @property
    def at(self) -> str:
        """The feature's id."""
        return f"{self.piece}.size_hole.{self.hole}"


@dataclass(frozen=True, slots=True)
class EndAt:
    """Where an end lies, made up: its bar's axis, middle size hole or tip, and the outer edge of its fold."""

    bar: Nm
    edge: Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """The strap made up. Lengths run to the nominal size hole; of an open strap from end to end, folds' outer edges."""

    measured_from: MeasuredFrom | Literal["ends", "stud"]
    """From both `ends` where nothing closes it, from the middle `stud` to the cap where a snap does."""
    length: Nm
    from_fold: Nm
    from_bar: Nm
    from_frame: Nm
    holes: tuple[HoleLength, ...]
    """What it is closed at."""
    tip_holes: tuple[HoleAt, ...] = ()
    """The holes of tips that are buckled to something else: from the other end, as `length` is."""
    weight_mg: int
    over_all: Nm
    """Between whatever lies outermost: tips, frames, rings."""
    head_at: EndAt
    foot_at: EndAt
    joined: Joined | None = None

    @property
    def sizes(self) -> tuple[HoleLength, ...]:
        """What it is closed at: its size holes or studs, or those of its joining strap; none of an open strap."""
        return self.joined.holes if self.joined else self.holes

    @property
    def nominal_hole(self) -> int:
        """The number of the size hole that is the nominal size, the middle one; 0 on a strap without holes."""
        return (len(self.sizes) + 1) // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """So many of one item, and what for. A length of lace or thread is in `length`."""

    item: str
    count: int
    purpose: str
    length: Nm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Everything that one strap needs. `spec` has every default filled in; `size_label` is what the order called it."""

    spec: Filled
    finished: Finished
    pieces: tuple[Piece, ...]
    placements: tuple[Placement, ...]
    hardware: tuple[Hardware, ...]
    checks: tuple[Check, ...] = field(default=())
    worn: tuple[Worn, ...] = field(default=())
    """One for each size hole; none of an open strap."""
    size_label: str | None = field(default=None, compare=False)

    @property
    def ends(self) -> FilledEnds:
        """Its head and foot, whichever way they were asked for."""
        return self.spec.two

    @property
    def closes(self) -> bool:
        """Whether its two ends close on one another."""
        return self.spec.two.closes

    @property
    def is_buckled(self) -> bool:
        """Whether its foot is buckled at its head."""
        return self.closes and not self.is_snapped

    @property
    def is_snapped(self) -> bool:
        """Whether it is closed by a snap."""
        return self.spec.two.is_snapped

    def in_units(self, units: Units) -> "Pattern":
        """The same strap, read in these units."""
        return replace(self, spec=replace(self.spec, units=units))

    def piece(self, name: str) -> Piece | None:
        """The piece of that name, if this strap has it."""
        return next((piece for piece in self.pieces if piece.name == name), None)

    def is_at_foot(self, piece: Piece, *features: Feature) -> bool:
        """Whether features of a piece are at the foot: of a billet there, or nearer the body's far end."""
        if piece is not self.pieces[0]:
            return piece.name.startswith("foot_")
        places = [feature.x for feature in features]
        return min(places) + max(places) > piece.length

    def keeper_at(self, *, is_foot: bool) -> Piece | None:
        """The loose keeper of an end, if it has one."""
        return self._at(KEEPERS, is_foot=is_foot)

    def fixed_keeper_at(self, *, is_foot: bool) -> Piece | None:
        """The fixed keeper of an end, if it has one."""
        return self._at(FIXED_KEEPERS, is_foot=is_foot)

    def _at(self, names: tuple[PieceName, ...], *, is_foot: bool) -> Piece | None:
        found = (piece for piece in self.pieces if piece.name in names)
        return next((piece for piece in found if piece.name.startswith("foot_") == is_foot), None)

    @property
    def worn_at(self) -> tuple[HoleLength, ...]:
        """The size holes at which it can be worn: the tip lies down there, and the girth is one."""
        down = {worn.hole for worn in self.worn if worn.lies_down}
        return tuple(hole for hole in self.finished.sizes if hole.hole in down and hole.fits > 0)
