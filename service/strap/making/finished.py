"""The strap made up: its finished lengths, and what it weighs."""

from collections.abc import Iterator
from typing import Literal

from service.shop.goods import Nm
from service.strap.making.measures import Measures, edges_of
from service.strap.model.closed import HoleLength
from service.strap.model.job import Job
from service.strap.model.pattern import EndAt, Finished, Hardware, HoleAt, Piece
from service.strap.model.plies import thickness
from service.strap.model.side import Side
from service.strap.model.spec import MeasuredFrom
from service.strap.plane.bend import girth_for_flat
from service.strap.plane.edges import area


def finished(job: Job, measures: Measures, sides: tuple[Side, Side], weight_mg: int) -> Finished:
    """Finished lengths to the middle size hole, or from end to end."""
    head, foot = measures.ends
    from_bar = head.datum + measures.length + foot.datum
    edges, datum = edges_of(head, foot), job.spec.size.datum
    return Finished(
        measured_from=_measured_from(job, datum),
        length=from_bar + edges[datum],
        from_fold=from_bar + edges["fold"],
        from_bar=from_bar,
        from_frame=from_bar + edges["frame"],
        holes=_holes(job, measures, from_bar, edges[datum]) if job.closes else (),
        tip_holes=() if job.closes else tuple(_tip_holes(job, measures, sides, from_bar + edges[datum])),
        weight_mg=weight_mg,
        over_all=from_bar + head.outer + foot.outer,
        head_at=EndAt(head.origin, head.origin - head.fold_edge),
        joined=measures.joining.joined(job, from_bar) if measures.joining else None,
        foot_at=EndAt(head.origin + from_bar, head.origin + from_bar + foot.fold_edge),
    )


def _measured_from(job: Job, datum: MeasuredFrom) -> MeasuredFrom | Literal["ends", "stud"]:
    if job.is_snapped:
        return "stud"
    return datum if job.is_buckled or datum != "fold" else "ends"


def _holes(job: Job, measures: Measures, to_nominal: Nm, edge: Nm) -> tuple[HoleLength, ...]:
    sizes = next(found for end in reversed(measures.ends) if (found := end.outermost.sizes))
    ease, thick = job.spec.size.wearing_ease, thickness(job.plies.decorated)
    flats = (to_nominal - sizes.to_nominal + n * sizes.spacing for n in range(sizes.count))
    return tuple(
        HoleLength(hole=hole, length=flat + edge, fits=girth_for_flat(flat, ease, thick))
        for hole, flat in enumerate(flats, 1)
    )


def _tip_holes(job: Job, measures: Measures, sides: tuple[Side, Side], length: Nm) -> Iterator[HoleAt]:
    """A tip ends the strap: each hole is so much nearer to the other end. A billet counts its own from 1."""
    for end, laid, side in zip(job.ends, measures.ends, sides, strict=True):
        tail, billet = laid.outermost.tongue, end.billet_name
        if tail is None:
            continue
        for n in range(tail.count):
            away = tail.tip + tail.row - n * tail.spacing
            yield HoleAt(n + (1 if billet else side.first_hole), length - away, billet or side.piece)


def weight_of(job: Job, pieces: tuple[Piece, ...], hardware: tuple[Hardware, ...]) -> int:
    """Milligrams of the whole strap: leather by area, thickness and density, and everything set on it."""
    leather = sum(
        piece.count * area(piece.outline) * piece.skived * float(piece.leather.density) for piece in pieces
    )  # nm³ · g/cm³ = 1e-18 mg
    metal = sum(item.mass_mg * line.count for line in hardware if (item := job.shop.item(line.item)))
    return round(leather / 1e18) + metal
