"""Saying what tapers and cut edges left unsaid: how long and in which line, how fine and how deep."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.model.filled import FilledEdge, FilledEdging
from service.strap.model.filled_ends import FilledTaper
from service.strap.model.irons import iron_meant
from service.strap.model.spec_edges import BodyTaper, Edge, Edging, Taper


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


def filled_edging(edging: Edging | None, shop: Shop, defaults: Defaults, *, glued: bool) -> FilledEdging | None:
    """An edging, pinked where nothing is said, between the plies of a strap whose lining is `glued` on."""
    if edging is None:
        return None
    shaped = replace(edging, shape=edging.shape or (None if edging.iron else "pinked"))
    cut = filled_edge(shaped, shop, defaults)
    return FilledEdging(
        leather=edging.leather,
        shape=cut.shape if cut else "straight",
        repeat=cut.repeat if cut else None,
        depth=cut.depth if cut else None,
        iron=edging.iron,
        reach=edging.reach or defaults.edging_reach,
        lies=edging.lies or ("between" if glued else "behind"),
        cut=cut,
    )


def said_again(given: BodyTaper | None, head: FilledTaper | None, foot: FilledTaper | None) -> BodyTaper | None:
    """The tapers of a body as they are filled, still said for both ends alike or for each."""
    if given is None:
        return None
    if given.to is None or head is None:
        return replace(given, head=head, foot=foot)
    return replace(given, over=head.over, line=head.line)
