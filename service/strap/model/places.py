"""Where things stand in a spec: the path of each ornament, whichever way it was asked for."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.errors import Path
from service.strap.model.spec import End, Lining, Spec, StrapEnd
from service.strap.model.two_ends import end_width, said_ends

PARTS = {"ornament": "ornaments", "between": "between", "border": "border"}
"""The member of the spec that asks for features of each purpose."""
PITCH: Path = ("ornaments", "spacing", "pitch")
"""Where a caller gives a pitch; in the spec `spacing` itself holds it."""


def part_path(name: str, parts: object, index: int) -> Path:
    """Where one of several parts stands: several are a list, one may stand alone."""
    return (name, str(index)) if isinstance(parts, tuple) else (name,)


def ornament_ids(spec: Spec) -> Iterator[tuple[Path, str | None]]:
    """The path of each id of an ornament, with the id."""
    row = spec.ornaments
    if row:
        yield ("ornaments", "item"), row.item
        yield ("ornaments", "centrepiece"), row.centrepiece
        for index, name in enumerate(row.items or ()):
            yield ("ornaments", "items", str(index)), name
    for index, between in enumerate(spec.betweens):
        yield (*part_path("between", spec.between, index), "item"), between.item
    for index, border in enumerate(spec.borders):
        yield (*part_path("border", spec.border, index), "item"), border.item


def item_path(spec: Spec, purpose: str, item: str) -> Path:
    """The path at which a spec asks for this item for this purpose."""
    part = PARTS[purpose]
    paths = (path for path, name in ornament_ids(spec) if path[0] == part and name == item)
    return next(paths, (part, "items"))


def border_path(spec: Spec, item: str, field: str) -> Path:
    """The path of a field of the border row that is made of this item; of the innermost where several are."""
    rows = [index for index, border in enumerate(spec.borders) if border.item == item]
    innermost = max(rows, key=lambda index: spec.borders[index].inset or 0, default=0)
    return (*part_path("border", spec.border, innermost), field)


def lining_path(spec: Spec) -> Path:
    """Where the spec names the lining's leather."""
    return ("lining", "leather") if isinstance(spec.lining, Lining) else ("lining",)


def shaped_ends(spec: Spec) -> tuple[tuple[Path, End | StrapEnd, Nm], ...]:
    """The path of each end that may have a shape, with the end and its width, in a spec that says its widths."""
    head, foot = (end_width(spec.body, is_foot=is_foot) for is_foot in (False, True))
    return (
        (("body", "end"), spec.body.end, min(head, foot)),
        (("billet", "tip"), spec.billet.tip, spec.billet.width or foot),
        *said_ends(spec),
    )


def shape_path(place: Path, member: str) -> Path:
    """Where the spec gives the `shape` or the `depth` of the end at a place."""
    return (*place, "tip", member) if place == ("billet",) else (*place, member)


ADDS: Path = ("joining_strap", "adds")
_ADDS = {"from": "least", "to": "most"}
"""What callers say in words of Python's."""


def held_at(path: Path) -> Path:
    """Where the spec holds what a caller gives at a path."""
    if path == PITCH:
        return path[:-1]
    return (*path[:-1], _ADDS[path[-1]]) if path[:2] == ADDS and len(path) > len(ADDS) else path


def value_at(spec: Spec, path: Path) -> object:
    """What the spec says at a path."""
    value: object = spec
    for name in held_at(path):
        value = value[int(name)] if isinstance(value, tuple) else getattr(value, name)
    return value


def length_at(spec: Spec, path: Path) -> Nm | None:
    """The length that the spec says at a path, if it says one there."""
    value = value_at(spec, path)
    return value if isinstance(value, int) else None
