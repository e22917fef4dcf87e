"""Edges cut in whole repeats, where they are not refused."""

from collections.abc import Sequence

from service.shop.shop import Shop
from service.strap.model.filled import FilledEdge
from service.strap.plane.narrowing import Place
from service.strap.plane.teeth import CutEdge, repeats

_MOST_REPEATS = 2000
"""Along one edge: whoever asks for more is refused by the longest strap."""


def unless_too_fine(cut: FilledEdge | None, shop: Shop) -> FilledEdge | None:
    """How an edge is cut; `None`, as of a straight one, where its repeat is finer than the shop cuts: it is refused.

    Thousands of roots take longer than all else that is told of such a strap.
    """
    return None if cut is None or cut.repeat < shop.rules.edge_repeat_least else cut


def cut_along(edge: Sequence[Place], cut: FilledEdge, *, upper_only: bool = False) -> CutEdge:
    """The whole number of repeats along an edge that comes nearest to the one asked for."""
    return CutEdge(cut.shape, repeats(edge, cut.repeat, _MOST_REPEATS), cut.depth, upper_only)
