"""The shop's usual shapes, holes and buckles for a width."""

from dataclasses import replace

from service.shop.goods import EndShape, Nm
from service.shop.shop import Defaults, Shop
from service.strap.model.job import said
from service.strap.model.spec import End, SizeHoles, StrapEnd
from service.strap.plane.outline import EndForm, default_depth


def end_form(end: End, shape: EndShape, width: Nm) -> End:
    """The end with its shape, which is `shape` if nothing else was said, and its depth."""
    shape = end.shape or shape
    return End(shape=shape, depth=default_depth(shape, width) if end.depth is None else end.depth)


def shaped(end: StrapEnd, shape: EndShape, width: Nm) -> StrapEnd:
    """An end of a strap with its shape, which is `shape` if nothing else was said, and its depth."""
    form = end_form(End(shape=end.shape, depth=end.depth), shape, width)
    return replace(end, shape=form.shape, depth=form.depth)


def form_of(end: End | StrapEnd) -> EndForm:
    """The form of an end that says it."""
    return said(end.shape), said(end.depth)


def buckle_for(width: Nm, shop: Shop) -> str:
    """The default buckle where it takes this width, else the first that does, else the default."""
    first = shop.buckles[shop.defaults.buckle]
    for buckle in (first, *shop.buckles.values()):
        if 0 <= buckle.inside_width - width <= shop.rules.buckle_slack:
            return buckle.id
    return first.id


def tip_form(end: End, width: Nm, shop: Shop) -> End:
    """A tip is as deep as the shop's end punch for this shape and width, if it has one."""
    shape = end.shape or shop.defaults.tip
    depth = end.depth
    if depth is None:
        punches = shop.end_punches.values()
        depth = next((p.depth for p in punches if (p.shape, p.width) == (shape, width)), None)
    return end_form(End(shape=shape, depth=depth), shape, width)


def filled_holes(holes: SizeHoles, defaults: Defaults) -> SizeHoles:
    """A row of size holes with its count and spacing."""
    return SizeHoles(
        count=holes.count or defaults.size_holes,
        spacing=holes.spacing or defaults.size_hole_spacing,
        diameter=holes.diameter,
    )
