"""What cures are made with: steps that a ruler has, longer and wider straps, smaller goods."""

from collections.abc import Iterator

from service.shop.goods import Nm, Ornament
from service.strap.errors import Path
from service.strap.job import Job
from service.strap.lengths import INCH, MM
from service.strap.made import size_path, stated_size
from service.strap.places import ornament_ids
from service.strap.spec_changes import Change

Cures = Iterator[Change]


LEAVE_OUT = {
    "ornaments": Change(path=("ornaments",), value=None, why="leave out the ornaments"),
    "between": Change(path=("between",), value=None, why="leave out what stands between"),
    "border": Change(path=("border",), value=None, why="leave out the border"),
}
"""The bluntest cure of each part of the decoration."""


def ruler_step(job: Job) -> Nm:
    """The step to which lengths are rounded, so that a remedy can be read off a ruler."""
    return INCH // 8 if job.units == "in" else MM


def round_up(length: Nm, step: Nm) -> Nm:
    """The next whole number of steps."""
    return -(-length // step) * step


def longer(job: Job, by: Nm) -> Cures:
    """A size longer by this much; of a table of sizes, each label that is."""
    if by <= 0:
        return
    size = job.spec.size
    if size.table is not None:
        sizes = job.shop.size_tables[size.table].sizes
        for label, length in sorted(sizes.items(), key=lambda entry: entry[1]):
            if length >= stated_size(job) + by:
                yield Change(path=("size", "label"), value=label, why="take a larger size")
        return
    length = round_up(stated_size(job) + by, ruler_step(job))
    yield Change(path=size_path(job), value=length, is_length=True, why="make it longer")


def wider(job: Job, by: Nm) -> Cures:
    """A wider body; where the strap is one strip, the widths that a buckle of the shop takes."""
    needed = job.body_width + max(by, 0)
    if job.spec.construction == "one_piece":
        for buckle in sorted(job.shop.buckles.values(), key=lambda buckle: buckle.inside_width):
            width = buckle.inside_width // (INCH // 4) * (INCH // 4)
            if width >= needed:
                yield Change(path=("body", "width"), value=width, is_length=True, why="make it wider")
        return
    if by > 0:
        yield Change(
            path=("body", "width"), value=round_up(needed, ruler_step(job)), is_length=True, why="make it wider"
        )


def smaller(job: Job, item: Ornament | None, path: Path) -> Cures:
    """Smaller ornaments of the same family, the largest first."""
    if item is None:
        return
    family = [other for other in job.shop.ornaments.values() if other.family == item.family]
    for other in sorted(family, key=lambda other: -other.diameter):
        if other.diameter < item.diameter:
            yield Change(path=path, value=other.id, why="take a smaller one")


def smaller_ornaments(job: Job, part: str) -> Cures:
    """Something smaller for each item that a part of the spec names, the largest first."""
    goods = job.shop.ornaments
    named = [(path, goods[name]) for path, name in ornament_ids(job.spec) if name and path[0] == part]
    for path, item in sorted(named, key=lambda entry: -entry[1].diameter):
        yield from smaller(job, item, path)
