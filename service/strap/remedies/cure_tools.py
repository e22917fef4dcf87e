"""What candidates are made with: steps that a ruler has, longer and wider straps, smaller goods."""

from collections.abc import Iterator

from service.shop.goods import Buckle, Leather, Nm
from service.shop.ornaments import Ornament
from service.strap.ends.billet import BilletEnd
from service.strap.ends.shapes import buckle_for
from service.strap.errors import Path
from service.strap.making.measures import size_path
from service.strap.model.job import Job
from service.strap.model.places import ADDS, ornament_ids
from service.strap.model.short_form import billet_of, body_widths
from service.strap.model.spec_changes import Change, Changes
from service.strap.model.two_ends import FOOT, said_ends
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.spacing import round_up

Candidates = Iterator[Change | Changes]
"""Candidates: single changes, or several that are of use together only."""


LEAVE_OUT = {
    "ornaments": Change(path=("ornaments",), value=None, why="leave out the ornaments"),
    "between": Change(path=("between",), value=None, why="leave out what stands between"),
    "border": Change(path=("border",), value=None, why="leave out the border"),
}
"""The bluntest cure of each part of the decoration."""


def ruler_step(job: Job) -> Nm:
    """The step to which lengths are rounded, so that a remedy can be read off a ruler."""
    return INCH // 8 if job.units == "in" else MM


def longer(job: Job, by: Nm) -> Candidates:
    """A size longer by this much; of a table of sizes, each label that is.

    One that is joined round a girth has a longer body where the joining strap adds less.
    """
    if by <= 0:
        return
    size = job.spec.size
    if size.girth is not None:
        yield from _joined_by_less(job, by)
    if size.table is not None:
        sizes = job.shop.size_tables[size.table].sizes
        for label, length in sorted(sizes.items(), key=lambda entry: entry[1]):
            if length >= size.stated + by:
                yield Change(path=("size", "label"), value=label, why="take a larger size")
        return
    length = round_up(size.stated + by, ruler_step(job))
    why = "make it longer" if size.girth is None else "make it for a larger girth"
    yield Change(path=size_path(job), value=length, is_length=True, why=why)


def _joined_by_less(job: Job, by: Nm) -> Candidates:
    joining = job.spec.joining_strap
    if joining is None or joining.adds is None:
        return
    less, why = round_up(by, ruler_step(job)), "let the joining strap add less"
    adds = {"from": joining.adds.least - less, "to": joining.adds.most - less}
    if adds["from"] > 0:
        yield tuple(Change(path=(*ADDS, name), value=at, is_length=True, why=why) for name, at in adds.items())


def buckles_alike(job: Job) -> list[Buckle]:
    """Buckles of the shop with as many prongs as the strap's own."""
    prongs = len(job.buckle.prong_places) if job.buckle else 1
    return [buckle for buckle in job.shop.buckles.values() if len(buckle.prong_places) == prongs]


