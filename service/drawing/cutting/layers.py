"""The layers of a cutter's drawing: what a machine cuts and marks, and names that it leaves out.

Contours are thin lines at the middle of the cut, in a group for each layer by its name, what is inside a part before
what parts it from the hide. What colour each has and how thin they are is the shop's to say, since machines tell
layers by different things. With a kerf, what is cut out grows outwards by half of it, holes and slots shrink inwards
by half of it, so that the leather itself comes out true. A slot that the bench makes of two holes and two knife cuts
is one contour here: a machine needs no punch. A lining is cut as much over as the bench trims off it once it is glued.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from service.drawing import lines, palette
from service.drawing.cutting.label import label
from service.drawing.cutting.offset import outwards
from service.drawing.cutting.parts import Part
from service.drawing.model import Circle, Colour, Group, Item, Layer, LayerName, LineTo, MoveTo, Path, Pen
from service.drawing.parts import symbols
from service.shop.looks import CutterLines
from service.shop.shop import Shop, Units
from service.strap.errors import StrapError
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import MM, reading
from service.strap.plane.profile import edge_at
from service.words import say

_COLOURS: dict[LayerName, Colour] = {
    "text": palette.GREY,
    "fold": lines.FOLD.colour,
    "mark": lines.MARK.colour,
    "punch": lines.PUNCH.colour,
    "cut": lines.OUTLINE.colour,
}
"""Of each layer, as on the working drawing, where the shop does not say what its machine wants."""
_TITLES: dict[LayerName, str] = {
    "text": "Names of the pieces: never cut",
    "fold": "Folds: scribe only, never cut",
    "mark": "Marks: scribe only, never cut",
    "punch": "Holes and slots: cut first",
    "cut": "Outlines: cut last",
}
_ARM = 1.5


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


class PlacedPart(NamedTuple):
    """A part, and where the upper left corner of what it takes of the hide lies, in millimetres."""

    part: Part
    x: float
    y: float


def refuse_wide(parts: Iterable[Part], kerf: int, units: Units) -> None:
    """Raise `KerfTooWide` for a kerf that would leave nothing of a hole or a slot."""
    punched = [each for part in parts for each in part.features if each.action == "punch"]
    narrowest = min((each.across for each in punched), default=kerf + 1)
    if kerf >= narrowest:
        raise KerfTooWide(kerf, narrowest, units)


def layers_of(placed: Sequence[PlacedPart], shop: Shop, kerf: int) -> tuple[Layer, ...]:
    """Every layer, in the order in which a machine works; `kerf` in nanometres."""
    cutter = _Cutter(kerf / MM, _pens(shop.cutter))
    return tuple(Layer(name, heading, tuple(cutter.groups(name, placed))) for name, heading in _TITLES.items())


def _pens(own: CutterLines) -> dict[LayerName, Pen]:
    """The pen of each layer. One that the shop says no colour of never has that of another."""
    said: dict[LayerName, Colour] = {name: colour for name in _COLOURS if (colour := getattr(own, name)) is not None}
    usual = {name: colour for name, colour in _COLOURS.items() if name not in said}
    kept = {name: colour for name, colour in usual.items() if colour not in said.values()}
    free = [each for each in _COLOURS.values() if each not in (*said.values(), *kept.values())]
    moved = dict(zip([name for name in usual if name not in kept], free, strict=False))
    return {name: Pen(own.line_width / MM, (said | kept | moved)[name]) for name in _COLOURS}


@dataclass(frozen=True, slots=True)
class _Cutter:
    """A kerf in millimetres, and the pen of each layer."""

    kerf: float
    pens: Mapping[LayerName, Pen]

    def groups(self, layer: LayerName, placed: Sequence[PlacedPart]) -> list[Group]:
        """What a layer has of each part, at its place."""
        found = []
        for part, x, y in placed:
            items = self._own_frame(layer, part)
            if items:
                middle = y + part.width / MM / 2
                found.append(Group(items, x + part.over / MM, middle, name=part.name))
        return found

    def _own_frame(self, layer: LayerName, part: Part) -> tuple[Item, ...]:
        if layer == "cut":
            return (self._outline(part),)
        if layer == "text":
            return (label(part, self.pens["text"].colour),)
        draw: Mapping[LayerName, Callable[[Part, Feature], Item]] = {
            "fold": self._fold, "mark": self._cross, "punch": self._hole,
        }  # fmt: skip
        items = tuple(draw[layer](part, each) for each in part.features if each.action == layer)
        return (Group(items, -part.start / MM),) if items and part.start else items

    def _outline(self, part: Part) -> Path:
        """What parts it from the hide."""
        segments = outwards(symbols.outline_segments(part.outline), self.kerf / 2 + part.over / MM)
        return Path(segments, self.pens["cut"], id=f"{part.name}.outline")

    def _hole(self, part: Part, feature: Feature) -> Item:
        """What is cut out of it."""
        x, y, name = feature.x / MM, feature.y / MM, part.prefix + feature.id
        if feature.kind == "hole":
            radius = ((feature.diameter or 0) / MM - self.kerf) / 2
            return Circle(x, y, radius, self.pens["punch"], id=name)
        length, width = (feature.length or 0) / MM - self.kerf, (feature.width or 0) / MM - self.kerf
        return Path(symbols.stadium(x, y, length, width, feature.angle), self.pens["punch"], id=name)

    def _cross(self, part: Part, feature: Feature) -> Path:
        cross = symbols.cross(feature.x / MM, feature.y / MM, None, _ARM)
        return Path(cross.segments, self.pens["mark"], id=part.prefix + feature.id)

    def _fold(self, part: Part, feature: Feature) -> Path:
        """From edge to edge."""
        x, reach = feature.x / MM, edge_at(part.outline, feature.x - part.start) / MM
        return Path((MoveTo(x, -reach), LineTo(x, reach)), self.pens["fold"], id=part.prefix + feature.id)
