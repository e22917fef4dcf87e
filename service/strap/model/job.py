"""A job: a spec with every default said and every id looked up in the shop, its ends as objects."""

from abc import ABC, abstractmethod
from collections.abc import Iterator

from service.shop.goods import Buckle, Nm, Ring, Snap, SnapHalf
from service.strap.errors import Path
from service.strap.model.end_measures import Sizes, Tongue, TurnBack
from service.strap.model.holding import Holding
from service.strap.model.joining import Joining
from service.strap.model.loops import Loops
from service.strap.model.pattern import Feature, Piece, PieceName
from service.strap.model.side import Plied, Side, turned_ply
from service.strap.model.stitch_line import StitchLine
from service.strap.model.strap_goods import StrapGoods
from service.strap.plane.outline import EndForm
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(StrapGoods):
    """What the layout works from: a body between two ends, and the goods of both."""

    head: "End"
    foot: "End"
    joining: Joining | None
    """The strap that joins its two buckles, if there is one."""

    @property
    def ends(self) -> tuple["End", "End"]:
        """Both, the head first."""
        return self.head, self.foot

    @property
    def closes(self) -> bool:
        """Whether its two ends close on one another."""
        return self.is_buckled or self.is_snapped

    @property
    def is_buckled(self) -> bool:
        """Whether its foot is buckled at its head."""
        return self.head.buckle is not None and self.foot.is_tongue

    @property
    def is_snapped(self) -> bool:
        """Whether it is closed by a cap at the one end on a stud at the other."""
        halves = self.head.outermost.snap_half, self.foot.outermost.snap_half
        return halves in (("cap", "stud"), ("stud", "cap"))

    @property
    def buckle(self) -> Buckle | None:
        """The buckle that lies nearest the head."""
        return self.head.buckle or self.foot.buckle

    @property
    def keeper(self) -> bool:
        """Whether a keeper is made, loose or fixed."""
        return any(end.keeper_width is not None for end in self.ends)

    @property
    def keeper_width(self) -> Nm:
        """Width of a keeper's loop, along the strap."""
        return next((end.keeper_width for end in self.ends if end.keeper_width is not None), self.rules.keeper_width)

    @property
    def strap_width(self) -> Nm:
        """Width of the part that goes through the buckle, or of the whole of a strap that is not buckled."""
        return self.head.outer_width


