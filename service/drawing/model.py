"""A neutral drawing: immutable, in millimetres, y downwards. Every encoder draws just this.

Angles are degrees, clockwise as seen (y downwards). Colours are `#rrggbb`.
"""

from dataclasses import dataclass
from typing import Literal

from service.shop.artwork import Artwork

Colour = str
Weight = Literal["regular", "bold"]
Anchor = Literal["start", "middle", "end"]
Cap = Literal["butt", "round"]
LayerName = Literal[
    "notes",
    "text",
    "fold",
    "stitch",
    "mark",
    "punch",
    "cut",
    "before",
    "shadow",
    "strap",
    "ornaments",
    "behind",
    "closure",
]


@dataclass(frozen=True, slots=True)
class Sheer:
    """One colour, seen through."""

    colour: Colour
    opacity: float


@dataclass(frozen=True, slots=True)
class Stop:
    """A colour at `offset` (0 to 1) of a gradient."""

    offset: float
    colour: Colour
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class LinearGradient:
    """Colours along the line from (`x1`, `y1`) to (`x2`, `y2`), in the filled item's coordinates."""

    x1: float
    y1: float
    x2: float
    y2: float
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class RadialGradient:
    """Colours from the focus (`fx`, `fy`) out to the circle about (`x`, `y`)."""

    x: float
    y: float
    radius: float
    fx: float
    fy: float
    stops: tuple[Stop, ...]


Fill = Colour | Sheer | LinearGradient | RadialGradient


@dataclass(frozen=True, slots=True)
class Pen:
    """A line `width` millimetres wide. `dash` alternates drawn and open lengths; empty is continuous."""

    width: float
    colour: Colour
    dash: tuple[float, ...] = ()
    cap: Cap = "butt"
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class MoveTo:
    """Begin a new part of the path at (`x`, `y`)."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight line to (`x`, `y`)."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class ArcTo:
    """A part of a circle of `radius` to (`x`, `y`): at most half of it, clockwise unless said otherwise."""

    radius: float
    x: float
    y: float
    clockwise: bool = True


@dataclass(frozen=True, slots=True)
class CurveTo:
    """A cubic Bézier curve to (`x`, `y`) with its two control points."""

    x1: float
    y1: float
    x2: float
    y2: float
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Close:
    """A straight line back to where this part of the path began."""


Segment = MoveTo | LineTo | ArcTo | CurveTo | Close
"""A step of a pen, in millimetres. Leather is cut along an `OutlineSegment` of `service.strap.plane.outline`."""


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and curves. `id` names what is drawn, e.g. a feature of the pattern; unique in a drawing."""

    segments: tuple[Segment, ...]
    pen: Pen | None = None
    fill: Fill | None = None
    id: str | None = None


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle about (`x`, `y`)."""

    x: float
    y: float
    radius: float
    pen: Pen | None = None
    fill: Fill | None = None
    id: str | None = None


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. (`x`, `y`) lies on the baseline; `size` is the em in millimetres."""

    x: float
    y: float
    text: str
    size: float
    anchor: Anchor = "start"
    rotation: float = 0.0
    weight: Weight = "regular"
    colour: Colour = "#000000"


@dataclass(frozen=True, slots=True)
class Group:
    """Items in a frame of their own, `scale` times as large, turned by `rotation`, then moved to (`x`, `y`).

    In place of both, `matrix` says where a millimetre along the frame's x lies, and then one along its y.
    """

    items: tuple["Item", ...]
    x: float = 0.0
    y: float = 0.0
    rotation: float = 0.0
    scale: float = 1.0
    name: str | None = None
    id: str | None = None
    matrix: tuple[float, float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Stamp:
    """The same items once more, their origin at (`x`, `y`). Stamps that share one tuple may be kept once."""

    items: tuple["Item", ...]
    x: float
    y: float
    id: str | None = None


@dataclass(frozen=True, slots=True)
class Image:
    """A picture of the shop's own, stretched to `width` × `height` from its upper left corner (`x`, `y`)."""

    artwork: Artwork
    x: float
    y: float
    width: float
    height: float
    id: str | None = None


Item = Path | Circle | Text | Group | Stamp | Image


@dataclass(frozen=True, slots=True)
class Layer:
    """A part of the drawing that somebody may want alone, e.g. everything that is punched."""

    id: LayerName
    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing, `width` × `height` millimetres from its upper left corner. Layers are drawn in order.

    Without a `background` it is transparent where nothing is drawn.
    """

    width: float
    height: float
    title: str
    description: str
    language: str
    layers: tuple[Layer, ...]
    background: Colour | None = "#ffffff"
