"""The strap that joins two buckles: what is left unsaid of it, what has no meaning, and it with its goods."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.ends.shapes import tip_form
from service.strap.errors import Path
from service.strap.model.filled import Filled, FilledJoining, FilledShape
from service.strap.model.filled_ends import FilledBuckle, FilledHoles
from service.strap.model.joining import Joining
from service.strap.model.spec import JoiningStrap, Range, Spec
from service.words import say


def fill_joining(given: JoiningStrap | None, width: Nm, shop: Shop, defaults: Defaults) -> FilledJoining | None:
    """It with its width, its tips and its holes; `width` is that of what goes through the buckles."""
    if given is None:
        return None
    own, holes = given.width or width, given.size_holes
    spacing = holes.spacing or defaults.size_hole_spacing
    count = holes.count or (defaults.size_holes if given.adds is None else _steps(given.adds, spacing) + 1)
    if given.adds and count > 1:
        spacing = (given.adds.most - given.adds.least) // (2 * (count - 1))
    shape, depth = tip_form(given.tip, own, shop)
    return FilledJoining(
        width=own,
        adds=given.adds,
        length=given.length,
        size_holes=FilledHoles(count=count, spacing=spacing, diameter=holes.diameter),
        tip=FilledShape(shape=shape, depth=depth),
    )


def _steps(adds: Range, spacing: Nm) -> int:
    """From hole to hole in the row at each end: what comes nearest the wanted spacing, one at least where it gives."""
    row = (adds.most - adds.least) // 2
    return max(round(row / spacing), 1) if row else 0


def meaningless_joining(given: Spec, filled: Filled) -> Iterator[tuple[Path, str]]:
    """What is said of a joining strap that this strap has no place for."""
    joining = given.joining_strap
    if joining is None:
        return
    if not all(end.kind == "buckle" for end in filled.two.outermost):
        yield ("joining_strap",), say("a joining strap joins two buckles, one at each end")
    holes, adds = joining.size_holes, joining.adds
    if adds and holes.count and holes.spacing and _differ(2 * (holes.count - 1) * holes.spacing, adds):
        spacing = ("joining_strap", "size_holes", "spacing")
        yield spacing, say("how far apart they are follows from their count and from what it adds")


def _differ(rows: Nm, adds: Range) -> bool:
    """By more than what is rounded to a nanometre a hole."""
    return abs(adds.most - adds.least - rows) > 100


def joining_of(spec: Filled, shop: Shop) -> Joining | None:
    """It with its goods: its holes pass the wider prong of the two buckles."""
    filled = spec.joining_strap
    if filled is None:
        return None
    buckles = [shop.buckles[end.buckle] for end in spec.two.outermost if isinstance(end, FilledBuckle)]
    return Joining(
        width=filled.width,
        form=(filled.tip.shape, filled.tip.depth),
        count=filled.size_holes.count,
        spacing=filled.size_holes.spacing,
        adds=filled.adds.most if filled.adds else None,
        length=filled.length,
        hole_diameter=filled.size_holes.diameter,
        prong_of=max(buckles, key=lambda buckle: buckle.prong_width),
    )
