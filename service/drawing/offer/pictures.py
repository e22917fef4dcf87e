"""How the straps of an offer will look."""

from collections.abc import Mapping

from service.drawing import words
from service.drawing.finished.view import finished_view
from service.drawing.model import Drawing, Group, Layer
from service.shop.shop import Shop
from service.words import say
from service.workshop.offer import Offer

_GAP = 8.0


def pictures_of(offer: Offer, shop: Shop) -> Mapping[int, Drawing]:
    """The finished look of each distinct strap that is shown, by its pattern's identity."""
    patterns = {id(row.first.pattern): row.first.pattern for row in offer.rows}
    return {key: finished_view(each, shop, units=each.spec.units, background=None) for key, each in patterns.items()}


def all_pictures(offer: Offer, shop: Shop) -> Drawing:
    """The look of every strap, one below the other, in one scale."""
    pictures = pictures_of(offer, shop)
    groups, y = [], 0.0
    for row in offer.rows:
        picture = pictures[id(row.first.pattern)]
        groups.append(Group(tuple(item for layer in picture.layers for item in layer.items), 0.0, y))
        y += picture.height + _GAP
    width = max(each.width for each in pictures.values())
    title = say("What {shop} offers", shop=shop.name)
    layers = (Layer("strap", say("Straps"), tuple(groups)),)
    return Drawing(width, y, title, title, words.LANGUAGE, layers, shop.finished.background)