@dataclass(frozen=True, slots=True, kw_only=True)
class End(ABC):
    """One end of a strap, filled in for one job.

    `place` is where the spec says it, `width` that of the piece that it shapes.
    """

    place: Path
    width: Nm

    @abstractmethod
    def lay(self, job: Job, opposite: "Laid | None" = None) -> "Laid":
        """Measure it. A tongue's tip is long enough for what is `opposite` it, where it is buckled to that."""

    @property
    def outer_width(self) -> Nm:
        """Width of the piece that reaches farthest out."""
        return self.width

    @property
    def inner_width(self) -> Nm:
        """Width where it meets the strap: of a billet where it is riveted on."""
        return self.width

    @property
    def is_billet(self) -> bool:
        """Whether it is a piece of its own, riveted on."""
        return self.billet_name is not None

    @property
    def outermost(self) -> "End":
        """The end of the piece that reaches farthest out."""
        return self

    @property
    def hold(self) -> Holding | None:
        """What holds its fold, if it is turned back."""
        return None

    @property
    def join(self) -> Holding | None:
        """What joins it to the body, if it is a billet."""
        return None

    @property
    def buckle(self) -> Buckle | None:
        """The buckle at it, if it has one."""
        return None

    @property
    def is_tongue(self) -> bool:
        """Whether it has size holes and a tip, to be buckled."""
        return self.fits is not None

    @property
    def fits(self) -> Buckle | None:
        """The buckle whose prong its size holes pass, if it has any."""
        return None

    @property
    def billet_name(self) -> PieceName | None:
        """What the billet is called, if it is one."""
        return None

    @property
    def loops(self) -> Loops | None:
        """Its keepers, if it has any."""
        return None

    @property
    def keeper_width(self) -> Nm | None:
        """Width of the loop of its keepers, if it has any."""
        return self.loops.width if self.loops else None

    @property
    def prong_slot(self) -> Nm | None:
        """How long the prong's slot was asked to be, if it was."""
        return None

    @property
    def ring(self) -> Ring | None:
        """The ring that it is folded round, if it is."""
        return None

    @property
    def snap(self) -> Snap | None:
        """The snap of which it has a half, if it has one."""
        return None

    @property
    def snap_half(self) -> SnapHalf | None:
        """Which half of a snap it has, if any."""
        return None

    @property
    def stud_count(self) -> int:
        """How many of that half it has."""
        return 0

    @property
    def collar_ring(self) -> Ring | None:
        """The ring between the first two rivets of its fold, or in its seam, if there is one."""
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """An end as it is laid out. Lengths run from the end of the body, or of the single strip, inwards.

    The free run begins at `anchor`; an ornament's rim keeps `keep` from there, and a spot that comes within `guard` of
    the centre line stays behind `border`. The strap is no shorter than what both ends take, or than their `depth`, and
    the greater `spare`.

    `datum` runs outwards from the body's end to what lengths are measured to: a bar's axis, the middle size hole, the
    tip of a plain end; it is negative where that lies inside. From there, outwards, `fold_edge` and `frame_edge` run to
    the outer edge of the fold and of the hardware, `outer` to whatever lies outermost, and `origin` to where the
    made-up frame begins if this is the head. On a billet the joint's first rivet lies `from_joint` from its outer end.
    """

    anchor: Nm
    keep: Nm
    border: Nm
    guard: Nm = 0
    takes: Nm
    depth: Nm = 0
    spare: Nm = 0
    datum: Nm
    fold_edge: Nm = 0
    frame_edge: Nm = 0
    outer: Nm = 0
    origin: Nm = 0
    form: EndForm
    from_joint: Nm

    @property
    def turn(self) -> TurnBack | None:
        """How it is turned back, if it is."""
        return None

    @property
    def tongue(self) -> Tongue | None:
        """Its size holes and tip, if it has them."""
        return None

    @property
    def sizes(self) -> Sizes | None:
        """The sizes that the strap is closed at, where it is this end that has them."""
        return self.tongue

    @property
    def outermost(self) -> "Laid":
        """What is laid out on the piece that reaches farthest out."""
        return self

    @property
    def middle(self) -> Nm:
        """From the body's end to where it is folded; 0 where it is not."""
        return self.turn.middle if self.turn else 0

    def settle(self, _job: Job, asked: Nm) -> "tuple[Nm, Laid]":
        """The length of the body that is made where this is `asked` for, and the end with what is left over in it."""
        return asked, self

    def drawn_back(self, _job: Job, _by: Nm) -> "Laid | None":
        """The end of a billet under which the body reaches on by so much; `None` where there is no room for that."""
        return self

    def joints(self, _job: Job, _side: Side) -> list[Feature]:
        """The rivet holes that join another piece to this end."""
        return []

    def features(self, _job: Job, _side: Side) -> list[Feature]:
        """Everything else that is punched or marked at this end."""
        return []

    def stitch_from(self, _job: Job) -> Nm | None:
        """Where the line along the edges begins behind a turned-back end; `None` where it goes round the end."""
        return None

    def stitches(self, _job: Job, _side: Side) -> Iterator[StitchLine]:
        """The lines that hold a turned-back end."""
        return iter(())

    def pieces(self, _job: Job, _side: Side) -> list[Piece]:
        """The pieces that are joined on at this end, a keeper's not among them."""
        return []

    def plies(self, _job: Job, side: Side, at: Nm) -> Plied:
        """The plies behind the body, whose place 0 lies `at`, made up, and those before it."""
        return ([turned_ply(self.turn, side, at)] if self.turn else []), []
