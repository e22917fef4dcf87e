"""A ply as leather: a burnished edge, a rounded shoulder, grain, a creased line along the edge, soft light."""

from collections.abc import Iterator

from service.drawing.finished.grain import clouds, flecks
from service.drawing.finished.ply import Ply
from service.drawing.finished.shade import cast_shadow
from service.drawing.finished.shapes import Segments, box, moved
from service.drawing.finished.stitches import stitches
from service.drawing.finished.tint import BLACK, mix, sheen
from service.drawing.model import Colour, Item, LinearGradient, LineTo, MoveTo, Path, Pen, Stop
from service.strap.plane.lengths import MM

_SHOULDER = ((0.0, 0.0), (0.35, 0.34), (0.7, 0.62), (1.1, 0.84), (1.5, 1.0))
"""From the edge inwards: distance in millimetres, and the share of the leather's own colour there."""
CREASE = 2.4
"""A crease lies so far inside the edge, in millimetres."""
FLESH = 0.42
"""The flesh side has this share of the grain's own colour, the rest from the edge."""
_BEHIND = 0.2
"""What a turned-back ply keeps inside the edges of the one that hides it, in millimetres."""


def leather(ply: Ply, openings: Segments = ()) -> tuple[Item, ...]:
    """The ply from its own left end; `openings`, run backwards, are seen through."""
    colour, edge = ply.piece.leather.colour, ply.piece.leather.edge_colour
    if not ply.faces_front:
        return (Path(ply.contour(_BEHIND), fill=mix(edge, colour, FLESH)),)
    return (
        *_shoulder(ply, colour, edge, openings),
        *clouds(ply, colour),
        *flecks(ply, colour),
        *_light(ply, sheen(colour)),
        *_laps(ply, edge, colour),
        *(stitches(ply) if ply.piece.stitch_lines else ()),
        *(() if has_stitched_edges(ply) else _crease(ply, edge, colour)),
        *_bends(ply, sheen(colour)),
    )


def ply_shadow(ply: Ply, height: float, opacity: float) -> tuple[Item, ...]:
    """What the ply throws on whatever lies beneath."""
    return cast_shadow(lambda grown: ply.contour(-grown), height, opacity)


def thickness_of(ply: Ply) -> float:
    """The ply's thickness in millimetres."""
    return ply.piece.thickness / MM


def _shoulder(ply: Ply, colour: Colour, edge: Colour, openings: Segments) -> Iterator[Item]:
    for inset, share in _SHOULDER:
        if inset < 0.8 * ply.half:
            yield Path((*ply.contour(inset), *openings), fill=mix(edge, colour, share))


def _light(ply: Ply, lit: Colour) -> tuple[Item, ...]:
    """Lit from above the upper edge: a slight roundness across, and a slow change along the strap."""
    half, length = ply.half, ply.length
    across = LinearGradient(
        0, -half, 0, half,
        (
            Stop(0, lit, 0.0), Stop(0.07, lit, 0.24), Stop(0.2, lit, 0.15), Stop(0.48, lit, 0.0),
            Stop(0.6, BLACK, 0.0), Stop(0.9, BLACK, 0.2), Stop(1, BLACK, 0.34),
        ),
    )  # fmt: skip
    along = LinearGradient(
        0, 0, length, 0,
        (
            Stop(0, lit, 0.02), Stop(0.25, lit, 0.1), Stop(0.55, lit, 0.0), Stop(0.55, BLACK, 0.0),
            Stop(1, BLACK, 0.1),
        ),
    )  # fmt: skip
    return Path(ply.contour(0.25), fill=across), Path(ply.contour(0.25), fill=along)


def _crease(ply: Ply, edge: Colour, colour: Colour) -> tuple[Item, ...]:
    """A line pressed in along the edge: dark, with the light on its lower lip."""
    inset = min(CREASE, 0.3 * ply.half)
    line = ply.edge_line(inset)
    dark, lit = mix(edge, BLACK, 0.25), sheen(colour)
    return (
        Path(moved(line, 0.1, 0.32), Pen(0.3, lit, opacity=0.4)),
        Path(line, Pen(0.42, dark, opacity=0.62)),
    )


def has_stitched_edges(ply: Ply) -> bool:
    """Whether a ply has stitches in place of a crease; those of laps are none."""
    return any(line.purpose != "splice_stitch" for line in ply.piece.stitch_lines)


def _laps(ply: Ply, edge: Colour, colour: Colour) -> Iterator[Item]:
    """The feathered edge in which the strip on top of a lap ends: dark, with the light on the strip beneath."""
    for lap in ply.piece.splices:
        if ply.placement.from_x <= lap.end <= ply.placement.to_x:
            x = (ply.placement.offset + lap.end) / MM - ply.left
            line = (MoveTo(x, 0.3 - ply.half), LineTo(x, ply.half - 0.3))
            yield Path(moved(line, 0.35, 0.0), Pen(0.4, sheen(colour), opacity=0.45))
            yield Path(line, Pen(0.45, mix(edge, BLACK, 0.3), opacity=0.75))


def _bends(ply: Ply, lit: Colour) -> Iterator[Item]:
    """Where the strap turns back round a bar: it rounds off into the dark, with a gleam along the bend."""
    reach = 2.1 * thickness_of(ply)
    near, far = (half - 0.1 for half in ply.halves)
    stops = (
        Stop(0, BLACK, 0.72), Stop(0.16, BLACK, 0.4), Stop(0.38, BLACK, 0.06), Stop(0.42, lit, 0.05),
        Stop(0.6, lit, 0.32), Stop(1, lit, 0.0),
    )  # fmt: skip
    if ply.head is None:
        shape = box(0.0, -near, reach, near, 0.4)
        yield Path(shape, fill=LinearGradient(0, 0, reach, 0, stops))
    if ply.foot is None:
        shape = box(ply.length - reach, -far, ply.length, far, 0.4)
        yield Path(shape, fill=LinearGradient(ply.length, 0, ply.length - reach, 0, stops))
