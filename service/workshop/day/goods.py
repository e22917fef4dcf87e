"""What is laid out for a day: goods summed, and for whom; minutes of work with each tool set up once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.workshop.day.batch import Job
from service.workshop.labour import LabourUse, labour_together
from service.workshop.materials import UseKind, kind_of


@dataclass(frozen=True, slots=True)
class LaidOut:
    """So many of one item for one job, all its straps together."""

    job: Job
    count: int


@dataclass(frozen=True, slots=True)
class GoodsUse:
    """One item, or lace or thread of one `length`, over all straps, and how many of it each job takes."""

    item: str
    kind: UseKind
    count: int
    length: Nm | None
    of: tuple[LaidOut, ...]


def goods_of(jobs: Iterable[Job], shop: Shop) -> tuple[GoodsUse, ...]:
    """All that is laid out, as the straps first need it; equal lengths of lace or thread together."""
    found: dict[tuple[str, Nm | None], dict[int, LaidOut]] = {}
    for job in jobs:
        for line in job.pattern.hardware:
            mine = found.setdefault((line.item, line.length), {})
            before = mine[job.number].count if job.number in mine else 0
            mine[job.number] = LaidOut(job, before + line.count * job.quantity)
    return tuple(
        GoodsUse(item, kind_of(item, shop), sum(each.count for each in of.values()), length, tuple(of.values()))
        for (item, length), of in found.items()
    )


def minutes_of(jobs: Sequence[Job], shop: Shop) -> tuple[LabourUse, ...]:
    """Every operation of the day with its minutes, each tool set up once; none where the shop has no prices."""
    if shop.pricing is None:
        return ()
    return labour_together([(job.order, job.steps) for job in jobs], shop.pricing.operations)
