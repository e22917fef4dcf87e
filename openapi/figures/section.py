"""Leather cut across, seen from the side: what goes through it, what is folded in it and what lies in it."""

from collections.abc import Callable

from openapi.figures.plan import Drawn, box
from openapi.figures.seen import Seen
from openapi.figures.sketch import MEASURED, MEASURED_FILL, Dimension, Sketch
from service.drawing import lines, palette
from service.drawing.model import ArcTo, Circle, Close, LineTo, MoveTo, Path, Pen
from service.strap.plane.lengths import MM

_METAL = Pen(0.5, palette.BLUE)
_WIDE = 26.0
"""How much of the strap is seen, in millimetres."""
Figure = Callable[[Seen], float]
"""A length of it, in nanometres."""


def leather(top: float, thick: float, left: float = -_WIDE / 2, wide: float = _WIDE) -> Path:
    """A ply cut across."""
    return Path(box(left, top, wide, thick), lines.OUTLINE, palette.LEATHER)


def stack(words: str, post: Figure, plies: int = 1, base: Figure | None = None) -> Drawn:
    """Plies, and an ornament's own metal, with the post through them: the dimension is what it has to hold."""

    def drawn(seen: Seen) -> Sketch:
        metal = base(seen) / MM if base else 0.0
        thick = seen.measured.value / MM
        half = post(seen) / MM / 2
        own = (Path(box(-7, 0, 14, metal), _METAL, palette.HOLE),) if metal else ()
        body = tuple(leather(metal + n * (thick - metal) / plies, (thick - metal) / plies) for n in range(plies))
        pin = Path(box(-half, 0, 2 * half, thick), _METAL, palette.PAPER)
        heads = (_head(0.0, -1.4), _head(thick, 1.4))
        measured = (Path(box(-half, 0, 2 * half, thick), MEASURED, MEASURED_FILL),)
        found = (Dimension((_WIDE / 2, 0), (_WIDE / 2, thick), words, at=_WIDE / 2 + 4),)
        return Sketch(
            items=(*body, *own, pin, *heads), measured=measured, dimensions=found, around=((-15, -3), (15, thick + 3))
        )

    return drawn


def _head(y: float, rise: float) -> Path:
    """The cap of a post."""
    return Path(
        (MoveTo(-4.5, y), LineTo(-3, y + rise), LineTo(3, y + rise), LineTo(4.5, y), Close()), _METAL, palette.HOLE
    )


def behind(words: str, length: Figure, apart: Figure, *, bell: bool = False) -> Drawn:
    """What stands out behind the leather, of legs that are pushed through it from the grain side, so far `apart`."""

    def drawn(seen: Seen) -> Sketch:
        long, out, spread = length(seen) / MM, seen.measured.value / MM, apart(seen) / MM / 2
        half = min(seen.job.shop.ornaments[seen.measured.item].diameter / MM / 2, 8.0)
        thick = long - out
        legs = tuple(Path(box(x - 0.6, 0, 1.2, long), _METAL, palette.HOLE) for x in (-spread, spread))
        across = (Path(box(-spread - 0.6, long - 1.0, 2 * spread + 1.2, 1.0), _METAL, palette.HOLE),) if bell else ()
        dome = Path((MoveTo(-half, 0), ArcTo(half, half, 0), Close()), _METAL, palette.HOLE)
        measured = tuple(Path(box(x - 0.6, thick, 1.2, out), MEASURED, MEASURED_FILL) for x in (-spread, spread))
        found = (Dimension((spread + 0.6, thick), (spread + 0.6, long), words, at=_WIDE / 2 + 4),)
        items = (leather(0, thick), *legs, *across, dome)
        return Sketch(items=items, measured=measured, dimensions=found, around=((-15, -half), (15, long + 2)))

    return drawn


def hole(words: str, inner_words: str, outer: Figure, inner: Figure, terms: tuple[str, str]) -> Drawn:
    """A hole with what goes through it, both seen along it."""

    def drawn(seen: Seen) -> Sketch:
        wide, narrow = outer(seen) / MM, inner(seen) / MM
        around = ((-1.6 * wide, -wide), (1.6 * wide, wide))
        ground = Path(box(-8 * wide, -8 * wide, 16 * wide, 16 * wide), None, palette.LEATHER)
        items = (ground, Circle(0, 0, wide / 2, lines.PUNCH, palette.HOLE))
        found = (
            Dimension((-wide / 2, 0), (wide / 2, 0), words, terms[0], at=-0.85 * wide),
            Dimension((-narrow / 2, 0), (narrow / 2, 0), inner_words, terms[1], at=0.85 * wide),
        )
        measured = (Circle(0, 0, narrow / 2, MEASURED, MEASURED_FILL),)
        return Sketch(items=items, measured=measured, dimensions=found, around=around)

    return drawn


def opening(words: str, strap_words: str, inside: Figure, strap: Figure, terms: tuple[str, str]) -> Drawn:
    """A frame from above with the strap that goes through it."""

    def drawn(seen: Seen) -> Sketch:
        wide, narrow = inside(seen) / MM, strap(seen) / MM
        rail, deep = 3.0, 0.8 * wide
        outside = Path(box(-rail, -wide / 2 - rail, deep + 2 * rail, wide + 2 * rail), _METAL, palette.HOLE)
        inner = Path(box(0, -wide / 2, deep, wide), _METAL, palette.PAPER)
        body = Path(box(-1.4 * wide, -narrow / 2, 1.4 * wide + deep / 2, narrow), lines.OUTLINE, palette.LEATHER)
        measured = (_both_sides(0.0, deep, wide), _both_sides(-1.4 * wide, deep / 2, narrow))
        found = (
            Dimension((0.8 * deep, -wide / 2), (0.8 * deep, wide / 2), words, terms[0]),
            Dimension((-0.7 * wide, -narrow / 2), (-0.7 * wide, narrow / 2), strap_words, terms[1]),
        )
        around = ((-1.2 * wide, -wide / 2 - rail), (deep + 2 * rail, wide / 2 + rail))
        return Sketch(items=(outside, inner, body), measured=measured, dimensions=found, around=around)

    return drawn


def _both_sides(start: float, end: float, apart: float) -> Path:
    """Two lines along the strap, alike to both sides of its middle."""
    half = apart / 2
    return Path((MoveTo(start, -half), LineTo(end, -half), MoveTo(start, half), LineTo(end, half)), MEASURED)
