"""The two ends of a filled spec as objects, with their goods."""

from service.shop.goods import Buckle, Nm
from service.shop.shop import Rules, Shop
from service.strap.ends.billet import BilletEnd
from service.strap.ends.kinds import kind_of
from service.strap.errors import Path
from service.strap.filling.holds import Holds
from service.strap.model.filled import Filled
from service.strap.model.filled_ends import FilledBillet, FilledEnd
from service.strap.model.job import End
from service.strap.model.kind import Making
from service.strap.model.pattern import PieceName
from service.strap.model.two_ends import end_places, end_width, is_said_by_ends

_BILLETS: dict[str, tuple[PieceName, PieceName]] = {
    "buckle": ("buckle_billet", "foot_buckle_billet"),
    "tip": ("head_tongue_billet", "tongue_billet"),
}
"""What a billet at the head, or one at the foot, is called, by what it ends in."""
_ALIKE: dict[str, tuple[PieceName, PieceName]] = {
    "buckle": ("head_buckle_billet", "foot_buckle_billet"),
    "tip": ("head_tongue_billet", "foot_tongue_billet"),
}
"""What two billets that end in the same are called."""


def ends_of(spec: Filled, shop: Shop, rules: Rules, holds: Holds) -> tuple[End, End]:
    """Head and foot. Every id of the spec is one of the shop's."""
    ends, places = spec.two, end_places(spec)
    buckled = next((end.buckle for end in ends.outermost if end.buckle), None)
    make = _Maker(spec, shop, rules, shop.buckles[buckled] if buckled else None, holds)
    return make.end(ends.head, places[0], is_foot=False), make.end(ends.foot, places[1], is_foot=True)


class _Maker:
    """Makes the ends of one spec, each of its kind."""

    def __init__(self, spec: Filled, shop: Shop, rules: Rules, buckle: Buckle | None, holds: Holds) -> None:
        self._spec = spec
        self._shop = shop
        self._rules = rules
        self._buckle = buckle
        inner = [end.end.kind if isinstance(end, FilledBillet) else None for end in spec.two.both]
        self._alike = inner[0] == inner[1]
        self._holds = holds

    def end(self, end: FilledEnd, place: Path, *, is_foot: bool) -> End:
        """The end of the body."""
        width = end_width(self._spec.body, is_foot=is_foot)
        if not isinstance(end, FilledBillet):
            return self._outer(end, place, width, on_billet=False)
        within = (*place, "end") if is_said_by_ends(self._spec) else place
        names = (_ALIKE if self._alike else _BILLETS).get(end.end.kind, ("head_billet", "foot_billet"))
        return BilletEnd(
            place=place,
            width=width,
            name=names[is_foot],
            inner=self._outer(end.end, within, end.outer_width, on_billet=True),
            joined_width=end.width,
            taper=end.taper,
            joined=self._holds.of_joint(end.join),
            adds=end.adds,
            riveted_form=end.form,
            body_form=end.under,
        )

    def _outer(self, end: FilledEnd, place: Path, width: Nm, *, on_billet: bool) -> End:
        making = Making(
            place=place, width=width, on_billet=on_billet, shop=self._shop, rules=self._rules, buckle=self._buckle,
            holds=self._holds,
        )  # fmt: skip
        return kind_of(end).make(end, making)
