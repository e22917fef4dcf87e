"""How many holes and marks a spec asks for, by arithmetic: what bounds the work before anything is laid out."""

from service.shop.shop import Shop
from service.strap.errors import Cure, Fault, FigureFault, Path
from service.strap.model.filled import Filled
from service.strap.model.places import PITCH, part_path
from service.strap.model.two_ends import size_hole_rows
from service.words import say

_PLIES_OF_JOINTS = 8
"""Holes that one more rivet in a joint takes at most: two ends, of up to four plies each."""


def features_asked(spec: Filled) -> tuple[tuple[int, Path], ...]:
    """How many holes and marks a filled spec asks for at most, by arithmetic, each with the field that says so."""
    count = spec.ornaments.count if spec.ornaments else 0
    longest = spec.size.stated
    rows = row.rows.count if (row := spec.ornaments) and row.rows else 1
    between = max(count, 0) * sum(part.per_gap for part in spec.betweens)
    given = row.spacing if row and isinstance(row.spacing, int) else None
    pitch = longest if given is None else given
    steps = [min(border.step, max(pitch, 1)) for border in spec.borders]
    along = max(2 * longest, count * (given or 0))  # a row at a given pitch may be longer than its strap
    border = sum(2 * max(along // step + 1, count) for step in steps)  # in register: one at each ornament at least
    by_pitch = given is not None and any(step == given for step in steps)
    return (
        (border, PITCH if by_pitch else (*part_path("border", spec.border, 0), "step")),
        (between * rows, (*part_path("between", spec.between, 0), "per_gap")),
        (count * (rows + bool(spec.keepers_between)), ("ornaments", "count")),
        *((row.count or 0, (*place, "count")) for place, row in size_hole_rows(spec)),
        (_PLIES_OF_JOINTS * spec.joint.count, ("joint", "count")),
    )


def too_many_features(spec: Filled, shop: Shop) -> list[Fault]:
    """Bounds the work before anything is laid out."""
    most = shop.limits.features_max
    asked = features_asked(spec)
    found = sum(count for count, _ in asked)
    if found <= most:
        return []
    path = max(asked, key=lambda each: each[0])[1]
    detail = say(
        "The spec asks for about {found} holes and marks; this shop takes at most {most} on one strap.",
        found=found,
        most=most,
    )
    return [
        FigureFault(
            path=path,
            code="too_many_features",
            detail=detail,
            limit=most,
            found=found,
            is_length=False,
            cure=Cure.FEWER_FEATURES,
        )
    ]
