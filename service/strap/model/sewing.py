"""How whatever is sewn is sewn, whether or not a spec says anything of stitches."""

from typing import NamedTuple

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.plane.lengths import INCH


class Sewing(NamedTuple):
    """From the edge to a line, from hole to hole, and the strands of thread in each line."""

    inset: Nm
    pitch: Nm
    strands: int


def sewing(job: Job) -> Sewing:
    """As the spec has it stitched, else as the shop usually does."""
    if job.stitching:
        return Sewing(job.stitch_inset, job.stitch_pitch, job.stitching.strands)
    usual = job.shop.defaults.in_units(job.units)
    return Sewing(usual.stitch_inset, round(INCH / usual.stitches_per_inch), usual.stitch_strands)
