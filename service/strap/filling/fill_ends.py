"""Saying what the ends of a strap left unsaid, where `ends` says them."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.ends.kinds import kind_of, told_kind
from service.strap.ends.shapes import tip_form
from service.strap.model.kind import Unsaid
from service.strap.model.spec import End, Ends, Spec, StrapEnd
from service.strap.model.two_ends import is_said_by_ends


def name_ends(spec: Spec) -> Spec:
    """The spec with the kind of each end that `ends` says; what is said of an end tells it."""
    if not is_said_by_ends(spec):
        return spec
    head, foot = (_named(end) for end in spec.ends.both)
    return replace(spec, ends=Ends(head=head, foot=foot))


def _named(end: StrapEnd) -> StrapEnd:
    return replace(end, kind=told_kind(end), end=end.end and _named(end.end))


def fill_ends(spec: Spec, width: Nm, shop: Shop, defaults: Defaults) -> Ends:
    """Both ends, of a spec whose ends are named; untouched where `billet` says them."""
    if not is_said_by_ends(spec):
        return spec.ends
    head, foot = (_filled(end, width, shop, defaults) for end in spec.ends.both)
    return Ends(head=head, foot=foot)


def _filled(end: StrapEnd, width: Nm, shop: Shop, defaults: Defaults) -> StrapEnd:
    if end.end is None:
        return kind_of(end).fill(end, Unsaid(width=width, shop=shop, defaults=defaults))
    own = end.width or min(defaults.billet_width, width)
    riveted = tip_form(End(shape=end.shape, depth=end.depth), own, shop)
    inner = _filled(end.end, own, shop, defaults)
    return replace(end, shape=riveted.shape, depth=riveted.depth, width=own, end=inner)
