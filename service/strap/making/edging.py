"""An edging: two strips, one along each long edge of a body, that stand out beyond it."""

from service.shop.goods import Nm
from service.strap.making.cut_edges import cut_along, unless_too_fine
from service.strap.making.splices import lapped
from service.strap.model.edging_at import EdgingAt
from service.strap.model.job import Job
from service.strap.model.pattern import Piece
from service.strap.plane.beside import edge_between
from service.strap.plane.narrowing import Narrowing
from service.strap.plane.outline import Outline, strap_outline
from service.strap.plane.spacing import round_up
from service.strap.plane.teeth import length_along


def edging_along(job: Job, outline: Outline, start: Nm, end: Nm) -> EdgingAt | None:
    """Where an edging lies along a body, between what its ends take; `None` where there is none, or no room for one.

    It reaches as far behind its line of stitches as that lies inside the edge, or inside the edge's roots.
    """
    asked, leather = job.spec.edging, job.edging
    if asked is None or leather is None or end <= start:
        return None
    cut = unless_too_fine(asked.cut, job.shop)
    return EdgingAt(
        start=start,
        end=end,
        reach=asked.reach,
        hold=outline.root_depth + 2 * job.stitch_inset,
        lies=asked.lies,
        cut=cut_along(edge_between(outline, start, end), cut, upper_only=True) if cut else None,
        leather=leather,
    )


def edging_of(job: Job, body: Piece) -> tuple[Piece, ...]:
    """The strips of a body's edging, both alike, as long as its edge is; as few strips as their leather allows."""
    at = body.edging
    if at is None:
        return ()
    leather = at.leather
    length = round_up(round(length_along(edge_between(body.outline, at.start, at.end))), job.grid)
    width = at.reach + at.hold
    flat = Narrowing(width, 0)
    outline = strap_outline(length, width, ("square", 0), ("square", 0), (flat, flat) if at.cut else None, at.cut)
    piece = Piece(
        name="edging",
        leather=leather,
        length=length,
        width=width,
        outline=outline,
        features=(),
        thickness=leather.thickness,
        skived=leather.thickness,
        count=2,
        edging=at,
    )
    return (lapped(job, piece),)
