"""The list of the kinds of end: whoever has to know them reads it. A billet is no kind, but ends in one of them."""

from service.strap.ends.folded import BUCKLE, RING
from service.strap.ends.loop import LOOP
from service.strap.ends.plain import HOLE, PLAIN, SLOT
from service.strap.ends.snap import SNAP
from service.strap.ends.tip import TIP
from service.strap.model.kind import Kind
from service.strap.model.spec import EndKind, StrapEnd

KINDS: tuple[Kind, ...] = (BUCKLE, RING, LOOP, SNAP, HOLE, SLOT, TIP, PLAIN)
"""A kind is told by what is said of an end before those after it."""
_BY_NAME = {kind.name: kind for kind in KINDS}


def kind_of(end: StrapEnd) -> Kind:
    """The kind of an end that is no billet and whose kind is named."""
    return _BY_NAME[end.kind or "plain"]


def told_kind(end: StrapEnd) -> EndKind:
    """The kind of an end by what is said of it."""
    if end.kind or end.end:
        return end.kind or "billet"
    blank = StrapEnd()
    telling = ((kind.name, name) for kind in KINDS for name in kind.tells)
    return next((kind for kind, name in telling if getattr(end, name) != getattr(blank, name)), "plain")
