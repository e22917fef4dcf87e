"""A piece of the job's leather."""

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece, PieceName
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.outline import Outline


def piece_of(
    job: Job,
    name: PieceName,
    outline: Outline,
    features: list[Feature],
    share: float = 1,
    *,
    stitched: tuple[StitchLine, ...] = (),
    lap: Nm = 0,
) -> Piece:
    """A piece of this outline. `share` is what skiving leaves of its thickness, where it is skived."""
    return Piece(
        name=name,
        leather=job.leather,
        length=outline.length,
        width=outline.width,
        outline=outline,
        features=tuple(features),
        thickness=job.leather.thickness,
        skived=round(job.leather.thickness * share),
        stitch_lines=stitched,
        lap=lap,
    )
