"""Where the collar ring lies: in the loop between what holds the head's fold first and what holds it next."""

from typing import NamedTuple

from service.shop.goods import Nm
from service.strap.model.pattern import Feature, Pattern, Piece, PieceName, Placement

_HEAD_BILLETS: tuple[PieceName, ...] = ("buckle_billet", "head_buckle_billet")


class Beside(NamedTuple):
    """What holds the fold to one side of the ring: where, made up, and how far it, or a keeper over it, reaches."""

    at: Nm
    half: Nm


def beside_lead_ring(pattern: Pattern) -> tuple[Beside, Beside]:
    """The first rivet and the second, or both ends of the gap in the seam, on the front ply.

    Where one rivet alone holds the fold it is both.
    """
    piece, ply = _head(pattern)
    fold = min(each.x for each in piece.features if each.purpose == "fold_line")
    lines = ([x for x, _ in line.points] for line in piece.stitch_lines if line.purpose == "fold_stitch")
    spans = sorted({(min(xs), max(xs)) for xs in lines if min(xs) > fold})
    rivets = [each for each in piece.features if each.purpose == "fold_rivet" and each.x > fold]
    if not rivets:
        low, high = (spans[0][1], spans[-1][0]) if len(spans) > 1 else (fold, fold)
        return Beside(low + ply.offset, 0), Beside(high + ply.offset, 0)
    first, *others = sorted(rivets, key=lambda each: each.x)
    second = others[0] if others else first
    return Beside(first.x + ply.offset, _half(pattern, first)), Beside(second.x + ply.offset, _half(pattern, second))


def lead_ring_at(pattern: Pattern) -> Nm:
    """The middle of the room between them, made up."""
    first, second = beside_lead_ring(pattern)
    return (first.at + first.half + second.at - second.half) // 2


def _half(pattern: Pattern, rivet: Feature) -> Nm:
    """Half a cap, or half of a fixed keeper that lies over it."""
    keeper = pattern.fixed_keeper_at(is_foot=False)
    is_kept = keeper is not None and any(hole.id in rivet.mates for hole in keeper.features)
    return keeper.width // 2 if keeper and is_kept else rivet.footprint // 2


def _head(pattern: Pattern) -> tuple[Piece, Placement]:
    """The piece that is folded at the head, and its front ply."""
    piece = next((each for each in pattern.pieces if each.name in _HEAD_BILLETS), pattern.pieces[0])
    return piece, next(ply for ply in pattern.placements if ply.piece == piece.name and ply.direction == 1)
