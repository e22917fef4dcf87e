"""Superimposed running dimensions (ISO 129-1): one line from a datum, an open circle, to every station.

A ruler is laid out in a frame of its own, u along the piece's edge and v away from it, and then put to one
side of the piece.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from math import ceil
from typing import Literal

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Anchor, Circle, Close, Item, LineTo, MoveTo, Path, Segment, Text
from service.drawing.parts.places import spread
from service.drawing.sizes import Sizes

SideName = Literal["top", "bottom", "right"]
_STACKED = 6
"""Most readings on one label where stations are denser than their lettering."""


@dataclass(frozen=True, slots=True)
class Station:
    """A place `at` millimetres from the datum. Its extension line begins `start` away from the piece's edge.

    `tag` is the letter of the tool that is used there, `beside` what else is read there: how wide the piece is.
    """

    at: float
    reading: str
    tag: str = ""
    start: float = 1.0
    beside: str = ""

    @property
    def text(self) -> str:
        """All that is read there, in one line."""
        return f"{self.reading}, {self.beside}" if self.beside else self.reading


@dataclass(frozen=True, slots=True)
class Side:
    """The side of a piece where a ruler stands: coordinates of that edge and of the ruler's datum."""

    name: SideName
    edge: float
    datum: float = 0.0

    def point(self, u: float, v: float) -> tuple[float, float]:
        """The drawing's (x, y) of (u, v)."""
        if self.name == "right":
            return self.edge + v, self.datum + u
        return self.datum + u, self.edge + (v if self.name == "bottom" else -v)

    @property
    def rotation(self) -> float:
        """How labels are turned: read from the right-hand side above and below, upright at the side."""
        return 0.0 if self.name == "right" else -90.0

    @property
    def anchor(self) -> Anchor:
        """Which end of a label lies at the ruler."""
        return "end" if self.name == "bottom" else "start"


@dataclass(frozen=True, slots=True)
class Label:
    """One or more neighbouring stations whose readings stand in one line of text, or one station with two lines.

    `places` along the ruler are those of its lines.
    """

    stations: tuple[Station, ...]
    places: tuple[float, ...]

    @property
    def place(self) -> float:
        """Its middle along the ruler."""
        return (self.places[0] + self.places[-1]) / 2

    @property
    def tag(self) -> str:
        """The tool's tag, where the label tells of one station."""
        return self.stations[0].tag if len(self.stations) == 1 else ""

    @property
    def lines(self) -> tuple[str, ...]:
        """What is read off the ruler, line by line."""
        first = self.stations[0]
        if len(self.places) == 2:
            return first.reading, first.beside
        if len(self.stations) == 1:
            return (first.text,)
        return ("  ·  ".join(f"{station.tag} {station.text}".strip() for station in self.stations),)


@dataclass(frozen=True, slots=True)
class Ruler:
    """A drawn ruler: its items, how far its labels reach along the piece and how deep it is."""

    items: tuple[Item, ...]
    low: float
    high: float
    depth: float


@dataclass(frozen=True, slots=True)
class _Levels:
    """Where things lie in v: the dimension line, the bend of the leaders, where labels begin."""

    line: float
    bend: float
    label: float


def ruler(
    stations: Sequence[Station],
    side: Side,
    sizes: Sizes,
    bounds: tuple[float, float],
    offset: float,
    *,
    two_lines: bool = False,
) -> Ruler:
    """Running dimensions from 0 to every station, in ascending order, their line `offset` away from the edge.

    Labels stay within `bounds` if they can; where there are too many, several readings share a label and
    the bounds widen. What is read beside a place stands behind it or, with `two_lines` and room for them, below it.
    """
    half = sizes.label_gap / 2
    labels = _labels(stations, sizes, (bounds[0] + half, bounds[1] - half), two_lines=two_lines)
    levels = _levels(labels, sizes, offset)
    longest = (max(text_width(line, sizes.em) for line in label.lines) for label in labels)
    depth = levels.label + max(_reading_at(label, sizes) + long for label, long in zip(labels, longest, strict=True))
    items = (
        _extensions(labels, side, levels, sizes),
        *_dimension_line(stations, side, levels, sizes),
        *_tags(labels, side, levels, sizes),
        *_readings(labels, side, levels, sizes),
    )
    return Ruler(items, labels[0].places[0] - half, labels[-1].places[-1] + half, depth)


