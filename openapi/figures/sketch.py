"""A sketch of something at a bench, in millimetres, and how it comes on paper: as large as what matters allows."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot

from openapi.figures.near import Place
from openapi.figures.scaled import scaled
from service.drawing import palette
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import (
    Circle,
    Close,
    Drawing,
    Item,
    Layer,
    LineTo,
    MoveTo,
    Path,
    Pen,
    Segment,
    Sheer,
    Text,
)

WIDTH, HEIGHT = 130.0, 60.0
_MARGIN = 8.0
_MOST = 6.0
_EM = 3.6
_LETTERS = "ABCDEFGH"
_ARROW = 2.4
_BALLOON = 2.5
MEASURED = Pen(0.9, palette.VERMILLION)
"""What is measured: the widest line of a figure."""
MEASURED_FILL = Sheer(palette.ORANGE, 0.35)
_DIMENSION = Pen(0.35, palette.INK)
_EXTENSION = Pen(0.25, palette.GREY)


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured distance between two places, in millimetres, named by a term of the rule's formula.

    `term` is empty where it is the very figure that the rule holds against its limit. Where it is drawn `at` another
    place across (of one along the piece its y, else its x), narrow lines lead there.
    """

    start: Place
    end: Place
    words: str
    term: str = ""
    at: float | None = None

    @property
    def length(self) -> float:
        """How long it is, in millimetres."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def line(self) -> tuple[Place, Place]:
        """Where its line is drawn."""
        if self.at is None:
            return self.start, self.end
        if abs(self.end[0] - self.start[0]) >= abs(self.end[1] - self.start[1]):
            return (self.start[0], self.at), (self.end[0], self.at)
        return (self.at, self.start[1]), (self.at, self.end[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What is drawn, from back to front, and what is measured of it; `around` are places that have to be seen."""

    items: tuple[Item, ...]
    measured: tuple[Item, ...] = ()
    dimensions: tuple[Dimension, ...]
    around: tuple[Place, ...] = ()
    most: float = _MOST
    """The largest scale at which enough of the strap is seen to tell where it is."""


def on_paper(sketch: Sketch, title: str, words: str) -> Drawing:
    """The sketch with its dimensions lettered; what each letter is, and further `words`, stand in its description."""
    by, x, y = _laid(sketch)
    drawn = (scaled(each, by, x, y) for each in (*sketch.items, *sketch.measured))
    lettered = list(zip(sketch.dimensions, _LETTERS, strict=False))
    marks = [item for each, letter in lettered for item in _dimension(each, letter, by, x, y)]
    says = " ".join([*(f"{letter}: {each.words}." for each, letter in lettered), words])
    items = (*(each for each in drawn if _is_seen(each)), *marks)
    return Drawing(WIDTH, HEIGHT, title, says, "en", (Layer("notes", "What is measured", items),))


def _laid(sketch: Sketch) -> tuple[float, float, float]:
    """The scale, and where the sketch's origin comes to lie on the paper."""
    places = [*sketch.around, *(place for each in sketch.dimensions for place in (each.start, each.end, *each.line))]
    low_x, high_x = min(x for x, _ in places), max(x for x, _ in places)
    low_y, high_y = min(y for _, y in places), max(y for _, y in places)
    wide, high = max(high_x - low_x, 0.1), max(high_y - low_y, 0.1)
    by = min((WIDTH - 2 * _MARGIN) / wide, (HEIGHT - 2 * _MARGIN) / high, sketch.most)
    return by, WIDTH / 2 - by * (low_x + high_x) / 2, HEIGHT / 2 - by * (low_y + high_y) / 2


def _is_seen(item: Item) -> bool:
    """Whether a part of it lies on the paper; of a group it is taken that it does."""
    if isinstance(item, Circle):
        xs, ys, reach = [item.x], [item.y], item.radius
    elif isinstance(item, Path):
        places = [(each.x, each.y) for each in item.segments if not isinstance(each, Close)]
        xs, ys, reach = [x for x, _ in places], [y for _, y in places], 1.0
    else:
        return True
    return min(xs) < WIDTH + reach and max(xs) > -reach and min(ys) < HEIGHT + reach and max(ys) > -reach


def _dimension(each: Dimension, letter: str, by: float, x: float, y: float) -> Iterator[Item]:
    def laid(place: Place) -> Place:
        return x + by * place[0], y + by * place[1]

    start, end = (laid(place) for place in each.line)
    for measured, drawn in zip((each.start, each.end), (start, end), strict=True):
        yield Path((MoveTo(*laid(measured)), LineTo(*drawn)), _EXTENSION)
    size = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / size, (end[1] - start[1]) / size) if size > 0.01 else (1.0, 0.0)
    inside = size > 3 * _ARROW
    out = 0.0 if inside else 2.2 * _ARROW
    tails = (_moved(start, along, -out), _moved(end, along, out))
    yield Path((MoveTo(*tails[0]), LineTo(*tails[1])), _DIMENSION)
    turn = 1.0 if inside else -1.0
    heads = (*_head(start, along, turn), *_head(end, along, -turn))
    yield Path(heads, fill=palette.INK)
    yield from _balloon(_beside(start, end, along, size), letter)


def _moved(place: Place, along: Place, by: float) -> Place:
    return place[0] + by * along[0], place[1] + by * along[1]


def _head(tip: Place, along: Place, turn: float) -> Iterator[Segment]:
    """An arrowhead with its tip at a place, its tail along the line from there."""
    tail = _moved(tip, along, turn * _ARROW)
    across = (-along[1] * _ARROW * 0.2, along[0] * _ARROW * 0.2)
    yield MoveTo(*tip)
    yield LineTo(tail[0] + across[0], tail[1] + across[1])
    yield LineTo(tail[0] - across[0], tail[1] - across[1])
    yield Close()


def _beside(start: Place, end: Place, along: Place, size: float) -> Place:
    """On a line that is long enough in its middle, else behind its end, or before its start where the paper ends."""
    if size > 4 * _BALLOON + 2 * _ARROW:
        return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    out = 2.2 * _ARROW + _BALLOON
    x, y = _moved(end, along, out)
    fits = _BALLOON < x < WIDTH - _BALLOON and _BALLOON < y < HEIGHT - _BALLOON
    return (x, y) if fits else _moved(start, along, -out)


def _balloon(place: Place, letter: str) -> Iterable[Item]:
    x, y = place
    yield Circle(x, y, _BALLOON, _DIMENSION, palette.PAPER)
    yield Text(x, y + CAP_HEIGHT * _EM / 2, letter, _EM, "middle", weight="bold", colour=palette.INK)
