"""Which counts of ornaments can be made at which lengths."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.errors import Refusal
from service.strap.solve import solve
from service.strap.spec import Spec


class Makeable:
    """Whether a spec can be made with other lengths and counts than its own."""

    def __init__(self, spec: Spec, shop: Shop) -> None:
        self._spec = spec
        self._shop = shop

    def __call__(self, length: Nm, count: int | None) -> bool:
        """Whether the spec is accepted with its size set to `length` and its row to `count`."""
        try:
            solve(sized(self._spec, length, count), self._shop)
        except Refusal:
            return False
        return True


def sized(spec: Spec, length: Nm, count: int | None) -> Spec:
    """The spec with its stated size set to `length`, and its row to `count` where one is given."""
    name = next(name for name in ("body_length", "finished_length", "girth") if getattr(spec.size, name) is not None)
    size = replace(spec.size, **{name: length})
    if count is None or spec.ornaments is None:
        return replace(spec, size=size)
    return replace(spec, size=size, ornaments=replace(spec.ornaments, count=count))
