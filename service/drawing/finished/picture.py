"""An ornament as the shop's own picture shows it."""

from service.drawing.finished.shade import round_shadow
from service.drawing.model import Image, Item
from service.shop.artwork import Artwork


def picture(artwork: Artwork, diameter: float) -> tuple[Item, ...]:
    """The picture about the origin, its longer side as long as the ornament's diameter, with a shadow."""
    width, height = _size(artwork, diameter)
    return round_shadow(min(width, height) / 2, 0.09 * diameter), *picture_face(artwork, diameter)


def picture_face(artwork: Artwork, diameter: float) -> tuple[Item, ...]:
    """The picture alone."""
    width, height = _size(artwork, diameter)
    return (Image(artwork, -width / 2, -height / 2, width, height),)


def _size(artwork: Artwork, diameter: float) -> tuple[float, float]:
    scale = diameter / max(artwork.width, artwork.height)
    return artwork.width * scale, artwork.height * scale
