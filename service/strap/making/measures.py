"""What is settled before the pieces are drawn: the length that a spec's size asks for, between its two ends."""

from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.errors import Cure, Fault, Path, Refusal
from service.strap.making.decoration import Run
from service.strap.model.job import Job, Laid, said
from service.strap.model.plies import thickness
from service.strap.model.spec import LENGTHS, MeasuredFrom, Size
from service.strap.plane.bend import flat_for_girth
from service.strap.plane.lengths import readings
from service.strap.plane.spacing import Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """The body between its ends.

    `length` is that of the body, or of the single strip; `shortest` the least that it may be without regard to
    ornaments. `run` is its decorated part.
    """

    length: Nm
    shortest: Nm
    run: Run
    head: Laid
    foot: Laid
    stations: Stations | None = None
    """Where the ornaments stand, once it is known where on the run their row begins."""

    @property
    def ends(self) -> tuple[Laid, Laid]:
        """Both, the head first."""
        return self.head, self.foot


def length_for(job: Job, head: Laid, foot: Laid) -> Nm:
    """The body or strip length that the spec's size asks for."""
    size, beside = job.spec.size, head.datum + foot.datum
    if size.body_length is not None:
        return size.body_length
    if size.girth is not None:
        return flat_for_girth(size.girth, said(size.ease), thickness(job.plies.decorated)) - beside
    if size.bar_to_bar is not None:
        return size.bar_to_bar - beside
    if size.overall_length is not None:
        return size.overall_length - head.outer - foot.outer - beside
    return said(size.finished_length) - edges_of(head, foot)[size.measured_from or "fold"] - beside


def edges_of(head: Laid, foot: Laid) -> dict[MeasuredFrom, Nm]:
    """How much longer a strap is over both ends than between their bars, by where it is measured from."""
    return {
        "bar": 0,
        "fold": head.fold_edge + foot.fold_edge,
        "frame": head.frame_edge + foot.frame_edge,
    }


def size_path(job: Job) -> Path:
    """Where the spec states its size."""
    size = job.spec.size
    return ("size", "label" if size.table is not None else _stated(size))


def stated_size(job: Job) -> Nm:
    """The length that the spec states, whichever way it is measured."""
    length: Nm = getattr(job.spec.size, _stated(job.spec.size))
    return length


def _stated(size: Size) -> str:
    """The member of a size that says a length."""
    return next(name for name in LENGTHS if getattr(size, name) is not None)


def refuse_if_short(job: Job, length: Nm, shortest: Nm) -> None:
    """Raise `Refusal` where the strap is too short for its ends alone."""
    if length >= shortest:
        return
    found = stated_size(job)
    limit = found + shortest - length
    told, least = readings(found, limit, job.units)
    detail = f"{'.'.join(size_path(job))} is {told}: its ends, joints and holes alone need {least}."
    fault = Fault(
        path=size_path(job), code="size_too_short", detail=detail, limit=limit, found=found, cure=Cure.LENGTHEN
    )
    raise Refusal((fault,))
