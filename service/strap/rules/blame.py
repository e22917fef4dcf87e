"""What in the spec several families find to blame: the row, the item that is set there, the buckle, the joint."""

from collections.abc import Callable

from service.strap.ends.tip import TipEnd
from service.strap.errors import Path
from service.strap.model.job import End, Job
from service.strap.model.joining import Joining
from service.strap.model.pattern import PieceName
from service.strap.model.places import item_path
from service.strap.model.row import place_in_items
from service.strap.model.rule import Kind, Measured
from service.strap.model.short_form import body_widths
from service.strap.model.two_ends import FOOT, HEAD, end_width

ROW: Path = ("ornaments", "count")
BUCKLE: Path = ("billet", "buckle")
KEEPER: Path = ("billet", "keeper")
KEEPER_WIDTH: Path = ("billet", "keeper_width")
KEEPERS_BETWEEN: Path = ("keepers_between",)
LINING: Path = ("lining",)
FASTENER: Path = ("joint", "fastener")
JOINT_SPACING: Path = ("joint", "spacing")
END_DISTANCE: Path = ("joint", "end_distance")
BODY_WIDTH: Path = ("body", "width")
_JOINING: PieceName = "joining_strap"

_DECORATION: tuple[Kind, ...] = ("border", "between", "ornament")
"""A border is to blame before what stands between, and that before the row."""


def is_decoration(measured: Measured, _job: Job) -> bool:
    """Whether it is about something that decorates the strap."""
    return any(kind in measured.kinds for kind in _DECORATION)


def item(measured: Measured, job: Job) -> Path:
    """Where the spec names the decoration that it is about."""
    kind = next(kind for kind in _DECORATION if kind in measured.kinds)
    return item_path(job.spec, kind, measured.item)


def row_item(measured: Measured, job: Job) -> Path:
    """Where the spec names the larger of two neighbours that it is about, in a row of several at a given pitch.

    Any other row stands as its count lets it.
    """
    row = job.spec.ornaments
    numbers = [int(each.id.rsplit(".", 1)[1]) - 1 for each in measured.places if each.purpose == "ornament"]
    if row is None or not isinstance(row.spacing, int) or len(numbers) < 2:
        return ROW
    largest = max((number % len(job.row) for number in numbers), key=lambda place: job.row[place].diameter)
    index = place_in_items(row, largest)
    return ROW if index is None else ("ornaments", "items", str(index))


def piece_width(measured: Measured, job: Job) -> Path:
    """Where the spec gives the width of the piece that it is measured on."""
    piece = _piece(measured)
    billet = billet_called(piece, job)
    if billet:
        return (*billet.place, "width")
    return (_JOINING, "width") if piece == _JOINING else BODY_WIDTH


def cut_width(measured: Measured, job: Job) -> Path:
    """The same of a cut that is too near an edge: of a body that narrows its narrower end is to blame."""
    place = piece_width(measured, job)
    return _narrow_end(job) if place == BODY_WIDTH and job.spec.body.taper else place


def _narrow_end(job: Job) -> Path:
    """Where the spec says how wide the narrower end of its body is."""
    head, foot = (end_width(job.spec.body, is_foot=is_foot) for is_foot in (False, True))
    return body_widths(job.spec.body)[-1 if foot < head else 0]


def billet_called(piece: str, job: Job) -> End | None:
    """The end whose billet is called so; none for the body."""
    return next((end for end in job.ends if end.billet_name == piece), None)


def size_holes(member: str) -> Callable[[Measured, Job], Path]:
    """Where the spec gives a member of the row of size holes that it is measured at."""
    return lambda measured, job: (*place_of(row_of(measured.places[0].id, job)), "size_holes", member)


def row_of(hole: str, job: Job) -> TipEnd | Joining:
    """Whose row a size hole belongs to: a piece with a tip at both ends numbers those of its head first."""
    piece, _, n = hole.split(".")
    if job.joining and piece == _JOINING:
        return job.joining
    head, foot = job.ends
    first, last = (_tips(job) * 2)[:2]
    if head.is_billet:
        return first if piece == head.billet_name else last
    if foot.is_billet:
        return last if piece == foot.billet_name else first
    return first if int(n) <= first.count else last


def row_at(path: Path, job: Job) -> TipEnd | Joining:
    """Whose row of size holes the spec says something of at a path."""
    rows: list[TipEnd | Joining] = [*_tips(job), *((job.joining,) if job.joining else ())]
    return next((row for row in rows if path[: len(place_of(row))] == place_of(row)), rows[0])


def place_of(row: TipEnd | Joining) -> Path:
    """Where the spec says that of which a row of size holes is a part."""
    return row.place if isinstance(row, TipEnd) else (_JOINING,)


def _tips(job: Job) -> list[TipEnd]:
    """Each tip, the head's first."""
    return [end.outermost for end in job.ends if isinstance(end.outermost, TipEnd)]


def _piece(measured: Measured) -> str:
    """The piece that it is measured on: of its first place, or the one that it is about."""
    return measured.places[0].id.partition(".")[0] if measured.places else measured.kinds[0]


def hanging_end(measured: Measured, job: Job) -> Path:
    """Where the spec gives the hanging hole, or slot, that it is about."""
    two = job.spec.two
    place, end = (HEAD, two.head) if measured.places[0].id.endswith(".1") else (FOOT, two.foot)
    within = ("end",) if end.end else ()
    return (*place, *within, end.outermost.kind)


def snap_of(measured: Measured, job: Job) -> Path:
    """Where the spec names the snap that it is about."""
    return (*_snapped(measured, job).place, "snap")


def stud_spacing(measured: Measured, job: Job) -> Path:
    """Where the spec says how far apart the studs are."""
    return (*_snapped(measured, job).place, "spacing")


def _snapped(measured: Measured, job: Job) -> End:
    """The end with the half of a snap that it is about. Of two alike the foot's are numbered on from the head's."""
    piece, purpose, n = measured.places[0].id.split(".")
    alike = [end.outermost for end in job.ends if f"snap_{end.outermost.snap_half}" == purpose]
    of_head = alike[0].stud_count
    return alike[-1 if piece.startswith("foot_") or int(n) > of_head else 0]


def keeper_path(measured: Measured, job: Job) -> Path:
    """Where the spec asks for the keeper that it is about: at its buckle, or between its ornaments."""
    at = measured.check.at
    between = at[0].startswith("keeper_between") if at else not job.keeper
    return KEEPERS_BETWEEN if between else KEEPER


def keeper_width(measured: Measured, job: Job) -> Path:
    """Where the spec says how wide that keeper is."""
    path = keeper_path(measured, job)
    return (*path, "width") if path == KEEPERS_BETWEEN else KEEPER_WIDTH
