"""One row of ornaments at many lengths and counts, taken apart so that little has to be worked out more than once.

A strap falls into what depends on its length alone, on the distance of two neighbours in the row, and on how near
its ends something stands (`row_parts`). Where that does not settle it there is no verdict: the pair has to be solved.
On a ruler its ends are alike at lengths that differ by whole graduations, and are taken once for each such set.
"""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.errors import Cure, Refusal
from service.strap.filling.limits import limit_faults
from service.strap.filling.resolve import resolve
from service.strap.model.job import Job
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import sized
from service.strap.offers.row_layout import Counted, counted
from service.strap.offers.row_parts import LONG, RowParts


class RowGrid:
    """Verdicts for one spec at any length and count."""

    def __init__(self, spec: Spec, shop: Shop) -> None:
        self._spec = spec
        self._shop = shop
        self._jobs: dict[int | None, Counted | bool | None] = {}
        self._parts: dict[tuple[Nm, bool], RowParts] = {}

    def verdict(self, length: Nm, count: int | None) -> bool | None:
        """Whether the strap can be made; `None` where it has to be solved to know."""
        if count not in self._jobs:
            self._jobs[count] = self._resolved(length, count)
        row = self._jobs[count]
        if not isinstance(row, Counted) or length > LONG // 2:
            return row if isinstance(row, bool) else None
        return self._parts_for(row.job, length).verdict(row, length)

    def _resolved(self, length: Nm, count: int | None) -> Counted | bool | None:
        """The job of a count at a great length; whether it can be made where that is settled; or nothing known."""
        try:
            job = resolve(sized(self._spec, LONG, count), self._shop)
        except Refusal as refusal:
            return None if any(fault.cure is Cure.FEWER_FEATURES for fault in refusal.faults) else False
        within = all(fault.path[0] == "size" for fault in limit_faults(job.spec, self._shop))
        row, parts = counted(job), self._parts_for(job, length)
        return row if within and parts.items_fit(row) else False

    def _parts_for(self, job: Job, length: Nm) -> RowParts:
        """What is known of straps whose length is off the graduation by as much, and whose backs are covered alike."""
        off = length % job.grid
        key = (off, job.covers)
        if key not in self._parts:
            long = LONG // job.grid * job.grid + off
            self._parts[key] = RowParts(replace(job, spec=sized(job.spec, long, None)))
        return self._parts[key]
