"""An edging as it lies along a body: its strips beyond and behind both edges, in millimetres in the body's frame."""

from service.drawing import lines
from service.drawing.model import Close, CurveTo, LineTo, MoveTo, Path, Segment
from service.strap.model.edging_at import EdgingAt
from service.strap.model.pattern import Piece
from service.strap.plane.beside import edge_between, moved_out, round_strip
from service.strap.plane.lengths import MM
from service.strap.plane.narrowing import Place
from service.strap.plane.outline import Outline
from service.strap.plane.teeth import sides


def edging_strips(outline: Outline, at: EdgingAt) -> tuple[tuple[Segment, ...], ...]:
    """Round both strips, the upper one first."""
    edge = edge_between(outline, at.start, at.end)
    parts = list(round_strip(edge, at.reach, at.hold, at.cut))
    return tuple((*_segments(parts, side), Close()) for side in (-1, 1))


def edging_lines(piece: Piece) -> tuple[Path, ...]:
    """What is seen of an edging beyond the edges of the piece that it lies along: narrow dashed lines."""
    at = piece.edging
    if at is None or not piece.stands_out:
        return ()
    edge = edge_between(piece.outline, at.start, at.end)
    outer = moved_out(edge, at.reach)
    parts = [edge[0], outer[0], *(sides(outer, at.cut) if at.cut else outer[1:]), edge[-1]]
    return tuple(
        Path(_segments(parts, side), lines.EDGING, id=f"{piece.name}.edging.{n}") for n, side in ((1, -1), (2, 1))
    )


def _segments(parts: "list[tuple[Place, Place, Place, Place] | Place]", side: int) -> tuple[Segment, ...]:
    """Straight and curved parts from place to place, above the centre line (-1) or below it."""
    found: list[Segment] = []
    for part in parts:
        if len(part) == 2:
            found.append(MoveTo(*_mm(part, side)) if not found else LineTo(*_mm(part, side)))
        else:
            _, one, other, end = part
            found.append(CurveTo(*_mm(one, side), *_mm(other, side), *_mm(end, side)))
    return tuple(found)


def _mm(place: Place, side: int) -> Place:
    return place[0] / MM, side * place[1] / MM
