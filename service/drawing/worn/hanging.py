"""A strap that hangs: the finished look turned upright, what it hangs by at the top.

All of it is turned, its light and its shadow too: leather and metal are lit from one side.
"""

from service.drawing.finished.framing import framed
from service.drawing.finished.made_up import MadeUp
from service.drawing.finished.view import finished_view
from service.drawing.model import Colour, Drawing, Group, Layer
from service.drawing.worn.wording import hanging_description, hanging_title
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern

_BY = ("ring", "hole", "slot", "loop", "buckle")
"""What a strap may hang by, the likeliest first."""


def hanging(
    pattern: Pattern, strap: MadeUp, shop: Shop, *, units: Units, aspect: float | None, background: Colour | None
) -> Drawing:
    """The strap upright, by its head where neither end is made to hang by."""
    ends = [end.kind for end in pattern.ends.outermost]
    by = next((kind for kind in _BY if kind in ends), None)
    flat = finished_view(pattern, shop, units=units, background=background)
    is_head = by is None or ends.index(by) == 0
    width, height = framed(flat.height, flat.width, aspect)
    x, y = (width - flat.height) / 2, (height - flat.width) / 2
    turned = (x + flat.height, y, 90.0) if is_head else (x, y + flat.width, -90.0)
    title, told = hanging_title(pattern, shop, units), hanging_description(pattern, strap, shop, units)
    layers = tuple(Layer(each.id, each.title, (Group(each.items, *turned),)) for each in flat.layers)
    return Drawing(width, height, title, told, flat.language, layers, background)