def _labels(
    stations: Sequence[Station], sizes: Sizes, bounds: tuple[float, float], *, two_lines: bool
) -> tuple[Label, ...]:
    room = int((bounds[1] - bounds[0]) / sizes.label_gap) + 1
    stacked = min(_STACKED, ceil(len(stations) / max(room, 1)))
    groups = [tuple(stations[i : i + stacked]) for i in range(0, len(stations), stacked)]
    broken = two_lines and len(stations) + sum(bool(station.beside) for station in stations) <= room
    lines = [2 if broken and group[0].beside else 1 for group in groups]
    wanted = [
        (group[0].at + group[-1].at) / 2 for group, count in zip(groups, lines, strict=True) for _ in range(count)
    ]
    lacking = max(0.0, (len(wanted) - 1) * sizes.label_gap - (bounds[1] - bounds[0]))
    places = iter(spread(wanted, sizes.label_gap, bounds[0] - lacking / 2, bounds[1] + lacking / 2))
    return tuple(Label(group, tuple(islice(places, count))) for group, count in zip(groups, lines, strict=True))


def _levels(labels: Sequence[Label], sizes: Sizes, offset: float) -> _Levels:
    moved = max(abs(label.place - station.at) for label in labels for station in label.stations)
    bend = min(max(0.7 * moved, 0.5 * sizes.em), 2.5 * sizes.em) if moved > 0.01 else 0.0
    start = offset + 0.35 * sizes.em
    return _Levels(offset, start, start + bend + 0.25 * sizes.em)


def _extensions(labels: Sequence[Label], side: Side, levels: _Levels, sizes: Sizes) -> Path:
    end = levels.label - 0.12 * sizes.em
    segments: list[Segment] = []
    for label in labels:
        for station in label.stations:
            segments.append(MoveTo(*side.point(station.at, station.start)))
            segments.append(LineTo(*side.point(station.at, levels.bend)))
            segments.append(LineTo(*side.point(label.place, end)))
    return Path(tuple(segments), lines.EXTENSION)


def _dimension_line(stations: Sequence[Station], side: Side, levels: _Levels, sizes: Sizes) -> tuple[Item, ...]:
    radius = 0.22 * sizes.em
    line = (
        MoveTo(*side.point(radius, levels.line)),
        LineTo(*side.point(max(station.at for station in stations), levels.line)),
    )
    heads, ticks = _ends(stations, side, levels.line, 0.6 * sizes.em)
    return (
        Path((*line, *ticks), lines.DIMENSION),
        Path(tuple(heads), fill=lines.DIMENSION.colour),
        Circle(*side.point(0.0, levels.line), radius, lines.DIMENSION, palette.PAPER),
    )


def _ends(stations: Sequence[Station], side: Side, v: float, length: float) -> tuple[list[Segment], list[Segment]]:
    """Arrowheads at the stations, pointing away from the datum; short strokes where there is no room."""
    heads: list[Segment] = []
    ticks: list[Segment] = []
    before = 0.0
    for station in stations:
        if station.at - before > 1.3 * length:
            heads += arrowhead(side, station.at, v, -length)
        elif station.at > 0:
            ticks.append(MoveTo(*side.point(station.at - length / 4, v - length / 4)))
            ticks.append(LineTo(*side.point(station.at + length / 4, v + length / 4)))
        before = station.at
    return heads, ticks


def arrowhead(side: Side, u: float, v: float, length: float) -> tuple[Segment, ...]:
    """A closed arrowhead with its tip at (u, v), its tail `length` further along u."""
    wide = abs(length) * 0.17
    tail = u + length
    return (
        MoveTo(*side.point(u, v)),
        LineTo(*side.point(tail, v - wide)),
        LineTo(*side.point(tail, v + wide)),
        Close(),
    )


def _reading_at(label: Label, sizes: Sizes) -> float:
    """How far beyond the label's beginning its reading stands, behind the tag."""
    return text_width(label.tag, sizes.em, "bold") + 0.4 * sizes.em if label.tag else 0.0


def _tags(labels: Sequence[Label], side: Side, levels: _Levels, sizes: Sizes) -> tuple[Text, ...]:
    return tuple(
        Text(
            *side.point(_baseline(label.places[0], sizes), levels.label),
            label.tag, sizes.em, side.anchor, side.rotation, "bold", palette.BLUE,
        )
        for label in labels
        if label.tag
    )  # fmt: skip


def _readings(labels: Sequence[Label], side: Side, levels: _Levels, sizes: Sizes) -> tuple[Text, ...]:
    return tuple(
        Text(
            *side.point(_baseline(place, sizes), levels.label + _reading_at(label, sizes)),
            line, sizes.em, side.anchor, side.rotation, "regular", palette.INK,
        )
        for label in labels
        for line, place in zip(label.lines, label.places, strict=True)
    )  # fmt: skip


def _baseline(place: float, sizes: Sizes) -> float:
    return place + CAP_HEIGHT / 2 * sizes.em
