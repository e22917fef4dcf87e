"""How an end of a strap is told: the words that the kinds of end are given."""

from dataclasses import dataclass

from service.drawing import words
from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.model.spec import End
from service.strap.plane.lengths import reading
from service.strap.plane.outline import EndForm
from service.words import say
from service.workshop.names import called


@dataclass(frozen=True, slots=True)
class EndWords:
    """The shop's titles, and lengths as they are read in these units."""

    shop: Shop
    units: Units

    def title(self, item: str) -> str:
        """The shop's title of a good."""
        return words.item_title(self.shop, item)

    def read(self, length: Nm) -> str:
        """A length as it is read."""
        return reading(length, self.units)

    def shape(self, form: EndForm) -> str:
        """A shape with its depth."""
        return form_words(form, self.units)


def shape_words(end: End, units: Units) -> str:
    """`English point, 5/8 in deep`."""
    return form_words((end.shape or "square", end.depth or 0), units)


def form_words(form: EndForm, units: Units) -> str:
    """A form of the outline in the same words."""
    shape, depth = form
    return say("{shape}, {depth} deep", shape=called(shape), depth=reading(depth, units)) if depth else called(shape)
