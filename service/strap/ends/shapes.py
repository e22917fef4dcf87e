"""The shop's usual shapes and buckles for a width."""

from service.shop.goods import EndShape, Nm
from service.shop.shop import Shop
from service.strap.model.spec import End, StrapEnd
from service.strap.plane.outline import EndForm, default_depth


def end_form(end: End | StrapEnd, shape: EndShape, width: Nm) -> EndForm:
    """The form of an end: its shape, which is `shape` if nothing else was said, and its depth."""
    shape = end.shape or shape
    return shape, default_depth(shape, width) if end.depth is None else end.depth


def tip_form(end: End | StrapEnd, width: Nm, shop: Shop) -> EndForm:
    """A tip is as deep as the shop's end punch for this shape and width, if it has one."""
    shape = end.shape or shop.defaults.tip
    if end.depth is None:
        for punch in shop.end_punches.values():
            if punch.width == width and punch.shape == shape:
                return shape, punch.depth
    return end_form(end, shape, width)


def buckle_for(width: Nm, shop: Shop) -> str:
    """The default buckle where it takes this width, else the first that does, else the default."""
    first = shop.buckles[shop.defaults.buckle]
    for buckle in (first, *shop.buckles.values()):
        if 0 <= buckle.inside_width - width <= shop.rules.buckle_slack:
            return buckle.id
    return first.id
