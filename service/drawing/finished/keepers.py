"""Where keepers lie on a strap made up: loose ones beside a frame, fixed ones in a fold, those between ornaments."""

from collections.abc import Iterable, Iterator

from service.drawing.finished.placed import Placed, PlacedBuckle, PlacedKeeper, radius
from service.shop.shop import Shop
from service.strap.model.pattern import FIXED_KEEPERS, Feature, Pattern, Piece
from service.strap.plane.lengths import MM
from service.strap.plane.profile import edge_at


def loose_keepers(
    pattern: Pattern, shop: Shop, buckles: Iterable[PlacedBuckle], rivets: list[Placed], fixed: tuple[PlacedKeeper, ...]
) -> Iterator[PlacedKeeper]:
    """Those of each buckle that has any."""
    for placed in buckles:
        piece = pattern.keeper_at(is_foot=placed.side > 0)
        if piece:
            yield from _loose(piece, shop, placed, rivets, fixed)


def _loose(
    piece: Piece, shop: Shop, placed: PlacedBuckle, rivets: list[Placed], fixed: tuple[PlacedKeeper, ...]
) -> Iterator[PlacedKeeper]:
    """Between the frame (or the prong's slot, where that reaches further) and the first rivet, seam or fixed keeper."""
    slot, buckle = placed.slot, placed.buckle
    start = max(buckle.bar_to_heel / MM, placed.inwards(slot.x) + (slot.feature.length or 0) / MM / 2)
    held = [placed.inwards(rivet.x) - radius(rivet) for rivet in rivets]
    held += [each for each in (placed.inwards(keeper.x) - keeper.width / 2 for keeper in fixed) if each > 0]
    first = min((*held, *_seams(placed)), default=start)
    width = piece.width / MM
    strap_half = slot.ply.halves[placed.side > 0]
    room = max(first - start, piece.count * width) / piece.count
    for n in range(piece.count):
        middle = start + (n + 0.5) * room
        yield PlacedKeeper(placed.x - placed.side * middle, width, _half(piece, shop, strap_half), strap_half)


def fixed_keepers(pattern: Pattern, shop: Shop, seen: Iterable[Placed]) -> Iterator[PlacedKeeper]:
    """Each over the rivet that goes through it, or over its mark."""
    for placed in seen:
        if placed.feature.purpose == "fixed_keeper" or is_under_keeper(placed.feature):
            is_foot = pattern.is_at_foot(placed.ply.piece, placed.feature)
            piece = pattern.fixed_keeper_at(is_foot=is_foot)
            strap_half = placed.ply.halves[is_foot]
            if piece:
                yield PlacedKeeper(placed.x, piece.width / MM, _half(piece, shop, strap_half), strap_half)


def is_under_keeper(feature: Feature) -> bool:
    """Whether a fixed keeper lies over a rivet of a fold."""
    return any(mate.startswith(FIXED_KEEPERS) for mate in feature.mates)


def between_keepers(pattern: Pattern, shop: Shop, seen: Iterable[Placed]) -> Iterator[PlacedKeeper]:
    """Those between the ornaments, each over its mark."""
    pieces = {mark: piece for piece in pattern.pieces for mark in piece.at}
    for placed in seen:
        piece = pieces.get(placed.feature.id)
        if piece:
            body = placed.ply.piece
            inner = (edge_at(body.outline, placed.feature.x) + body.stands_out) / MM
            yield PlacedKeeper(placed.x, piece.width / MM, _half(piece, shop, inner), inner)


def _half(piece: Piece, shop: Shop, strap_half: float) -> float:
    """Half as wide, across the strap, as the loop is once closed."""
    return strap_half + piece.skived / MM + shop.rules.keeper_ease / MM / 2


def _seams(placed: PlacedBuckle) -> Iterator[float]:
    """Where each line of stitches that holds a turned-back end begins."""
    ply = placed.slot.ply
    for line in ply.piece.stitch_lines:
        if line.purpose == "fold_stitch":
            yield min(placed.inwards((ply.placement.offset + x) / MM) for x, _ in line.points)
