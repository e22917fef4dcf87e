"""Saying what the ends of a strap left unsaid, whichever way they were asked for."""

from dataclasses import replace

from service.strap.ends.kinds import filled_as, told_kind
from service.strap.ends.shapes import tip_form
from service.strap.model.filled_ends import FilledBillet, FilledEnd, FilledEnds
from service.strap.model.kind import Unsaid
from service.strap.model.spec import Ends, Spec, StrapEnd
from service.strap.model.two_ends import is_said_by_ends, two_ends
from service.strap.plane.outline import EndForm


def named_ends(spec: Spec) -> Ends:
    """Both ends with their kinds; what is said of an end tells it."""
    ends = two_ends(spec)
    return Ends(head=_named(ends.head), foot=_named(ends.foot)) if is_said_by_ends(spec) else ends


def _named(end: StrapEnd) -> StrapEnd:
    return replace(end, kind=told_kind(end), end=end.end and _named(end.end))


def fill_ends(ends: Ends, under: EndForm, unsaid: Unsaid) -> FilledEnds:
    """Both ends, of which each is named. `under` a billet the body has that form."""
    return FilledEnds(head=_filled(ends.head, under, unsaid), foot=_filled(ends.foot, under, unsaid))


def _filled(end: StrapEnd, under: EndForm, unsaid: Unsaid) -> FilledEnd:
    if end.end is None:
        return filled_as(end, unsaid)
    own = end.width or min(unsaid.defaults.billet_width, unsaid.width)
    shape, depth = tip_form(end, own, unsaid.shop)
    inner = filled_as(end.end, Unsaid(width=own, shop=unsaid.shop, defaults=unsaid.defaults))
    return FilledBillet(kind="billet", shape=shape, depth=depth, width=own, end=inner, under=under)
