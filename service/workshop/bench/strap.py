"""A pattern as the bench sees it: what is lined, what stands on which piece, which rivets hold which fold."""

from dataclasses import dataclass
from functools import cache, cached_property

from service.shop.shop import Shop
from service.strap.model.pattern import (
    BETWEEN_KEEPERS,
    KEEPERS,
    Feature,
    Hardware,
    Pattern,
    Piece,
    PieceName,
)
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.workshop.bench.step import Goods, State


@dataclass(frozen=True)
class Strap:
    """One strap to be made in a shop."""

    pattern: Pattern
    shop: Shop

    @cached_property
    def lining(self) -> Piece | None:
        """The lining, if there is one."""
        return self.pattern.piece("lining")

    @property
    def edging(self) -> Piece | None:
        """The edging, if there is one."""
        return self.pattern.piece("edging")

    @property
    def has_edging_between(self) -> bool:
        """Whether an edging lies before the lining."""
        at = self.lined.edging
        return at is not None and at.lies == "between"

    @property
    def lined(self) -> Piece:
        """The piece that is lined, where one is: the decorated one."""
        return self.pattern.pieces[0]

    @property
    def covered(self) -> Piece | None:
        """The piece whose lining is glued on once everything is set, over the backs."""
        return self.lined if self.lining and self.lining.purpose == "cover" else None

    @property
    def edged_late(self) -> Piece | None:
        """The piece whose edges wait for its lining, to be worked with it."""
        return None if self.lining and self.lining.has_edges else self.covered

    @cached_property
    def edged(self) -> tuple[Piece, ...]:
        """Pieces with edges of their own; that of a lining that is glued on is one with that of what it lines."""
        return tuple(piece for piece in self.pattern.pieces if piece.has_edges)

    def through(self, piece: Piece) -> tuple[PieceName, ...]:
        """The plies of a piece from its grain side on, with its lining."""
        return (piece.name, "lining") if self.lining and piece is self.lined else (piece.name,)

    def set_through(self, piece: Piece) -> tuple[PieceName, ...]:
        """The plies that ornaments are set through: without a lining that will cover their backs."""
        return (piece.name,) if piece is self.covered else self.through(piece)

    def sewn_through(self, piece: Piece, purpose: StitchPurpose) -> tuple[PieceName, ...]:
        """The plies that lines for one purpose go through, on this piece."""
        if purpose == "fold_stitch":
            return self.folded(piece)
        if purpose == "joint_stitch":
            return (piece.name, *self.through(self.lined))
        if purpose == "edge_stitch" and self.edging:
            front, *behind = self.through(piece)
            return (front, "edging", *behind) if self.has_edging_between else (front, *behind, "edging")
        return self.through(piece)

    def folded(self, piece: Piece) -> tuple[PieceName, ...]:
        """The plies of a piece that is folded on itself."""
        front = self.through(piece)
        return (*front, *reversed(front))

    def goods(self, purpose: str) -> tuple[Hardware, ...]:
        """The lines of the hardware list for one purpose."""
        return tuple(line for line in self.pattern.hardware if line.purpose == purpose)

    def lines(self, purpose: StitchPurpose) -> tuple[tuple[Piece, StitchLine], ...]:
        """Every line of stitches for one purpose, with its piece."""
        pieces = self.pattern.pieces
        return tuple((piece, line) for piece in pieces for line in piece.stitch_lines if line.purpose == purpose)

    def on(self, piece: Piece, *purposes: str) -> tuple[Feature, ...]:
        """The features of a piece for these purposes."""
        return tuple(each for each in piece.features if each.purpose in purposes)

    @cached_property
    def folds(self) -> tuple[tuple[Piece, Feature], ...]:
        """Every fold with its piece."""
        pieces = self.pattern.pieces
        return tuple((piece, each) for piece in pieces for each in piece.features if each.action == "fold")

    @property
    def keepers(self) -> tuple[Piece, ...]:
        """Loose keepers, the head's first."""
        return tuple(piece for piece in self.pattern.pieces if piece.name in KEEPERS)

    @property
    def keepers_between(self) -> tuple[Piece, ...]:
        """Keepers between ornaments, one piece for each length."""
        return tuple(piece for piece in self.pattern.pieces if piece.name in BETWEEN_KEEPERS)

    def held_by(self, piece: Piece, fold: Feature) -> tuple[Hardware, ...]:
        """The buckle or ring that a fold is made round."""
        names = ("foot_buckle", "foot") if self.pattern.is_at_foot(piece, fold) else ("buckle", "head")
        return tuple(line for name in names for line in self.goods(name))

    def keeper_at(self, piece: Piece, fold: Feature) -> Piece | None:
        """The keeper that goes on at this fold, if one does."""
        return self.pattern.keeper_at(is_foot=self.pattern.is_at_foot(piece, fold))

    def fixed_keeper_at(self, piece: Piece, fold: Feature) -> Piece | None:
        """The fixed keeper whose ends lie in this fold, if it has one."""
        return self.pattern.fixed_keeper_at(is_foot=self.pattern.is_at_foot(piece, fold))

    def rivets_of(self, piece: Piece, fold: Feature) -> tuple[Feature, ...]:
        """The rivet holes that meet once this fold is folded: each lies as far before the fold as its mate behind."""
        holes = {each.id: each for each in self.on(piece, "fold_rivet")}
        folds = self.on(piece, "fold_line")
        found = []
        for hole in holes.values():
            twice = hole.x + holes[hole.mates[0]].x
            if min(folds, key=lambda each: abs(2 * each.x - twice)) is fold:
                found.append(hole)
        return tuple(found)


def used(line: Hardware) -> Goods:
    """All of a line of the hardware list."""
    return Goods(item=line.item, count=line.count, length=line.length)


def flat_work(piece: Piece) -> tuple[State, ...]:
    """All that is done to a piece while it lies flat: holes made, edges sewn, ornaments set and laced, and covered."""
    return states_of(piece.name, ("finish", "holes", "sewn", "set", "laced", "edged", "through"))


@cache
def states_of(what: str, done: tuple[str, ...]) -> tuple[State, ...]:
    """So many states of one piece: of each of the names that pieces have made once."""
    return tuple(State(each, what) for each in done)
