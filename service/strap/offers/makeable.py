"""Which counts of ornaments can be made at which lengths, without laying out every pair."""

from dataclasses import fields, is_dataclass

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.errors import Refusal
from service.strap.model.spec import Billet, Body, End, Ends, Joint, Lining, Size, SizeHoles, Spec, Stitching, StrapEnd
from service.strap.model.spec_changes import sized
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.offers.row_grid import RowGrid
from service.strap.solve import solve

_KNOWN: dict[type, frozenset[str]] = {
    Spec: frozenset(
        {
            "construction",
            "size",
            "units",
            "worn_by",
            "hand",
            "leather",
            "lining",
            "stitching",
            "body",
            "billet",
            "joint",
            "ends",
            "ornaments",
            "between",
            "border",
        }
    ),
    Size: frozenset({"body_length", "finished_length", "measured_from", "girth", "ease"}),
    Body: frozenset({"width", "end"}),
    End: frozenset({"shape", "depth"}),
    Billet: frozenset({"width", "buckle", "tip", "size_holes", "keeper", "ring", "tip_length"}),
    SizeHoles: frozenset({"count", "spacing"}),
    Joint: frozenset({"fastener", "count", "spacing", "end_distance"}),
    Ends: frozenset({"head", "foot"}),
    StrapEnd: frozenset({"kind", "shape", "depth", "hole", "slot", "ring"}),
    Row: frozenset({"item", "items", "arrange", "mirrored", "centrepiece", "count", "spacing", "rows"}),
    Rows: frozenset({"count", "across", "distance"}),
    Lining: frozenset({"leather", "purpose", "held_by"}),
    Stitching: frozenset({"inset", "per_inch", "pitch", "strands", "edges", "turn_back"}),
    Between: frozenset({"item", "per_gap"}),
    Border: frozenset({"item", "inset", "step"}),
}
"""The members of a spec that `RowGrid` takes account of. A spec that says anything else is solved pair by pair."""


class Accepted:
    """Whether the solver makes a pattern of a spec: of each it is asked once, for as long as this lives."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self._known: dict[Spec, bool] = {}

    def __call__(self, spec: Spec) -> bool:
        """The solver's answer."""
        if spec not in self._known:
            self._known[spec] = is_accepted(spec, self.shop)
        return self._known[spec]

    def remember(self, spec: Spec, *, is_made: bool) -> None:
        """Take note of what the solver said of a spec to somebody else."""
        self._known[spec] = is_made


class Makeable:
    """Whether a spec can be made with other lengths and counts than its own. The answers are the solver's."""

    def __init__(self, spec: Spec, accepted: Accepted) -> None:
        self._spec = spec
        self._accepted = accepted
        unspliced = accepted.shop.defaults.splices == "none"
        self._grid = RowGrid(spec, accepted.shop) if unspliced and is_understood(spec) else None

    def __call__(self, length: Nm, count: int | None) -> bool:
        """Whether the spec is accepted with its size set to `length` and its row to `count`."""
        known = self._grid.verdict(length, count) if self._grid else None
        return self.solved(length, count) if known is None else known

    def solved(self, length: Nm, count: int | None) -> bool:
        """The same by solving it, which for one pair takes less than to prepare a grid."""
        return self._accepted(sized(self._spec, length, count))


def is_accepted(spec: Spec, shop: Shop) -> bool:
    """Whether the solver makes a pattern of a spec."""
    try:
        solve(spec, shop)
    except Refusal:
        return False
    return True


def is_understood(part: object) -> bool:
    """Whether a spec says nothing but what `RowGrid` takes account of: at most one border."""
    if isinstance(part, Spec) and part.construction == "two_ends":
        return False
    if isinstance(part, tuple):
        return all(map(is_understood, part)) and not (len(part) > 1 and isinstance(part[0], Border))
    if not is_dataclass(part):
        return True
    known = _KNOWN.get(type(part), frozenset())
    said = ((field, getattr(part, field.name)) for field in fields(part))
    return all(is_understood(value) if field.name in known else value == field.default for field, value in said)
