"""The two ends of a filled spec, whichever way it says them."""

from service.shop.goods import Buckle, Nm
from service.shop.shop import Rules, Shop
from service.strap.ends.billet import BilletEnd
from service.strap.ends.folded import BuckleEnd, RingEnd
from service.strap.ends.plain import HangingEnd, PlainEnd
from service.strap.ends.tip import TipEnd
from service.strap.errors import Path
from service.strap.model.job import End, said
from service.strap.model.spec import Billet, Spec, StrapEnd
from service.strap.model.spec import End as Shape
from service.strap.plane.outline import EndForm


def ends_of(spec: Spec, shop: Shop, rules: Rules) -> tuple[End, End]:
    """Head and foot. Every id of the spec is one of the shop's."""
    width = said(spec.body.width)
    if spec.construction == "open":
        head, foot = spec.ends.head, spec.ends.foot
        return _open_end(head, ("ends", "head"), width, shop), _open_end(foot, ("ends", "foot"), width, shop)
    if spec.construction == "one_piece":
        return _buckle(spec.billet, width, shop, rules, on_billet=False), _tip(spec.billet, width, shop)
    billet_width, tip, body = said(spec.billet.width), _form(spec.billet.tip), _form(spec.body.end)
    inner = _buckle(spec.billet, billet_width, shop, rules, on_billet=True), _tip(spec.billet, billet_width, shop)
    return (
        BilletEnd(
            place=("billet",), width=width, name="buckle_billet", inner=inner[0], riveted_form=tip, body_form=body
        ),
        BilletEnd(
            place=("billet",), width=width, name="tongue_billet", inner=inner[1], riveted_form=tip, body_form=body
        ),
    )


def _form(end: Shape | StrapEnd) -> EndForm:
    return said(end.shape), said(end.depth)


def _open_end(end: StrapEnd, place: Path, width: Nm, shop: Shop) -> End:
    form = _form(end)
    if end.kind == "ring":
        return RingEnd(place=place, width=width, on_billet=False, form=form, held=shop.rings[said(end.ring)])
    if end.kind in ("hole", "slot"):
        size = said(end.hole if end.kind == "hole" else end.slot)
        return HangingEnd(place=place, width=width, form=form, size=size, is_slot=end.kind == "slot")
    return PlainEnd(place=place, width=width, form=form)


def _buckle(billet: Billet, width: Nm, shop: Shop, rules: Rules, *, on_billet: bool) -> BuckleEnd:
    return BuckleEnd(
        place=("billet",),
        width=width,
        on_billet=on_billet,
        held=_buckle_of(billet, shop),
        slot=billet.prong_slot,
        loop=(billet.keeper_width or rules.keeper_width) if billet.keeper else None,
        tag_ring=shop.rings[billet.ring] if billet.ring else None,
    )


def _tip(billet: Billet, width: Nm, shop: Shop) -> TipEnd:
    return TipEnd(
        place=("billet",),
        width=width,
        form=_form(billet.tip),
        fits=_buckle_of(billet, shop),
        count=said(billet.size_holes.count),
        spacing=said(billet.size_holes.spacing),
        hole_diameter=billet.size_holes.diameter,
        tip_length=billet.tip_length,
    )


def _buckle_of(billet: Billet, shop: Shop) -> Buckle:
    return shop.buckles[said(billet.buckle)]
