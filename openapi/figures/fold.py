"""A fold round a bar, seen from the side, made up: the bar, both plies, what holds them, a keeper, the body's end."""

from openapi.figures.plan import Drawn, box
from openapi.figures.seen import Seen
from openapi.figures.sketch import MEASURED, MEASURED_FILL, Dimension, Sketch
from service.drawing import lines, palette
from service.drawing.model import ArcTo, Circle, Close, Item, LineTo, MoveTo, Path, Pen
from service.shop.goods import Buckle
from service.strap.plane.lengths import MM
from service.strap.rules.buckle import bar_to_hold, half_held

_METAL = Pen(0.5, palette.BLUE)


def _buckle(seen: Seen) -> Buckle:
    if seen.job.buckle is None:
        raise ValueError("it has no buckle")
    return seen.job.buckle


def turned(thick: float, bar: float, front: float, tail: float) -> Path:
    """Leather round a bar about (0, 0), its front ply above as long as `front`, its tail below as long as `tail`."""
    r = bar / 2
    return Path(
        (
            MoveTo(front, -r - thick), LineTo(0, -r - thick), ArcTo(r + thick, 0, r + thick, clockwise=False),
            LineTo(tail, r + thick), LineTo(tail, r), LineTo(0, r), ArcTo(r, 0, -r), LineTo(front, -r), Close(),
        ),
        lines.OUTLINE,
        palette.LEATHER,
    )  # fmt: skip


def _frame(buckle: Buckle) -> Item:
    """The frame from its side, from its front to its heel; the fold is drawn over it."""
    heel, front, rail = (each / MM for each in (buckle.bar_to_heel, buckle.bar_to_frame, buckle.frame_thickness))
    return Path(box(-front, -rail / 2, front + heel, rail), _METAL, palette.HOLE)


def _bar(bar: float) -> Item:
    return Circle(0, 0, bar / 2, _METAL, palette.PAPER)


def _held(at: float, half: float, bar: float, thick: float) -> Item:
    """What holds both plies together."""
    top = bar / 2 + thick
    return Path(box(at - half, -top - 1.2, 2 * half, 2 * top + 2.4), MEASURED, MEASURED_FILL)


def reach(words: str) -> Drawn:
    """From the bar to what holds the fold."""

    def drawn(seen: Seen) -> Sketch:
        job, found = seen.job, seen.measured.value / MM
        buckle = _buckle(seen)
        bar, thick = buckle.folded_round / MM, job.fold_thickness / MM
        half, top = half_held(job, job.head) / MM, bar / 2 + thick
        items = (_frame(buckle), turned(thick, bar, found + 28, found + 14), _bar(bar))
        dimension = Dimension((0, -top), (found, -top), words, at=-top - 9)
        return Sketch(
            items=items, measured=(_held(found, half, bar, thick),), dimensions=(dimension,),
            around=((-buckle.bar_to_frame / MM, -14), (found + 16, 14)),
        )  # fmt: skip

    return drawn


def keeper_room(words: str) -> Drawn:
    """From the frame's heel to what holds the fold: there a loose keeper lies."""

    def drawn(seen: Seen) -> Sketch:
        job = seen.job
        buckle = _buckle(seen)
        bar, thick = buckle.folded_round / MM, job.fold_thickness / MM
        far, half, top = bar_to_hold(seen.pattern, job.head)[0] / MM, half_held(job, job.head) / MM, bar / 2 + thick
        heel = buckle.bar_to_heel / MM
        loop = job.head.loops.width / MM if job.head.loops else 0.0
        keeper = Path(box(heel + 1, -top - 5, loop, 2 * top + 7), lines.OUTLINE)
        edge = Path((MoveTo(heel, -top - 7), LineTo(heel, top + 3)), MEASURED)
        items = (_frame(buckle), turned(thick, bar, far + 28, far + 14), _bar(bar), keeper)
        dimension = Dimension((heel, -top), (far - half, -top), words, at=-top - 10)
        return Sketch(
            items=items, measured=(edge, _held(far, half, bar, thick)), dimensions=(dimension,),
            around=((-8, -16), (far + 16, 12)),
        )  # fmt: skip

    return drawn


def tail(body_words: str, tail_words: str) -> Drawn:
    """How far the turned-back tail and the body's end lie from the bar."""

    def drawn(seen: Seen) -> Sketch:
        job = seen.job
        buckle = _buckle(seen)
        bar, thick = buckle.folded_round / MM, job.fold_thickness / MM
        name = seen.measured.places[0].id.partition(".")[0]
        body = next(ply.offset for ply in seen.pattern.placements if ply.piece == "body" and ply.direction == 1) / MM
        end = next(ply.offset for ply in seen.pattern.placements if ply.piece == name and ply.direction == -1) / MM
        top = bar / 2 + thick
        below = Path(box(body, -bar / 2, 40, thick), lines.OUTLINE, palette.LEATHER)
        items = (_frame(buckle), turned(thick, bar, body + 26, end), _bar(bar), below)
        ends = (
            Path((MoveTo(body, -bar / 2), LineTo(body, top)), MEASURED),
            Path((MoveTo(end, bar / 2), LineTo(end, top)), MEASURED),
        )
        found = (
            Dimension((0, -top), (body, -top), body_words, "body", at=-top - 9),
            Dimension((0, top), (end, top), tail_words, "tail", at=top + 9),
        )
        return Sketch(items=items, measured=ends, dimensions=found, around=((-8, -16), (body + 20, 16)))

    return drawn
