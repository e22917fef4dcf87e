"""What is settled before the pieces are drawn: the length that a spec's size asks for, between its two ends."""

from typing import assert_never

from service.shop.goods import Nm
from service.strap.errors import Cure, FigureFault, Path, Refusal
from service.strap.making.decoration import Run
from service.strap.making.joining import LaidJoining
from service.strap.model.job import Job, Laid
from service.strap.model.plies import thickness
from service.strap.model.spec import MeasuredFrom
from service.strap.plane.bend import flat_for_girth
from service.strap.plane.lengths import readings
from service.strap.plane.spacing import Stations, nearest
from service.values import dataclass
from service.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """The body between its ends, before the row is set out on it.

    `length` is that of the body, or of the single strip; `shortest` the least that it may be without regard to
    ornaments. `run` is its decorated part.
    """

    length: Nm
    shortest: Nm
    run: Run
    head: Laid
    foot: Laid
    joining: LaidJoining | None = None

    @property
    def tips_end(self) -> tuple[Nm, Nm] | None:
        """How far along the body the tips of a joining strap reach from either end, buckled at its middle holes."""
        if self.joining is None:
            return None
        beyond = self.joining.tongue.beyond_nominal
        return beyond - self.head.datum, self.length - beyond + self.foot.datum

    @property
    def ends(self) -> tuple[Laid, Laid]:
        """Both, the head first."""
        return self.head, self.foot


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures(Lengths):
    """The same with its run from where the row begins, and where the ornaments stand on it."""

    stations: Stations


def length_for(job: Job, head: Laid, foot: Laid, joining: LaidJoining | None) -> Nm:
    """The body or strip length that the spec's size asks for."""
    size, beside = job.spec.size, head.datum + foot.datum
    match size.measure:
        case "body_length":
            return size.stated
        case "girth":
            return _for_girth(job, joining, beside)
        case "bar_to_bar":
            return size.stated - beside
        case "overall_length":
            return size.stated - head.outer - foot.outer - beside
        case "finished_length":
            return size.stated - edges_of(head, foot)[size.datum] - beside
        case _:
            assert_never(size.measure)


def _for_girth(job: Job, joining: LaidJoining | None, beside: Nm) -> Nm:
    """What closes at its middle hole round a girth, less what joins it there and what lies `beside` the body.

    A body that is joined ends at the nearest graduation, as a girth's size hole does.
    """
    size = job.spec.size
    flat = flat_for_girth(size.stated, size.wearing_ease, thickness(job.plies.decorated))
    return nearest(flat - joining.nominal - beside, job.grid) if joining else flat - beside


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
    return ("size", size.measure if size.table is None else "label")


def refuse_if_short(job: Job, length: Nm, shortest: Nm) -> None:
    """Raise `Refusal` where the strap is too short for its ends alone."""
    if length >= shortest:
        return
    found = job.spec.size.stated
    limit = found + shortest - length
    told, least = readings(found, limit, job.units)
    detail = say(
        "{size_path} is {told}: its ends, joints and holes alone need {least}.",
        size_path=".".join(size_path(job)),
        told=told,
        least=least,
    )
    fault = FigureFault(
        path=size_path(job), code="size_too_short", detail=detail, limit=limit, found=found, cure=Cure.LENGTHEN
    )
    raise Refusal((fault,))
