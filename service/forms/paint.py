"""Paints a drawing on any cairo context whose unit is one millimetre: the one behind PNG and paper."""

from collections.abc import Callable, Iterable
from functools import lru_cache
from io import BytesIO
from itertools import groupby
from math import atan2, cos, radians, sin, sqrt, tau
from typing import Literal

import cairocffi

from service.drawing.font import shown, text_width
from service.drawing.model import (
    Anchor,
    ArcTo,
    Circle,
    Close,
    Colour,
    CurveTo,
    Drawing,
    Fill,
    Group,
    Image,
    Item,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    Pen,
    RadialGradient,
    Segment,
    Sheer,
    Stamp,
    Text,
    Weight,
)
from service.forms.face import cairo_face, text_options
from service.shop.artwork import Artwork

CAIRO = f"cairo {cairocffi.cairo_version_string()}"
"""The library that paints, with its version."""

TextMode = Literal["outlines", "glyphs"]
"""`outlines` keeps letters at their exact places on a raster; `glyphs` keeps them text in a PDF."""

_SHIFTS: dict[Anchor, float] = {"start": 0.0, "middle": -0.5, "end": -1.0}


def paint(context: cairocffi.Context, drawing: Drawing, *, text: TextMode, thicken: float = 1.0) -> None:
    """Draw the background and every layer. `thicken` multiplies all line widths, for small pictures."""
    if drawing.background is not None:
        context.set_source_rgb(*_rgb(drawing.background))
        context.paint()
    painter = Painter(context, text, thicken)
    for layer in drawing.layers:
        painter.items(layer.items)


@lru_cache(maxsize=256)
def _rgb(colour: Colour) -> tuple[float, float, float]:
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


class Painter:
    """Draws items on one context: it belongs to one request and one thread."""

    def __init__(self, context: cairocffi.Context, text: TextMode, thicken: float = 1.0) -> None:
        self._context = context
        self._text_mode: TextMode = text
        self._thicken = thicken
        self._faces: dict[Weight, cairocffi.FontFace] = {}
        self._font: tuple[Weight, float, float] | None = None
        self._gradients: dict[int, cairocffi.Gradient] = {}
        self._pictures: dict[int, cairocffi.ImageSurface] = {}
        context.set_font_options(text_options())

    def items(self, items: Iterable[Item]) -> None:
        """Draw the items in their order."""
        for (kind, colour), run in groupby(items, _kind):
            if kind == "text":
                self._texts(run, colour)
            else:
                for item in run:
                    self._item(item)

    def _item(self, item: Item) -> None:
        if isinstance(item, Group):
            self._group(item)
        elif isinstance(item, Stamp):
            self._group(Group(item.items, item.x, item.y))
        elif isinstance(item, Image):
            self._image(item)
        elif isinstance(item, Circle):
            self._context.new_path()
            self._context.arc(item.x, item.y, item.radius, 0.0, tau)
            self._context.close_path()
            self._finish(item.fill, item.pen)
        elif isinstance(item, Path):
            self._context.new_path()
            trace(self._context, item.segments)
            self._finish(item.fill, item.pen)

    def _group(self, group: Group) -> None:
        self._context.save()
        self._context.translate(group.x, group.y)
        if group.matrix:
            self._context.transform(cairocffi.Matrix(*group.matrix))
        if group.rotation:
            self._context.rotate(radians(group.rotation))
        if group.scale != 1.0:
            self._context.scale(group.scale, group.scale)
        self.items(group.items)
        self._context.restore()
        self._font = None

    def _image(self, image: Image) -> None:
        picture = self._picture(image.artwork)
        self._context.save()
        self._context.translate(image.x, image.y)
        self._context.scale(image.width / picture.get_width(), image.height / picture.get_height())
        self._context.set_source_surface(picture)
        self._context.paint()
        self._context.restore()

    def _picture(self, artwork: Artwork) -> cairocffi.ImageSurface:
        if id(artwork) not in self._pictures:
            self._pictures[id(artwork)] = cairocffi.ImageSurface.create_from_png(BytesIO(artwork.png))
        return self._pictures[id(artwork)]

    def _set_source(self, fill: Fill) -> None:
        """A gradient is made once: the drawing, which keeps it, outlives the painter."""
        if isinstance(fill, str):
            self._context.set_source_rgb(*_rgb(fill))
            return
        if isinstance(fill, Sheer):
            self._context.set_source_rgba(*_rgb(fill.colour), fill.opacity)
            return
        if id(fill) not in self._gradients:
            self._gradients[id(fill)] = _gradient(fill)
        self._context.set_source(self._gradients[id(fill)])

    def _finish(self, fill: Fill | None, pen: Pen | None) -> None:
        context = self._context
        if fill is not None:
            self._set_source(fill)
            context.fill_preserve()
        if pen is not None:
            context.set_source_rgba(*_rgb(pen.colour), pen.opacity)
            context.set_line_width(pen.width * self._thicken)
            context.set_dash(pen.dash)
            context.set_line_cap(cairocffi.LINE_CAP_ROUND if pen.cap == "round" else cairocffi.LINE_CAP_BUTT)
            context.stroke_preserve()

    def _texts(self, texts: Iterable[Item], colour: Colour) -> None:
        """Texts of one colour; as outlines they are filled at one stroke."""
        context = self._context
        context.new_path()
        context.set_source_rgb(*_rgb(colour))
        draw = context.text_path if self._text_mode == "outlines" else context.show_text
        for text in texts:
            if isinstance(text, Text):
                self._text(text, draw)
        context.fill()

    def _text(self, text: Text, draw: Callable[[str], None]) -> None:
        self._set_font(text)
        along = text_width(text.text, text.size, text.weight) * _SHIFTS[text.anchor]
        turn = radians(text.rotation)
        self._context.move_to(text.x + along * cos(turn), text.y + along * sin(turn))
        draw(shown(text.text, text.weight))

    def _set_font(self, text: Text) -> None:
        """Face, size and direction; kept from one text to the next where they are the same."""
        font = (text.weight, text.size, text.rotation)
        if font == self._font:
            return
        c, s = text.size * cos(radians(text.rotation)), text.size * sin(radians(text.rotation))
        self._context.set_font_face(self._face(text.weight))
        self._context.set_font_matrix(cairocffi.Matrix(c, s, -s, c))
        self._font = font

    def _face(self, weight: Weight) -> cairocffi.FontFace:
        if weight not in self._faces:
            self._faces[weight] = cairo_face(weight)
        return self._faces[weight]


