"""The two ends of a filled spec as objects, with their goods."""

from typing import assert_never

from service.shop.goods import Buckle, Nm
from service.shop.shop import Rules, Shop
from service.strap.ends.billet import BilletEnd
from service.strap.ends.folded import BuckleEnd, RingEnd
from service.strap.ends.plain import HangingEnd, PlainEnd
from service.strap.ends.tip import TipEnd
from service.strap.errors import Path
from service.strap.filling.shapes import buckle_for
from service.strap.model.job import End, said
from service.strap.model.pattern import PieceName
from service.strap.model.spec import End as Shape
from service.strap.model.spec import EndKind, Spec, StrapEnd
from service.strap.model.two_ends import end_places, is_said_by_ends, two_ends
from service.strap.plane.outline import EndForm

_BILLETS: dict[str, tuple[PieceName, PieceName]] = {
    "buckle": ("buckle_billet", "foot_buckle_billet"),
    "tip": ("head_tongue_billet", "tongue_billet"),
}
"""What a billet at the head and one at the foot are called, by what they end in."""


def ends_of(spec: Spec, shop: Shop, rules: Rules) -> tuple[End, End]:
    """Head and foot. Every id of the spec is one of the shop's."""
    ends, places = two_ends(spec), end_places(spec)
    buckled = ends.head.outermost.buckle or ends.foot.outermost.buckle
    make = _Maker(spec, shop, rules, shop.buckles[buckled] if buckled else None)
    return make.end(ends.head, places[0], is_foot=False), make.end(ends.foot, places[1], is_foot=True)


class _Maker:
    """Makes the ends of one spec; a tip fits the buckle that the strap has, or else one that its width takes."""

    def __init__(self, spec: Spec, shop: Shop, rules: Rules, buckle: Buckle | None) -> None:
        self._spec = spec
        self._shop = shop
        self._rules = rules
        self._buckle = buckle
        self._body_width = said(spec.body.width)

    def end(self, end: StrapEnd, place: Path, *, is_foot: bool) -> End:
        """The end of the body."""
        if end.kind != "billet":
            return self._outer(end, place, self._body_width, on_billet=False)
        within = (*place, "end") if is_said_by_ends(self._spec) else place
        inner = self._outer(said(end.end), within, said(end.width), on_billet=True)
        names = _BILLETS.get(said(said(end.end).kind), ("head_billet", "foot_billet"))
        return BilletEnd(
            place=place,
            width=self._body_width,
            name=names[is_foot],
            inner=inner,
            riveted_form=_form(end),
            body_form=_form(self._spec.body.end),
        )

    def _outer(self, end: StrapEnd, place: Path, width: Nm, *, on_billet: bool) -> End:
        kind: EndKind = said(end.kind)
        match kind:
            case "plain":
                return PlainEnd(place=place, width=width, form=_form(end))
            case "hole":
                return HangingEnd(place=place, width=width, form=_form(end), size=said(end.hole), is_slot=False)
            case "slot":
                return HangingEnd(place=place, width=width, form=_form(end), size=said(end.slot), is_slot=True)
            case "ring":
                ring = self._shop.rings[said(end.ring)]
                return RingEnd(place=place, width=width, on_billet=on_billet, form=_form(end), held=ring)
            case "buckle":
                return self._buckled(end, place, width, on_billet=on_billet)
            case "tip":
                return self._tip(end, place, width)
            case "billet":
                raise AssertionError("a billet does not end in a billet")
            case _:
                assert_never(kind)

    def _buckled(self, end: StrapEnd, place: Path, width: Nm, *, on_billet: bool) -> BuckleEnd:
        return BuckleEnd(
            place=place,
            width=width,
            on_billet=on_billet,
            held=self._shop.buckles[said(end.buckle)],
            slot=end.prong_slot,
            loop=(end.keeper_width or self._rules.keeper_width) if end.keeper == "loose" else None,
            tag_ring=self._shop.rings[end.ring] if end.ring else None,
        )

    def _tip(self, end: StrapEnd, place: Path, width: Nm) -> TipEnd:
        holes = end.size_holes
        return TipEnd(
            place=place,
            width=width,
            form=_form(end),
            prong_of=self._buckle or self._shop.buckles[buckle_for(width, self._shop)],
            count=said(holes.count),
            spacing=said(holes.spacing),
            hole_diameter=holes.diameter,
            tip_length=end.tip_length,
        )


def _form(end: Shape | StrapEnd) -> EndForm:
    return said(end.shape), said(end.depth)