def strap_for(buckle: Buckle, job: Job) -> Nm:
    """The width of the strap that a buckle takes: its inside less a quarter of the shop's slack, off a ruler."""
    step = INCH // 16 if job.units == "in" else MM
    return (buckle.inside_width - job.rules.buckle_slack // 4) // step * step


def likest_buckles(job: Job, like: Buckle) -> list[Buckle]:
    """Buckles with as many prongs, those with the bar in the same place and of the same metal first."""

    def unlike(other: Buckle) -> tuple[bool, bool, bool]:
        return (
            other.bar_place != like.bar_place,
            other.colour != like.colour,
            bool(other.roller) is not bool(like.roller),
        )

    return sorted(buckles_alike(job), key=unlike)


def one_of_each_width(job: Job) -> list[Buckle]:
    """Of all buckles of one width the likest to the job's own."""
    found: dict[Nm, Buckle] = {}
    for buckle in likest_buckles(job, job.buckle) if job.buckle else ():
        found.setdefault(buckle.inside_width, buckle)
    return list(found.values())


def with_buckle(buckle: Buckle, job: Job, why: str) -> Changes:
    """Take this buckle, and its keeper where one was left out that it needs."""
    changes: Changes = (Change(path=("billet", "buckle"), value=buckle.id, why=why),)
    holds_tip = job.buckle is not None and not job.buckle.needs_keeper
    if buckle.needs_keeper and billet_of(job.given).keeper is False and holds_tip:
        changes += (Change(path=("billet", "keeper"), value=None, why="let a keeper hold the tip"),)
    if not buckle.needs_keeper and billet_of(job.given).keeper:
        changes += (Change(path=("billet", "keeper"), value=None, why="let the buckle hold the tip"),)
    return changes


def end_width_paths(job: Job) -> tuple[Path, ...]:
    """Where the width of the strap's first end is said, and of its last one that is buckled there."""
    taper = job.spec.body.taper
    if taper is None or taper.to is not None:
        return body_widths(job.spec.body)
    names = ("head", "foot") if job.closes else ("foot" if job.head.place[:2] == FOOT else "head",)
    return tuple(("body", "taper", name, "to") for name in names)


def outer_width_paths(job: Job) -> tuple[Path, ...]:
    """Where the width of the strap's first end is said, of a billet by its taper if it has one."""
    billet = job.head
    if isinstance(billet, BilletEnd):
        return ((*billet.place, *(("taper", "to") if billet.taper else ("width",))),)
    return end_width_paths(job)


def width_with(buckle: Buckle, job: Job, why: str) -> Changes:
    """The width that a buckle takes, and the buckle itself where the shop would not take it by itself."""
    paths: tuple[Path, ...] = (("billet", "width"),) if job.head.is_billet else end_width_paths(job)
    width = strap_for(buckle, job)
    taken = billet_of(job.given).buckle or buckle_for(width, job.shop)
    changes = tuple(Change(path=path, value=width, is_length=True, why=why) for path in paths)
    return changes if taken == buckle.id else (*changes, *with_buckle(buckle, job, "take its buckle"))


def wider(job: Job, by: Nm) -> Candidates:
    """A wider body; where the strap is one strip, the widths that a buckle of the shop takes.

    One that narrows may do so by less, or not at all.
    """
    yield from less_taper(job, by)
    needed = job.body_width + max(by, 0)
    if job.buckle and not job.head.is_billet and not job.spec.body.taper:
        for buckle in sorted(one_of_each_width(job), key=lambda buckle: buckle.inside_width):
            if strap_for(buckle, job) >= needed:
                yield width_with(buckle, job, "make it wider")
        return
    if by > 0:
        yield Change(
            path=("body", "width"), value=round_up(needed, ruler_step(job)), is_length=True, why="make it wider"
        )


def less_taper(job: Job, by: Nm) -> Candidates:
    """Ends of the body that are wider by this much, or as wide as it; billets of one width."""
    tapers = job.spec.body.narrows
    if any(tapers):
        width = round_up(min(taper.to for taper in tapers if taper) + max(by, 0), ruler_step(job) // 2)
        paths = body_widths(job.spec.body)
        yield tuple(Change(path=path, value=width, is_length=True, why="make its ends wider") for path in paths)
        yield Change(path=("body", "taper"), value=None, why="leave out the taper")
    for place, end, _ in said_ends(job.spec):
        if end.taper:
            yield Change(path=(*place, "taper"), value=None, why="leave out the billet's taper")


def by_thickness(job: Job) -> list[Leather]:
    """The other leathers of the shop, the nearest in thickness first."""
    others = [leather for leather in job.shop.leathers.values() if leather.id != job.leather.id]
    return sorted(others, key=lambda other: abs(other.thickness - job.leather.thickness))


def fewer_size_holes(job: Job) -> Candidates:
    """Two holes fewer: at the middle one the tip reaches less far, and the row before them begins and ends later."""
    holes = job.spec.tip.size_holes.count if job.spec.tip else 0
    for count in range(holes - 2, 0, -2):
        yield Change(path=("billet", "size_holes", "count"), value=count, why="punch fewer size holes")


def in_its_place(job: Job, path: Path, item: str, why: str) -> Changes:
    """Another item at a path, and wherever else the same list says the one that stands there."""
    named = list(ornament_ids(job.spec))
    present = next((name for place, name in named if place == path), None)
    alike = (place for place, name in named if name == present and place[:-1] == path[:-1] and place[-1].isdigit())
    return tuple(Change(path=place, value=item, why=why) for place in dict.fromkeys((path, *alike)))


def smaller(job: Job, item: Ornament | None, path: Path) -> Candidates:
    """Smaller ornaments of the same family, the largest first; then others that ring, or do not, as this one.

    Bells stay fixed as they are: a lace is wanted, or is not.
    """
    if item is None:
        return
    alike = [other for other in job.shop.ornaments.values() if _rings(other) == _rings(item)]
    for other in sorted(alike, key=lambda other: (other.family != item.family, -other.diameter)):
        if other.diameter < item.diameter:
            yield in_its_place(job, path, other.id, "take a smaller one")


def _rings(item: Ornament) -> str:
    """How a bell is fixed; nothing of what does not ring."""
    return item.fixing.word if item.family == "bell" else ""


def smaller_ornaments(job: Job, part: str) -> Candidates:
    """Something smaller for each item that a part of the spec names, the largest first."""
    goods = job.shop.ornaments
    named: dict[tuple[Path, str], Path] = {}
    for path, name in ornament_ids(job.spec):
        if name and path[0] == part:
            named.setdefault((path[:-1] if path[-1].isdigit() else path, name), path)
    for (_, name), path in sorted(named.items(), key=lambda entry: -goods[entry[0][1]].diameter):
        yield from smaller(job, goods[name], path)
