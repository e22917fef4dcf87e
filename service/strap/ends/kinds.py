"""The list of the kinds of end: whoever has to know them reads it. A billet is no kind, but ends in one of them."""

from collections.abc import Mapping
from typing import Any

from service.strap.ends.folded import BUCKLE, RING
from service.strap.ends.loop import LOOP
from service.strap.ends.plain import HOLE, PLAIN, SLOT
from service.strap.ends.snap import SNAP
from service.strap.ends.tip import TIP
from service.strap.model.filled_ends import FilledEnd
from service.strap.model.kind import FilledAs, Kind, Unsaid
from service.strap.model.spec import EndKind, StrapEnd

KINDS: tuple[Kind[Any], ...] = (BUCKLE, RING, LOOP, SNAP, HOLE, SLOT, TIP, PLAIN)
"""A kind is told by what is said of an end before those after it."""
_BY_NAME: Mapping[EndKind, Kind[Any]] = {kind.name: kind for kind in KINDS}
_BY_FILLED: Mapping[type[FilledEnd], Kind[Any]] = {kind.filled: kind for kind in KINDS}

_UNSAID = StrapEnd()
_TELLING = tuple((kind.name, name, getattr(_UNSAID, name)) for kind in KINDS for name in kind.tells)
"""Each kind with a member that tells it, and what that is where nothing is said."""


def kind_of(end: FilledAs) -> Kind[FilledAs]:
    """The kind of a filled end that is no billet: each is filled in as a class of its own."""
    return _BY_FILLED[type(end)]


def filled_as(end: StrapEnd, unsaid: Unsaid) -> FilledEnd:
    """An end that is no billet, filled in by its kind."""
    filled: FilledEnd = _BY_NAME[told_kind(end)].fill(end, unsaid)
    return filled


def told_kind(end: StrapEnd) -> EndKind:
    """The kind of an end by what is said of it."""
    if end.kind or end.end:
        return end.kind or "billet"
    return next((kind for kind, name, unsaid in _TELLING if getattr(end, name) != unsaid), "plain")