def _kind(item: Item) -> tuple[str, Colour]:
    return ("text", item.colour) if isinstance(item, Text) else ("shape", "")


def _gradient(fill: LinearGradient | RadialGradient) -> cairocffi.Gradient:
    pattern: cairocffi.LinearGradient | cairocffi.RadialGradient
    if isinstance(fill, LinearGradient):
        pattern = cairocffi.LinearGradient(fill.x1, fill.y1, fill.x2, fill.y2)
    else:
        pattern = cairocffi.RadialGradient(fill.fx, fill.fy, 0.0, fill.x, fill.y, fill.radius)
    for stop in fill.stops:
        pattern.add_color_stop_rgba(stop.offset, *_rgb(stop.colour), stop.opacity)
    return pattern


def trace(context: cairocffi.Context, segments: Iterable[Segment]) -> None:
    """Add the segments to the context's path."""
    x = y = start_x = start_y = 0.0
    for segment in segments:
        if isinstance(segment, Close):
            context.close_path()
            x, y = start_x, start_y
            continue
        if isinstance(segment, MoveTo):
            context.move_to(segment.x, segment.y)
            start_x, start_y = segment.x, segment.y
        elif isinstance(segment, LineTo):
            context.line_to(segment.x, segment.y)
        elif isinstance(segment, CurveTo):
            context.curve_to(segment.x1, segment.y1, segment.x2, segment.y2, segment.x, segment.y)
        else:
            _arc(context, x, y, segment)
        x, y = segment.x, segment.y


def _arc(context: cairocffi.Context, x: float, y: float, arc: ArcTo) -> None:
    """The arc from (x, y); its centre as in SVG 2, appendix B.2.4, for a circle and at most half a turn.

    A radius too short for the distance is lengthened to half of it, as B.2.5 has it.
    """
    half_x, half_y = (x - arc.x) / 2, (y - arc.y) / 2
    half = sqrt(half_x * half_x + half_y * half_y)
    if half == 0:
        return
    radius = max(arc.radius, half)
    lift = sqrt(max(radius * radius - half * half, 0.0)) / half * (1 if arc.clockwise else -1)
    centre_x, centre_y = (x + arc.x) / 2 + lift * half_y, (y + arc.y) / 2 - lift * half_x
    begin, end = atan2(y - centre_y, x - centre_x), atan2(arc.y - centre_y, arc.x - centre_x)
    (context.arc if arc.clockwise else context.arc_negative)(centre_x, centre_y, radius, begin, end)
