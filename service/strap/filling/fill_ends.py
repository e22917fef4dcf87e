"""Saying what the ends of a strap left unsaid, whichever way they were asked for."""

from dataclasses import replace

from service.strap.ends.kinds import filled_as, told_kind
from service.strap.ends.shapes import end_form, tip_form
from service.strap.filling.fill_tapers import filled_taper
from service.strap.model.filled import FilledBody
from service.strap.model.filled_ends import FilledBillet, FilledEnd, FilledEnds
from service.strap.model.kind import Unsaid
from service.strap.model.spec import FOLDED, Ends, StrapEnd
from service.strap.model.two_ends import end_width
from service.strap.plane.outline import EndForm


def is_held_whole(ends: Ends) -> bool:
    """Whether the body itself goes round a buckle or ring, or is the whole strap; what is said of an end tells it."""
    kinds = {told_kind(end) for end in ends.both}
    return "billet" not in kinds or not kinds.isdisjoint(FOLDED)


def fill_ends(ends: Ends, body: FilledBody, unsaid: Unsaid) -> FilledEnds:
    """Both ends, at the width that the body has there."""
    head, foot = (
        _filled(end, body, replace(unsaid, width=end_width(body, is_foot=is_foot)))
        for end, is_foot in ((ends.head, False), (ends.foot, True))
    )
    return FilledEnds(head=head, foot=foot)


def _filled(end: StrapEnd, body: FilledBody, unsaid: Unsaid) -> FilledEnd:
    if end.end is None:
        return filled_as(end, unsaid)
    own = end.width or min(unsaid.defaults.billet_width, unsaid.width)
    shape, depth = tip_form(end, own, unsaid.shop)
    taper = filled_taper(end.taper, own, unsaid.shop) if end.taper else None
    inner = filled_as(end.end, replace(unsaid, width=taper.to if taper else own))
    under = _under(body, unsaid)
    return FilledBillet(
        kind="billet", join=end.join, adds=end.adds, shape=shape, depth=depth, width=own, taper=taper, end=inner,
        under=under,
    )  # fmt: skip


def _under(body: FilledBody, unsaid: Unsaid) -> EndForm:
    """The form of a body's end under a billet: where it narrows, a half circle is as deep as its width makes it."""
    shape, depth = end_form(body.end, unsaid.defaults.body_end, unsaid.width)
    return shape, unsaid.width // 2 if shape == "round" and body.taper else depth
