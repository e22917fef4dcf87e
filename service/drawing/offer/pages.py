"""All pages of an offer."""

from collections.abc import Iterator
from typing import Literal

from service.drawing import lines, palette, words
from service.drawing.model import Group, Item, LineTo, MoveTo, Path, Text
from service.drawing.offer.blocks import Head, OfferedStrap, Sums
from service.drawing.offer.pictures import pictures_of
from service.drawing.offer.reckoning import reckoning_blocks
from service.drawing.parts.wrap import wrap
from service.drawing.printed.document import Document, Page
from service.drawing.printed.flow import Block, Heading, Prose, flow_well
from service.drawing.printed.paper import PAPERS, PaperName
from service.drawing.sizes import Sizes
from service.shop.shop import Shop
from service.words import say
from service.workshop.cautions import cautions_of
from service.workshop.offer import Offer

OfferCopy = Literal["customer", "maker"]
"""For whom it is printed."""
SIZES = Sizes(3.4)
_MARGIN, _FOOT = 17.0, 9.0
_SMALL = 2.9
_MOST_TAGS = 6
"""Of more straps than this it is not said which a caution is of."""
_RULE = lines.pen("continuous", 0.13, palette.BLACK)


def offer_document(offer: Offer, shop: Shop, paper: PaperName, copy: OfferCopy) -> Document:
    """The offer, and in the maker's own copy how its prices come about behind it."""
    width, height = PAPERS[paper]
    wide, high = width - 2 * _MARGIN, height - 2 * _MARGIN - _FOOT
    title = _title(offer)
    blocks = tuple(_blocks(offer, shop, title, copy))
    found = list(flow_well(blocks, wide, high, SIZES))
    if copy == "maker":
        found += flow_well(tuple(reckoning_blocks(offer, shop)), wide, high, Sizes(3.0))
    name = say("{shop}, {title}", shop=shop.name, title=title)
    foot = say("{name}: the maker's own copy", name=name) if copy == "maker" else name
    pages = tuple(
        _page(items, paper, foot, say("page {number} of {count}", number=n, count=len(found)))
        for n, items in enumerate(found, 1)
    )
    told = "; ".join(f"{row.first.tag} × {row.quantity}" for row in offer.rows)
    return Document(foot, told, words.LANGUAGE, pages)


def _title(offer: Offer) -> str:
    return say("Offer {number}", number=offer.number) if offer.number else say("Offer")


def _blocks(offer: Offer, shop: Shop, title: str, copy: OfferCopy) -> Iterator[Block]:
    yield Head(shop, offer, say("{title}: the maker's own copy", title=title) if copy == "maker" else title)
    pictures = pictures_of(offer, shop)
    for row in offer.rows:
        yield OfferedStrap(row, pictures[id(row.first.pattern)], shop)
    yield Sums(offer.quote)
    if offer.quote.tax_share:
        yield Prose(say("Prices of single lines are without tax."))
    yield from _terms(shop)
    yield Heading(say("Please mind"))
    yield from (Prose(text, sign="•") for text in _cautions(offer, shop))


def _cautions(offer: Offer, shop: Shop) -> Iterator[str]:
    """What who uses the straps has to mind: what is of all of them, then what is of some, and what stands above it."""
    told = {id(row.first.pattern): cautions_of(row.first.pattern, shop).in_use for row in offer.rows}
    tags: dict[str, list[str]] = {}
    for row in offer.rows:
        for text in told[id(row.first.pattern)]:
            tags.setdefault(text, []).append(row.first.tag)
    of_all = [text for text, own in tags.items() if len(own) == len(offer.rows)]
    yield from of_all[:-1]
    for text, own in tags.items():
        if text not in of_all:
            yield say("{tags}: {text}", tags=", ".join(own), text=text) if len(own) <= _MOST_TAGS else text
    yield from of_all[-1:]


def _terms(shop: Shop) -> Iterator[Block]:
    words_of_shop = shop.offer
    if words_of_shop.validity or words_of_shop.terms:
        yield Heading(say("Terms"))
    if words_of_shop.validity:
        yield Prose(words_of_shop.validity)
    yield from (Prose(text, sign="•") for text in words_of_shop.terms)


def _page(items: tuple[Item, ...], paper: PaperName, name: str, which: str) -> Page:
    """One page, with what it belongs to at its foot."""
    width, height = PAPERS[paper]
    base, right = height - _MARGIN, width - _MARGIN
    first, *more = wrap(name, right - _MARGIN - 30.0, _SMALL)
    foot = (
        Path((MoveTo(_MARGIN, base - 4.0), LineTo(right, base - 4.0)), _RULE),
        Text(_MARGIN, base, first + "…" if more else first, _SMALL, colour=palette.GREY),
        Text(right, base, which, _SMALL, "end", colour=palette.GREY),
    )
    return Page(width, height, which, (), (Group(items, _MARGIN, _MARGIN), *foot))
