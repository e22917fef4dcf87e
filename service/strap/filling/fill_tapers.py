"""Saying what tapers and cut edges left unsaid: how long and in which line, how fine and how deep."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.model.filled import FilledEdge
from service.strap.model.filled_ends import FilledTaper
from service.strap.model.irons import iron_meant
from service.strap.model.spec_edges import BodyTaper, Edge, Taper


def filled_taper(taper: Taper, width: Nm, shop: Shop) -> FilledTaper:
    """A taper from a piece's `width`: over so many times what it narrows by, and straight."""
    narrows = max(width - taper.to, 0)
    return FilledTaper(
        to=taper.to,
        over=taper.over or max(round(narrows * shop.rules.taper_over), 1),
        line=taper.line or "straight",
    )


def filled_edge(edge: Edge | None, shop: Shop, defaults: Defaults) -> FilledEdge | None:
    """How edges are cut: as an iron of the shop's does, or by its usual repeat and depth; `None` of straight ones."""
    if edge is None or edge.shape == "straight":
        return None
    iron = iron_meant(edge, shop)
    return FilledEdge(
        shape=edge.shape or (iron.shape if iron else "pinked"),
        repeat=edge.repeat or (iron.repeat if iron else defaults.edge_repeat),
        depth=edge.depth or (iron.depth if iron else defaults.edge_depth),
        iron=edge.iron,
    )


def said_again(given: BodyTaper | None, head: FilledTaper | None, foot: FilledTaper | None) -> BodyTaper | None:
    """The tapers of a body as they are filled, still said for both ends alike or for each."""
    if given is None:
        return None
    if given.to is None or head is None:
        return replace(given, head=head, foot=foot)
    return replace(given, over=head.over, line=head.line)
