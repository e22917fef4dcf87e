"""A strap that hangs: the finished look turned upright, what it hangs by at the top."""

from collections.abc import Iterable, Iterator

from service.drawing.finished.made_up import MadeUp
from service.drawing.finished.view import finished_view
from service.drawing.model import Colour, Drawing, Group, Image, Item, Layer, Stamp
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
    width, height = flat.height, flat.width
    if aspect is not None:
        width, height = max(width, height * aspect), max(height, width / aspect)
    x, y = (width - flat.height) / 2, (height - flat.width) / 2
    turned = (x + flat.height, y, 90.0) if is_head else (x, y + flat.width, -90.0)
    title, told = hanging_title(pattern, shop, units), hanging_description(pattern, strap, shop, units)
    layers = tuple(
        Layer(each.id, each.title, (Group(tuple(_upright(each.items, turned[2])), *turned),)) for each in flat.layers
    )
    return Drawing(width, height, title, told, flat.language, layers, background)


def _upright(items: Iterable[Item], turned: float) -> Iterator[Item]:
    """Light stays where it is: round things that are turned with the strap are turned back. Pictures hang with it."""
    known: dict[int, tuple[Item, ...]] = {}
    for item in items:
        if isinstance(item, Group) and not item.rotation:
            yield Group(tuple(_upright(item.items, turned)), item.x, item.y, name=item.name, id=item.id)
        elif isinstance(item, Stamp) and not any(isinstance(each, Image) for each in item.items):
            back = known.setdefault(id(item.items), (Group(item.items, rotation=-turned),))
            yield Stamp(back, item.x, item.y, item.id)
        else:
            yield item
