"""What in the spec several families find to blame: the row, the item that is set there, the buckle, the joint."""

from service.strap.errors import Path
from service.strap.model.job import End, Job
from service.strap.model.places import item_path
from service.strap.model.row import place_in_items
from service.strap.model.rule import Kind, Measured
from service.strap.model.two_ends import FOOT, HEAD

ROW: Path = ("ornaments", "count")
BUCKLE: Path = ("billet", "buckle")
KEEPER: Path = ("billet", "keeper")
LINING: Path = ("lining",)
FASTENER: Path = ("joint", "fastener")
JOINT_SPACING: Path = ("joint", "spacing")
END_DISTANCE: Path = ("joint", "end_distance")
BODY_WIDTH: Path = ("body", "width")

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
    numbers = [int(each.rsplit(".", 1)[1]) - 1 for each in measured.check.at if ".ornament." in each]
    if row is None or not isinstance(row.spacing, int) or len(numbers) < 2:
        return ROW
    largest = max((number % len(job.row) for number in numbers), key=lambda place: job.row[place].diameter)
    index = place_in_items(row, largest)
    return ROW if index is None else ("ornaments", "items", str(index))


def hanging_end(measured: Measured, job: Job) -> Path:
    """Where the spec gives the hanging hole, or slot, that it is about."""
    two = job.spec.two
    place, end = (HEAD, two.head) if measured.check.at[0].endswith(".1") else (FOOT, two.foot)
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
    piece, purpose, n = measured.check.at[0].split(".")
    alike = [end.outermost for end in job.ends if f"snap_{end.outermost.snap_half}" == purpose]
    of_head = alike[0].stud_count
    return alike[-1 if piece.startswith("foot_") or int(n) > of_head else 0]


def size_holes_at(measured: Measured, member: str) -> Path:
    """Where the spec says something of the size holes that it is about: of a joining strap's, or of the tongue's."""
    own = measured.check.at[0].startswith("joining_strap.")
    return ("joining_strap" if own else "billet", "size_holes", member)
