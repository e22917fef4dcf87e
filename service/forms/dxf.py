"""The cutter's drawing as DXF of release 2010 (AC1024): millimetres, y upwards, its lower left corner at the origin.

Each layer keeps its name and has a number for its colour, which machines tell layers by. Every contour is one closed
polyline of lines and true arcs; a curve that is neither is followed by arcs within `TOLERANCE`. Round holes are
circles, names are single lines of text in the style that every reader has, so that no font is asked for.
"""

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import import_module, resources
from importlib.metadata import version
from io import StringIO
from math import asin, cos, hypot, radians, sin, tan
from threading import Lock
from types import ModuleType
from typing import TYPE_CHECKING

from service.drawing.font import CAP_HEIGHT
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    CurveTo,
    Drawing,
    Group,
    Image,
    Item,
    LayerName,
    LineTo,
    MoveTo,
    Path,
    Pen,
    Segment,
    Stamp,
    Text,
)
from service.forms.form import Budget, DownloadOffer, Form, OutputOptions, Subject, always
from service.strap.plane.arcs import arcs_along
from service.strap.plane.cubic import Place

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

TOLERANCE = 0.0005
"""Millimetres by which arcs may differ from a curve that they follow."""
COLOURS: dict[LayerName, int] = {"cut": 7, "punch": 5, "mark": 1, "fold": 3, "text": 8}
"""Of layers, as colour numbers: black or white, blue, red, green, grey."""
_BLACK = "#000000"
"""Its number alone is told: what shows it on black draws that white."""
_DIGITS = 6
"""Of coordinates in millimetres: a nanometre."""
_MILLIMETRES = 4
_WIDTHS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
"""Hundredths of a millimetre that a line may be wide."""
_USUAL_WIDTH = -3
"""Of a line of which nothing is said."""
_HOME = "ezdxf_home"
_importing = Lock()

_Vertex = tuple[float, float, float]
"""A corner, and the bulge of the side that begins there: the tangent of a quarter of the angle that it turns by."""


def dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF document, the same bytes each time. Pictures are left out: nothing can follow one."""
    document = _new(drawing)
    space: Modelspace = document.modelspace()
    frame = _Frame(drawing.height)
    for layer in drawing.layers:
        _add_layer(document, layer.id, next(_pens(layer.items), None))
        for item in layer.items:
            _add(space, item, frame, layer.id)
    for kind in sorted(document.entitydb.dxf_types_in_use()):  # else they stand in the order of a set
        document.classes.add_class(kind)
    out = StringIO()
    document.write(out)
    return out.getvalue().encode("utf-8")


def _new(drawing: Drawing) -> "Document":
    document: Document = _ezdxf().new("R2010", units=_MILLIMETRES)
    corner = (drawing.width, drawing.height)
    space = document.modelspace()
    space.reset_extents((0, 0, 0), (*corner, 0))
    space.reset_limits((0, 0), corner)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (*corner, 0)  # not taken over from 0, 0
    document.set_modelspace_vport(drawing.height, (drawing.width / 2, drawing.height / 2))
    for name, told in (("Title", drawing.title), ("Description", drawing.description)):
        document.header.custom_vars.append(name, _line(told))
    return document


@cache
def _ezdxf() -> ModuleType:
    """The library, imported by who first needs it: it takes an eighth of a second and 20 MB.

    It would read settings from the home of whoever runs this, list all fonts of the machine and keep the list there: it
    is given a home of its own, where there are none.
    """
    names = ("XDG_CONFIG_HOME", "XDG_CACHE_HOME")
    with _importing, resources.as_file(resources.files("service.forms") / _HOME) as home:
        before = {name: os.environ.get(name) for name in names}
        os.environ.update(dict.fromkeys(names, str(home)))
        try:
            ezdxf = import_module("ezdxf")
        finally:
            for name, value in before.items():
                os.environ.pop(name)
                if value is not None:
                    os.environ[name] = value
    ezdxf.options.set("core", "write_fixed_meta_data_for_testing", "true")  # dates and GUIDs that stay the same
    return ezdxf


def _pens(items: Iterable[Item]) -> Iterator[Pen]:
    """The pens of some items; of text one of its colour."""
    for item in items:
        if isinstance(item, Group | Stamp):
            yield from _pens(item.items)
        elif isinstance(item, Text):
            yield Pen(0.0, item.colour)
        elif isinstance(item, Path | Circle) and item.pen:
            yield item.pen


def _add_layer(document: "Document", name: LayerName, pen: Pen | None) -> None:
    colour = int(pen.colour[1:], 16) if pen and pen.colour != _BLACK else None
    width = min(_WIDTHS, key=lambda each: abs(each - pen.width * 100)) if pen and pen.width else _USUAL_WIDTH
    document.layers.add(name, color=COLOURS.get(name, 7), true_color=colour, lineweight=width)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where the items of a group lie, as complex numbers, in a drawing that is so high."""

    height: float
    origin: complex = 0j
    turn: complex = 1 + 0j

    def of(self, group: Group) -> "_Frame":
        """The frame of what is in a group."""
        angle = radians(group.rotation)
        turn = self.turn * group.scale * complex(cos(angle), sin(angle))
        return replace(self, origin=self.origin + self.turn * complex(group.x, group.y), turn=turn)

    def at(self, x: float, y: float) -> Place:
        """A place as DXF has it: y counts upwards."""
        place = self.origin + self.turn * complex(x, y)
        return _rounded(place.real), _rounded(self.height - place.imag)


