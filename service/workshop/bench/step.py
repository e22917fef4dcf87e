"""One thing done at the bench, as data."""

from collections.abc import Hashable
from typing import Literal, NamedTuple

from service.shop.goods import Nm
from service.strap.model.pattern import PieceName
from service.values import dataclass

Op = Literal[
    "test", "try",
    "strip", "cut", "taper", "scallop", "pink", "shape", "skive", "glue", "lay", "trim", "bevel", "dye", "burnish",
    "finish", "prick", "punch",
    "mark", "pierce", "stitch", "set", "lace", "dampen", "slip", "tuck", "fold", "rivet", "measure",
]  # fmt: skip
"""What is done. `test` tries punches and fixings on an offcut, `try` the size in paper: neither touches the strap.

`strip` sets the strap cutter, `cut` cuts to length, `slip` puts a closed loop on, `tuck` lays an open one round the
strap with its ends where a fold will hold them. `lay` lays a lining behind its strap
for keepers to hold. `pierce` takes holes that were pricked in one ply through those that came to lie behind it.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """So many of one item of the hardware list. A length of lace or thread is in `length`."""

    item: str
    count: int
    length: Nm | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """What a quote charges for a step: `amount` things (or nanometres) of one of the shop's operations.

    `tool` is what has to be set up for it, once a batch. Several steps may be one operation (an edge is bevelled,
    dyed and burnished): one of them has the amount.
    """

    operation: str
    amount: int = 0
    tool: Hashable = ""


class State(NamedTuple):
    """How far a piece or a fold has come: `cut body`, `holes body`, `folded strap.fold_line.1`.

    Several steps may give one state: it is reached once all of them are done.
    """

    done: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """What is done in a step. `tool` is `None` where it takes none.

    `pieces` are those that it is done to. `plies` are the plies of leather that it goes through or lays on one another,
    from the front to the back, a folded piece twice; none where each piece is worked by itself. `features` are the ids
    of what it makes or works on: features, lines of stitches (`piece.edge_stitch.n`), ends (`piece.end.1` at the
    buckle end, `piece.end.2`) tapers (`piece.taper.1`, `piece.taper.2`) and cut edges
    (`piece.edge.1` the upper one, `piece.edge.2`).
    """

    op: Op
    work: Work
    pieces: tuple[PieceName, ...]
    plies: tuple[PieceName, ...] = ()
    tool: str | None = None
    features: tuple[str, ...] = ()
    uses: tuple[Goods, ...] = ()

    @property
    def piece(self) -> PieceName | None:
        """The piece, where it is done to one alone."""
        return self.pieces[0] if len(self.pieces) == 1 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft(Deed):
    """A step that has no number yet: `needs` are states that other steps give."""

    needs: tuple[State, ...] = ()
    gives: tuple[State, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Deed):
    """One thing to do. `after` are the numbers of the steps that have to be done before it, `do` tells it."""

    n: int
    after: tuple[int, ...]
    do: str = ""
