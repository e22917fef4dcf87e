"""The lining as a piece."""

from service.shop.goods import Nm
from service.strap.making.splices import spliced
from service.strap.model.job import Job
from service.strap.model.lining import backs, rise_over
from service.strap.model.pattern import Piece
from service.strap.plane.spacing import round_up


def lining_of(job: Job, lined: Piece, free: tuple[Nm, Nm]) -> tuple[Piece, ...]:
    """The lining of a piece, if there is one: the same outline, and nothing punched before it is glued on.

    It is spliced where it has to be, in the `free` part of what it lines, off what goes through both.
    """
    leather = job.lining
    if leather is None:
        return ()
    covered = backs(lined.features, job.shop.ornaments, job.leather) if job.covers else ()
    rise = round_up(rise_over(covered), job.grid)
    spare, along = leather.usable_width - lined.width, leather.strip_length - lined.length - rise
    if job.splices is None or along >= 0:
        spare = min(spare, along)
    is_cut_to_size = bool(lined.edging and lined.edging.lies == "between")
    lining = Piece(
        name="lining",
        leather=leather,
        length=lined.length,
        width=lined.width,
        outline=lined.outline,
        features=(),
        thickness=leather.thickness,
        skived=leather.thickness,
        purpose="cover" if job.covers else "carry",
        is_cut_to_size=is_cut_to_size,
        over=0 if job.spec.lining_is_loose or is_cut_to_size else max(min(job.rules.lining_over, spare // 2), 0),
        rise=rise,
        is_loose=job.spec.lining_is_loose,
    )
    through = (each for each in lined.features if not (job.covers and each.item in job.shop.ornaments))
    return (spliced(job, lining, free, through, lined.splices),)
