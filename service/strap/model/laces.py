"""Which shanks share a lace: those of one row, whatever they stand for and whatever the ornament looks like."""

from collections.abc import Iterable, Mapping

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.shop.shop import Rules
from service.strap.model.pattern import Feature, Purpose
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Lace:
    """One lace, through the shanks behind one row: `y` is the row's, `shanks` its slots from the buckle end on.

    `purpose` is what the row is for: that of its ornaments, where it has any.
    """

    y: Nm
    purpose: Purpose
    shanks: tuple[Feature, ...]
    length: Nm


def laces_of(features: Iterable[Feature], ornaments: Mapping[str, Ornament], rules: Rules) -> tuple[Lace, ...]:
    """A lace for each row that has shanks, from the upper edge to the lower.

    Its length runs from the first shank to the last, with a knot and tail at each end, and the waste for the taper on
    top of all of it (common practice).
    """
    rows: dict[Nm, list[Feature]] = {}
    for feature in features:
        ornament = ornaments.get(feature.item or "")
        if ornament and ornament.fixing.is_laced:
            rows.setdefault(feature.y, []).append(feature)
    return tuple(_lace(y, rows[y], rules) for y in sorted(rows))


def _lace(y: Nm, row: list[Feature], rules: Rules) -> Lace:
    shanks = tuple(sorted(row, key=lambda each: each.x))
    purposes = {each.purpose for each in row}
    return Lace(
        y=y,
        purpose="ornament" if "ornament" in purposes else shanks[0].purpose,
        shanks=shanks,
        length=round((shanks[-1].x - shanks[0].x + 2 * rules.lace_knot) * (1 + rules.lace_waste)),
    )
