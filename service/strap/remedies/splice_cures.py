"""Cures for splices: other laps, strips that are long enough, a row that leaves room between its ornaments.

None of them splices a strap by which somebody may be led or tied: the job of such a strap has no splices.
"""

from dataclasses import replace

from service.shop.goods import Leather, Nm
from service.strap.errors import FigureFault, Path
from service.strap.making.layout import lay_out
from service.strap.model.job import Job
from service.strap.model.spec_changes import Change
from service.strap.remedies.cure_tools import LEAVE_OUT, Candidates, by_thickness, wider

_COUNT: Path = ("body", "splices", "count")
_LINES: Path = ("body", "splices", "stitch_lines")
_MOST_MORE = 4


def more_splices(job: Job, fault: FigureFault) -> Candidates:
    """As many laps as its leather takes, or leather with longer strips."""
    yield Change(path=_COUNT, value=None, why="splice it as often as it takes")
    yield from _longer_strips(job, fault.found)


def fewer_splices(job: Job, _fault: FigureFault) -> Candidates:
    """Fewer laps, as far as its leather allows, or leather that needs none."""
    for count in _fewer(job):
        yield Change(path=_COUNT, value=count, why="splice it less often")
    yield from _longer_strips(job, _length(job))


def splice_place(job: Job, _fault: FigureFault) -> Candidates:
    """Laps in other places, strips that need fewer, and then a row, and what goes with it, that leaves them room."""
    laps = _laps(job)
    for count in (*_fewer(job), *range(laps + 1, laps + _MOST_MORE)):
        yield Change(path=_COUNT, value=count, why="lap it in other places")
    small = [part for part in ("border", "between") if getattr(job.spec, part) is not None]
    for part in small:
        yield LEAVE_OUT[part]
    if len(small) > 1:
        yield tuple(LEAVE_OUT[part] for part in small)
    for leather in by_thickness(job):
        if leather.strip_length > job.leather.strip_length:
            yield _other_leather(leather)
    yield from _looser_row(job)
    if job.spec.ornaments:
        yield LEAVE_OUT["ornaments"]


def fewer_lines(job: Job, fault: FigureFault) -> Candidates:
    """Fewer lines in each lap, or a wider strap."""
    lines = job.splices.stitch_lines if job.splices else 2
    for count in range(lines - 1, 1, -1):
        yield Change(path=_LINES, value=count, why="sew fewer lines")
    yield from wider(job, (lines + 1) * (fault.short))


def _laps(job: Job) -> int:
    """How many laps its body has."""
    return len(lay_out(job).pieces[0].splices)


def _fewer(job: Job) -> range:
    """Counts of laps below its own that its leather allows."""
    splices = job.spec.body.splices
    body = replace(job.spec.body, splices=splices and replace(splices, count=None))
    return range(_laps(job) - 1, _laps(replace(job, spec=replace(job.spec, body=body))) - 1, -1)


def _length(job: Job) -> Nm:
    return lay_out(job).pieces[0].length


def _looser_row(job: Job) -> Candidates:
    """Fewer ornaments, the most of them first that may do."""
    row = job.spec.ornaments
    if row:
        for count in dict.fromkeys(row.count * share // 8 for share in (7, 6, 5, 4, 2)):
            if count and not (row.centrepiece and count % 2):
                yield Change(path=("ornaments", "count"), value=count, why="set fewer")


def _longer_strips(job: Job, length: Nm) -> Candidates:
    for leather in by_thickness(job):
        if leather.strip_length >= length:
            yield _other_leather(leather)


def _other_leather(leather: Leather) -> Change:
    return Change(path=("leather",), value=leather.id, why="take a leather with longer strips")
