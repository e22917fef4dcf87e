"""How much thread the lines of stitches take."""

from collections import Counter

from service.shop.goods import Leather, Nm
from service.strap.model.job import Job
from service.strap.model.pattern import Hardware, Piece
from service.strap.model.plies import thickness
from service.strap.model.sewing import sewing
from service.strap.model.stitch_line import StitchLine


def thread_of(job: Job, pieces: tuple[Piece, ...]) -> tuple[Hardware, ...]:
    """One thread a line, lines of one length together."""
    lines = [(line, piece) for piece in pieces for line in piece.stitch_lines]
    if not lines:
        return ()
    strands = sewing(job).strands
    counts = Counter((line.purpose, strands * thread_length(job, line, piece.thickness)) for line, piece in lines)
    return tuple(
        Hardware(item="thread", count=count, purpose=purpose, length=length)
        for (purpose, length), count in counts.items()
    )


def thread_length(job: Job, line: StitchLine, lap: Nm) -> Nm:
    """One strand of a line: the usual multiple of the seam (common practice), but never less than its way.

    On that way it lies along the seam, and goes through every ply once a stitch. The shop's spare comes on top, at each
    length that is drawn through. A splice is as thick as the one ply that its `lap` is skived to.
    """
    through = lap if line.purpose == "splice_stitch" else thickness(_plies(job, line))
    usual = round(line.length * job.rules.thread_multiple)
    way = line.length + line.holes * through
    long = max(usual, way)
    return long + -(-long // job.rules.thread_drawn) * job.rules.thread_spare


def _plies(job: Job, line: StitchLine) -> tuple[Leather, ...]:
    edging = (job.edging,) if job.edging else ()
    if line.purpose == "edge_stitch":
        return (*job.plies.decorated, *edging)
    return {"fold_stitch": job.plies.fold, "joint_stitch": job.plies.joint}.get(line.purpose, job.plies.decorated)
