"""Saying what the ends of a strap left unsaid, whichever way they were asked for."""

from service.strap.ends.kinds import filled_as, told_kind
from service.strap.ends.shapes import tip_form
from service.strap.model.filled_ends import FilledBillet, FilledEnd, FilledEnds
from service.strap.model.kind import Unsaid
from service.strap.model.spec import FOLDED, Ends, StrapEnd
from service.strap.plane.outline import EndForm


def is_held_whole(ends: Ends) -> bool:
    """Whether the body itself goes round a buckle or ring, or is the whole strap; what is said of an end tells it."""
    kinds = {told_kind(end) for end in ends.both}
    return "billet" not in kinds or not kinds.isdisjoint(FOLDED)


def fill_ends(ends: Ends, under: EndForm, unsaid: Unsaid) -> FilledEnds:
    """Both ends. `under` a billet the body has that form."""
    return FilledEnds(head=_filled(ends.head, under, unsaid), foot=_filled(ends.foot, under, unsaid))


def _filled(end: StrapEnd, under: EndForm, unsaid: Unsaid) -> FilledEnd:
    if end.end is None:
        return filled_as(end, unsaid)
    own = end.width or min(unsaid.defaults.billet_width, unsaid.width)
    shape, depth = tip_form(end, own, unsaid.shop)
    inner = filled_as(end.end, Unsaid(width=own, shop=unsaid.shop, defaults=unsaid.defaults))
    return FilledBillet(
        kind="billet", join=end.join, adds=end.adds, shape=shape, depth=depth, width=own, end=inner, under=under
    )  # fmt: skip