def _rounded(value: float) -> float:
    return round(value, _DIGITS) + 0.0  # never -0.0


def _add(space: "Modelspace", item: Item, frame: _Frame, layer: LayerName) -> None:
    if isinstance(item, Group):
        for each in item.items:
            _add(space, each, frame.of(item), layer)
    elif isinstance(item, Stamp):
        _add(space, Group(item.items, item.x, item.y), frame, layer)
    elif isinstance(item, Circle):
        radius = _rounded(item.radius * abs(frame.turn))
        space.add_circle(frame.at(item.x, item.y), radius, dxfattribs={"layer": layer})
    elif isinstance(item, Text):
        _add_text(space, item, frame, layer)
    elif not isinstance(item, Image):
        for run in _runs(item.segments):
            _add_run(space, run, frame, layer)


def _add_text(space: "Modelspace", text: Text, frame: _Frame, layer: LayerName) -> None:
    """Its height is that of a capital, and an anchor in its middle or at its end stays one."""
    from_left = {"start": 0, "middle": 1, "end": 2}[text.anchor]
    place = frame.at(text.x, text.y)
    how = {"layer": layer, "insert": place, "halign": from_left, "rotation": _rounded(-text.rotation)}
    if from_left:
        how["align_point"] = place
    space.add_text(_line(text.text), height=_rounded(text.size * CAP_HEIGHT * abs(frame.turn)), dxfattribs=how)


def _line(text: str) -> str:
    """A text on one line, without what a reader would take for a control code."""
    plain = "".join(each if each.isprintable() else " " for each in text)
    return plain.replace("^", "^ ").replace("%%", "% %")


def _runs(segments: Sequence[Segment]) -> Iterator[list[Segment]]:
    """The parts of a path, each from where the pen is set down."""
    run: list[Segment] = []
    for segment in segments:
        if isinstance(segment, MoveTo) and run:
            yield run
            run = []
        run.append(segment)
    yield run


def _add_run(space: "Modelspace", run: Sequence[Segment], frame: _Frame, layer: LayerName) -> None:
    vertices = list(_vertices(run, frame))
    is_closed = isinstance(run[-1], Close)
    if is_closed and vertices[-1][:2] == vertices[0][:2]:
        vertices.pop()
    how = {"layer": layer}
    if len(vertices) == 2 and not is_closed and not vertices[0][2]:
        space.add_line(vertices[0][:2], vertices[1][:2], dxfattribs=how)
    else:
        space.add_lwpolyline(vertices, format="xyb", close=is_closed, dxfattribs=how)


def _vertices(run: Sequence[Segment], frame: _Frame) -> Iterator[_Vertex]:
    """The corners of a part of a path; where two fall together the side between them is left out."""
    x, y = 0.0, 0.0
    for segment in run:
        if isinstance(segment, Close):
            break
        if isinstance(segment, MoveTo):
            x, y = frame.at(segment.x, segment.y)
            continue
        for bulge, end in _sides((x, y), segment, frame):
            if end != (x, y):
                yield x, y, bulge
            x, y = end
    yield x, y, 0.0


def _sides(start: Place, segment: LineTo | ArcTo | CurveTo, frame: _Frame) -> Iterator[tuple[float, Place]]:
    """The bulge and the end of each line or arc that a segment is drawn as."""
    end = frame.at(segment.x, segment.y)
    if isinstance(segment, LineTo):
        yield 0.0, end
    elif isinstance(segment, ArcTo):
        share = hypot(end[0] - start[0], end[1] - start[1]) / (2 * segment.radius * abs(frame.turn))
        bulge = tan(asin(min(share, 1.0)) / 2)
        yield -bulge if segment.clockwise else bulge, end
    else:
        one, two = frame.at(segment.x1, segment.y1), frame.at(segment.x2, segment.y2)
        for bulge, (x, y) in arcs_along((start, one, two, end), TOLERANCE):
            yield bulge, (_rounded(x), _rounded(y))


def _encode(subject: Subject, _options: OutputOptions, _budget: Budget) -> bytes:
    return dxf(subject.drawing())


DXF = Form(
    name="dxf",
    title="DXF",
    media_type="image/vnd.dxf",
    is_text=True,
    views=("cutter",),
    parameters=frozenset(("view", "piece", "units", "kerf")),
    refusals=("unknown_piece", "kerf_too_wide"),
    libraries=(f"ezdxf {version('ezdxf')}",),
    downloads=(DownloadOffer("pattern", "Cut lines for a machine as DXF"),),
    cost=always("small"),
    encode=_encode,
)
