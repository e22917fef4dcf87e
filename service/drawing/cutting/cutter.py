"""The cutter's drawing: what a machine cuts, and nothing else; no text on any layer.

Contours are thin lines at the middle of the cut, in a group for each layer by its name. What colour each has and how
thin they are is the shop's to say, since machines tell layers by different things. With a kerf, what is cut out grows
outwards by half of it, holes and slots shrink inwards by half of it, so that the leather itself comes out true. A slot
that the bench makes of two holes and two knife cuts is one contour here: a machine needs no punch. A lining is cut as
much over as the bench trims off it once it is glued.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from service.drawing import lines, words
from service.drawing.cutting.nesting import Nested, nest
from service.drawing.cutting.offset import outwards
from service.drawing.description import title
from service.drawing.model import Circle, Colour, Drawing, Group, Item, Layer, LayerName, Path, Pen
from service.drawing.parts import symbols
from service.drawing.parts.chosen import chosen
from service.shop.shop import Shop, Units
from service.strap.errors import StrapError
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.plane.lengths import MM, reading

_COLOURS: dict[LayerName, Colour] = {
    "mark": lines.MARK.colour,
    "punch": lines.PUNCH.colour,
    "cut": lines.OUTLINE.colour,
}
"""Of each layer, as on the working drawing, where the shop does not say what its machine wants."""
_TITLES: dict[LayerName, str] = {
    "mark": "Marks: scribe only, never cut",
    "punch": "Holes and slots: cut first",
    "cut": "Outlines: cut last",
}
_ARM = 1.5
_APART = 3.0
"""Leather between two pieces, beside the kerf."""
_EDGE = 2.0


class KerfTooWide(StrapError, ValueError):
    """A kerf as wide as a hole or a slot, or wider; `widest` is the width that all stay above."""

    def __init__(self, kerf: int, widest: int, units: Units) -> None:
        narrow, wide = reading(widest, units), reading(kerf, units)
        super().__init__(f"the narrowest hole or slot is {narrow} wide: a kerf of {wide} would leave nothing of it")
        self.kerf = kerf
        self.widest = widest


@dataclass(frozen=True, slots=True)
class _Cutter:
    """A kerf in millimetres, and the pen of each layer."""

    kerf: float
    pens: Mapping[LayerName, Pen]

    def outline(self, piece: Piece) -> Path:
        """What parts a piece from the hide."""
        segments = outwards(symbols.outline_segments(piece.cut_outline), self.kerf / 2 + piece.over / MM)
        return Path(segments, self.pens["cut"], id=f"{piece.name}.outline")

    def cut(self, feature: Feature) -> Item:
        """What is cut out of a piece."""
        x, y = feature.x / MM, feature.y / MM
        if feature.kind == "hole":
            radius = ((feature.diameter or 0) / MM - self.kerf) / 2
            return Circle(x, y, radius, self.pens["punch"], id=feature.id)
        length, width = (feature.length or 0) / MM - self.kerf, (feature.width or 0) / MM - self.kerf
        return Path(symbols.stadium(x, y, length, width, feature.angle), self.pens["punch"], id=feature.id)


def _pens(shop: Shop) -> dict[LayerName, Pen]:
    own = shop.cutter
    said: dict[LayerName, Colour | None] = {"mark": own.mark, "punch": own.punch, "cut": own.cut}
    return {layer: Pen(own.line_width / MM, said[layer] or colour) for layer, colour in _COLOURS.items()}


def cutter_drawing(pattern: Pattern, shop: Shop, *, piece: str | None, units: Units, kerf: int = 0) -> Drawing:
    """All pieces, or one alone, side by side on the leather; `kerf` in nanometres.

    One unit is one millimetre. Raises `UnknownPiece` and `KerfTooWide`.
    """
    pieces = chosen(pattern, piece)
    _refuse_wide(pieces, kerf, units)
    nested = _nested(pieces, kerf / MM)
    cutter = _Cutter(kerf / MM, _pens(shop))
    layers = tuple(Layer(name, heading, _layer(name, pieces, nested, cutter)) for name, heading in _TITLES.items())
    told = _description(pieces, units, kerf)
    return Drawing(nested.width, nested.height, title(pattern, shop, units), told, words.LANGUAGE, layers, None)


def _nested(pieces: Sequence[Piece], kerf: float) -> Nested:
    """The pieces of each leather nested by themselves, one leather below another."""
    places: dict[str, tuple[float, float]] = {}
    width = height = 0.0
    for leather in dict.fromkeys(each.leather for each in pieces):
        of_it = [each for each in pieces if each.leather == leather]
        found = nest(
            [(each.cut_length / MM, each.cut_width / MM) for each in of_it],
            (leather.strip_length / MM, leather.usable_width / MM),
            _APART + kerf,
            _EDGE + kerf,
        )
        places |= {each.name: (x, y + height) for each, (x, y) in zip(of_it, found.places, strict=True)}
        width, height = max(width, found.width), height + found.height
    return Nested(tuple(places[each.name] for each in pieces), width, height)


def _refuse_wide(pieces: Sequence[Piece], kerf: int, units: Units) -> None:
    features = [feature for piece in pieces for feature in piece.features if feature.action == "punch"]
    narrowest = min((each.diameter or each.width or 0 for each in features), default=kerf + 1)
    if kerf >= narrowest:
        raise KerfTooWide(kerf, narrowest, units)


def _layer(layer: LayerName, pieces: Sequence[Piece], nested: Nested, cutter: _Cutter) -> tuple[Item, ...]:
    groups = []
    for piece, (x, y) in zip(pieces, nested.places, strict=True):
        drawn = _drawn(layer, piece, cutter)
        if drawn:
            groups.append(Group(drawn, x + piece.over / MM, y + piece.cut_width / MM / 2, name=piece.name))
    return tuple(groups)


def _drawn(layer: LayerName, piece: Piece, cutter: _Cutter) -> tuple[Item, ...]:
    if layer == "cut":
        return (cutter.outline(piece),)
    features = [feature for feature in piece.features if feature.action == layer]
    if layer == "punch":
        return tuple(cutter.cut(feature) for feature in features)
    return tuple(_cross(feature, cutter.pens["mark"]) for feature in features)


def _cross(feature: Feature, pen: Pen) -> Path:
    cross = symbols.cross(feature.x / MM, feature.y / MM, feature.id, _ARM)
    return Path(cross.segments, pen, id=feature.id)


def _description(pieces: Sequence[Piece], units: Units, kerf: int) -> str:
    sizes = "; ".join(
        f"{words.PIECES[each.name]} {reading(each.cut_length, units)} by {reading(each.cut_width, units)}, "
        f"{each.leather.title}"
        for each in pieces
    )
    offset = f"Paths are moved by half the kerf of {reading(kerf, 'mm')}." if kerf else "No kerf is allowed for."
    return f"Cut lines only: {sizes}. {offset} True size: 1 unit is 1 mm."
