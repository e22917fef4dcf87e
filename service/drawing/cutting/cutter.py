"""The cutter's drawing: what a machine cuts, and nothing else; no text on any layer.

Contours are thin lines at the middle of the cut, in a group for each layer by its name. What colour each has and how
thin they are is the shop's to say, since machines tell layers by different things. With a kerf, what is cut out grows
outwards by half of it, holes and slots shrink inwards by half of it, so that the leather itself comes out true. A slot
that the bench makes of two holes and two knife cuts is one contour here: a machine needs no punch. A lining is cut as
much over as the bench trims off it once it is glued.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

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
from service.strap.model.splice import Strip
from service.strap.plane.lengths import MM, reading
from service.strap.plane.outline import Outline, lengthened
from service.words import opening, say
from service.workshop.names import called, several

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
        super().__init__(
            say(
                "the narrowest hole or slot is {narrow} wide: a kerf of {wide} would leave nothing of it",
                narrow=narrow,
                wide=wide,
            )
        )
        self.kerf = kerf
        self.widest = widest


@dataclass(frozen=True, slots=True)
class _Part:
    """What is cut out in one: a piece, or a strip of one that begins at `start`, with what is cut and marked in it."""

    piece: Piece
    name: str
    start: int
    outline: Outline
    features: tuple[Feature, ...]

    @property
    def length(self) -> int:
        """What it takes of the hide, over with it."""
        return self.outline.length + 2 * self.piece.over


def _parts(pieces: Sequence[Piece]) -> tuple[_Part, ...]:
    """No feature lies in a lap, so that each lies in one strip. Of keepers between ornaments there are several."""
    found = []
    for piece in pieces:
        if not piece.splices:
            found.append(_Part(piece, piece.name, 0, piece.cut_outline, piece.features))
            found += [_copy(piece, n) for n in range(2, piece.count + 1)]
        for strip in piece.strips if piece.splices else ():
            inside = tuple(each for each in piece.features if strip.start <= each.x < strip.end)
            found.append(_Part(piece, strip.name, strip.start, _short_of_over(piece, strip), inside))
    return tuple(found)


def _copy(piece: Piece, n: int) -> _Part:
    """The same piece once more; its features have ids of their own."""
    features = tuple(replace(each, id=f"{each.id}.copy.{n}") for each in piece.features)
    return _Part(piece, f"{piece.name}.copy.{n}", 0, piece.cut_outline, features)


def _short_of_over(piece: Piece, strip: Strip) -> Outline:
    """What comes out true once it is grown by what a lining is cut over: at its laps it is not."""
    outline = strip.outline
    return lengthened(outline, strip.cut_length - 2 * piece.over - outline.length)


@dataclass(frozen=True, slots=True)
class _Cutter:
    """A kerf in millimetres, and the pen of each layer."""

    kerf: float
    pens: Mapping[LayerName, Pen]

    def outline(self, part: _Part) -> Path:
        """What parts a piece, or a strip of one, from the hide."""
        segments = outwards(symbols.outline_segments(part.outline), self.kerf / 2 + part.piece.over / MM)
        return Path(segments, self.pens["cut"], id=f"{part.name}.outline")

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
    parts = _parts(pieces)
    nested = _nested(parts, kerf / MM)
    cutter = _Cutter(kerf / MM, _pens(shop))
    layers = tuple(Layer(name, heading, _layer(name, parts, nested, cutter)) for name, heading in _TITLES.items())
    told = _description(parts, units, kerf)
    return Drawing(nested.width, nested.height, title(pattern, shop, units), told, words.LANGUAGE, layers, None)


def _nested(parts: Sequence[_Part], kerf: float) -> Nested:
    """The pieces of each leather nested by themselves, one leather below another."""
    places: dict[str, tuple[float, float]] = {}
    width = height = 0.0
    for leather in dict.fromkeys(each.piece.leather for each in parts):
        of_it = [each for each in parts if each.piece.leather == leather]
        found = nest(
            [(each.length / MM, each.piece.cut_width / MM) for each in of_it],
            (leather.strip_length / MM, leather.usable_width / MM),
            _APART + kerf,
            _EDGE + kerf,
        )
        places |= {each.name: (x, y + height) for each, (x, y) in zip(of_it, found.places, strict=True)}
        width, height = max(width, found.width), height + found.height
    return Nested(tuple(places[each.name] for each in parts), width, height)


def _refuse_wide(pieces: Sequence[Piece], kerf: int, units: Units) -> None:
    features = [feature for piece in pieces for feature in piece.features if feature.action == "punch"]
    narrowest = min((each.diameter or each.width or 0 for each in features), default=kerf + 1)
    if kerf >= narrowest:
        raise KerfTooWide(kerf, narrowest, units)


def _layer(layer: LayerName, parts: Sequence[_Part], nested: Nested, cutter: _Cutter) -> tuple[Item, ...]:
    groups = []
    for part, (x, y) in zip(parts, nested.places, strict=True):
        drawn, piece = _drawn(layer, part, cutter), part.piece
        if drawn:
            left = x + piece.over / MM
            items = drawn if layer == "cut" or not part.start else (Group(drawn, -part.start / MM),)
            groups.append(Group(items, left, y + piece.cut_width / MM / 2, name=part.name))
    return tuple(groups)


def _drawn(layer: LayerName, part: _Part, cutter: _Cutter) -> tuple[Item, ...]:
    if layer == "cut":
        return (cutter.outline(part),)
    features = [feature for feature in part.features if feature.action == layer]
    if layer == "punch":
        return tuple(cutter.cut(feature) for feature in features)
    return tuple(_cross(feature, cutter.pens["mark"]) for feature in features)


def _cross(feature: Feature, pen: Pen) -> Path:
    cross = symbols.cross(feature.x / MM, feature.y / MM, feature.id, _ARM)
    return Path(cross.segments, pen, id=feature.id)


def _description(parts: Sequence[_Part], units: Units, kerf: int) -> str:
    sizes = "; ".join(
        say(
            "{titled} {length} by {width}, {leather}",
            titled=_titled(each),
            length=reading(each.length, units),
            width=reading(each.piece.cut_width, units),
            leather=each.piece.leather.title,
        )
        for each in parts
        if ".copy." not in each.name
    )
    offset = (
        say("Paths are moved by half the kerf of {kerf}.", kerf=reading(kerf, "mm"))
        if kerf
        else say("No kerf is allowed for.")
    )
    return say("Cut lines only: {sizes}. {offset} True size: 1 unit is 1 mm.", sizes=sizes, offset=offset)


def _titled(part: _Part) -> str:
    """A piece, how many of it, or a strip, in words that begin a sentence."""
    return opening(called(part.name) if part.piece.count == 1 else several(part.piece))
