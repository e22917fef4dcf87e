"""How much thread the lines of stitches take."""

from collections import Counter

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.pattern import Hardware, Piece, StitchLine
from service.strap.model.plies import thickness


def thread_of(job: Job, pieces: tuple[Piece, ...]) -> tuple[Hardware, ...]:
    """One thread a line, lines of one length together."""
    stitching = job.stitching
    if stitching is None:
        return ()
    lines = [line for piece in pieces for line in piece.stitch_lines]
    counts = Counter((line.purpose, stitching.strands * thread_length(job, line)) for line in lines)
    return tuple(
        Hardware(item="thread", count=count, purpose=purpose, length=length)
        for (purpose, length), count in counts.items()
    )


def thread_length(job: Job, line: StitchLine) -> Nm:
    """One strand of a line: the usual multiple of the seam (common practice), but never less than its way.

    On that way it lies along the seam, and goes through every ply once a stitch. The shop's spare comes on top, at each
    length that is drawn through.
    """
    plies = job.plies.fold if line.purpose == "fold_stitch" else job.plies.decorated
    usual = round(line.length * job.rules.thread_multiple)
    way = line.length + line.holes * thickness(plies)
    long = max(usual, way)
    return long + -(-long // job.rules.thread_drawn) * job.rules.thread_spare
