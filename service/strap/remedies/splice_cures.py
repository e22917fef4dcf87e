"""Cures for what is longer than its strips: laps, other laps, longer strips, a row that leaves room between ornaments.

None of them splices a strap by which somebody may be led or tied.
"""

from dataclasses import replace

from service.shop.goods import Nm
from service.strap.errors import FigureFault, Path
from service.strap.making.layout import lay_out
from service.strap.model.job import Job
from service.strap.model.loads import may_bear_load
from service.strap.model.places import lining_path
from service.strap.model.spec_changes import Change
from service.strap.remedies.cure_tools import LEAVE_OUT, Candidates, by_thickness, wider
from service.strap.remedies.worn_cures import usual_tips

_LEATHER: Path = ("leather",)
_COUNT: Path = ("body", "splices", "count")
_LINES: Path = ("body", "splices", "stitch_lines")
_MOST_MORE = 4


def spliced(job: Job) -> Candidates:
    """Several strips in place of one, unless somebody may be led or tied by the strap.

    A spec that will not have it is asked to only where the shop makes such straps of itself.
    """
    usual = job.shop.defaults.splices == "allowed"
    if (usual or job.given.body.splices != "none") and job.splices is None and not may_bear_load(job.spec):
        yield Change(path=("body", "splices"), value=None if usual else "allowed", why="splice it")


def longer_lining(job: Job, fault: FigureFault) -> Candidates:
    """What makes the lining shorter, or of longer strips; or none."""
    yield from usual_tips(job)
    yield from spliced(job)
    yield from longer_strips(job, fault.found, lining_path(job.spec))
    yield Change(path=("lining",), value=None, why="leave out the lining")


def longer_strips(job: Job, least: Nm, path: Path = _LEATHER) -> Candidates:
    """Leathers with strips of at least so long; for a strap at least half and at most twice as thick as its own."""
    thick = job.leather.thickness
    for leather in by_thickness(job):
        is_alike = thick <= 2 * leather.thickness <= 4 * thick
        if leather.strip_length >= least and (is_alike or path != _LEATHER):
            yield Change(path=path, value=leather.id, why="take a leather with longer strips")


def more_splices(job: Job, fault: FigureFault) -> Candidates:
    """As many laps as its leather takes, or leather with longer strips."""
    yield Change(path=_COUNT, value=None, why="splice it as often as it takes")
    yield from longer_strips(job, fault.found)


def fewer_splices(job: Job, _fault: FigureFault) -> Candidates:
    """Fewer laps, as far as its leather allows, or leather that needs none."""
    for count in _fewer(job):
        yield Change(path=_COUNT, value=count, why="splice it less often")
    yield from longer_strips(job, _length(job))


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
    yield from longer_strips(job, job.leather.strip_length + 1)
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
