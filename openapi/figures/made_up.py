"""Plies that lie on one another, from above: holes that have to meet, and the tip where the strap is closed."""

from dataclasses import replace

from openapi.figures.near import Place
from openapi.figures.plan import Drawn, piece_items
from openapi.figures.seen import Seen
from openapi.figures.sketch import MEASURED, MEASURED_FILL, Dimension, Sketch
from service.drawing import lines
from service.drawing.model import Circle, Group, Path
from service.drawing.parts import symbols
from service.strap.model.pattern import Feature, Piece
from service.strap.plane.lengths import MM
from service.strap.rules.worn import closures_of, tongue_of

_SEEN_THROUGH = replace(lines.OUTLINE, dash=(3.0, 1.5))


def holes(words: str) -> Drawn:
    """Two plies at a joint, the upper one seen through, and a hole of each that ought to be one."""

    def drawn(seen: Seen) -> Sketch:
        one, other = seen.feature(0), seen.feature(1)
        placed = [_placed(seen, each) for each in (one, other)]
        dimension = Dimension(placed[0][1], placed[1][1], words, at=-(seen.pattern.pieces[0].width / MM) * 0.32)
        below = Group(piece_items(placed[0][0]), placed[0][2])
        above = Group((Path(symbols.outline_segments(placed[1][0].outline), _SEEN_THROUGH),), placed[1][2])
        circles = tuple(
            Circle(*at, (each.diameter or 0) / MM / 2, MEASURED, MEASURED_FILL)
            for each, (_, at, _) in zip((one, other), placed, strict=True)
        )
        x = (placed[0][1][0] + placed[1][1][0]) / 2
        around = ((x - 22, -16.0), (x + 22, 16.0))
        return Sketch(items=(below, above), measured=circles, dimensions=(dimension,), around=around)

    return drawn


def _placed(seen: Seen, feature: Feature) -> tuple[Piece, Place, float]:
    """The piece of a feature, where the feature lies made up, and where the piece's origin does."""
    piece = next(each for each in seen.pattern.pieces if feature in each.features)
    ply = next(p for p in seen.pattern.placements if p.piece == piece.name and p.from_x <= feature.x <= p.to_x)
    return piece, ((ply.offset + feature.x) / MM, feature.y / MM), ply.offset / MM


def tip(words: str) -> Drawn:
    """The strap closed at its middle hole: the tip, and the ornament that it comes to lie next to."""

    def drawn(seen: Seen) -> Sketch:
        pattern, job, ornament = seen.pattern, seen.job, seen.feature()
        closure = closures_of(pattern, job)[0]
        reach = closure.reaches[(len(closure.reaches) - 1) // 2] / MM
        tongue = tongue_of(pattern, job)
        body, (x, y), at = _placed(seen, ornament)
        front = max((p for p in pattern.placements if p.piece == body.name), key=lambda p: p.direction)
        near = x + (front.offset / MM - at) - ornament.footprint / MM / 2
        over = Group((Path(symbols.outline_segments(tongue.outline), MEASURED),), reach - tongue.length / MM)
        beneath = Group(piece_items(body), front.offset / MM)
        rim = Circle(near + ornament.footprint / MM / 2, y, ornament.footprint / MM / 2, MEASURED, MEASURED_FILL)
        dimension = Dimension((reach, y), (near, y), words, at=-body.width / MM / 2 - 6)
        around = ((reach - 30, -14.0), (near + 30, 14.0))
        return Sketch(items=(beneath, over), measured=(rim,), dimensions=(dimension,), around=around)

    return drawn
