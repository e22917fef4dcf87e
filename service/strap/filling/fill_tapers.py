"""Saying what tapers left unsaid: over what length a piece narrows, and in which line."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.filled_ends import FilledTaper
from service.strap.model.spec import BodyTaper, Taper


def filled_taper(taper: Taper, width: Nm, shop: Shop) -> FilledTaper:
    """A taper from a piece's `width`: over so many times what it narrows by, and straight."""
    narrows = max(width - taper.to, 0)
    return FilledTaper(
        to=taper.to,
        over=taper.over or max(round(narrows * shop.rules.taper_over), 1),
        line=taper.line or "straight",
    )


def said_again(given: BodyTaper | None, head: FilledTaper | None, foot: FilledTaper | None) -> BodyTaper | None:
    """The tapers of a body as they are filled, still said for both ends alike or for each."""
    if given is None:
        return None
    if given.to is None or head is None:
        return replace(given, head=head, foot=foot)
    return replace(given, over=head.over, line=head.line)
