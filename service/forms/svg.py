"""A drawing as SVG: one user unit is one millimetre, layers are groups with plain ids, text is outlines.

Each glyph stands once in `<defs>` and is used by reference, so the text looks the same without any font;
what it says is in `aria-label`. No script, no style sheet, nothing from outside.
"""

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from service.drawing.font import UNITS_PER_EM, face, shown
from service.drawing.model import (
    Anchor,
    ArcTo,
    Circle,
    Close,
    Drawing,
    Fill,
    Group,
    Image,
    Item,
    Layer,
    LinearGradient,
    LineTo,
    MoveTo,
    Pen,
    RadialGradient,
    Segment,
    Sheer,
    Stamp,
    Stop,
    Text,
    Weight,
)
from service.forms.form import Budget, DownloadOffer, Form, OutputOptions, Subject, always
from service.shop.artwork import Artwork

_SHIFTS: dict[Anchor, float] = {"start": 0.0, "middle": -0.5, "end": -1.0}
_LETTERS: dict[Weight, str] = {"regular": "g", "bold": "b"}


def svg(drawing: Drawing) -> str:
    """The drawing as an SVG document, coordinates to 0.001 mm."""
    writer = _Writer()
    body = [writer.layer(layer) for layer in drawing.layers]
    parts = (
        _root(drawing),
        f'<title id="title">{_content(drawing.title)}</title>\n',
        f'<desc id="desc">{_content(drawing.description)}</desc>\n',
        writer.definitions(),
        _background(drawing),
        *body,
        "</svg>\n",
    )
    return "".join(parts)


def _root(drawing: Drawing) -> str:
    width, height = number(drawing.width), number(drawing.height)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    words = f'role="img" lang={_attribute(drawing.language)} aria-labelledby="title desc"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {words}>\n'


def _background(drawing: Drawing) -> str:
    if drawing.background is None:
        return ""
    whole = f"M0 0H{number(drawing.width)}V{number(drawing.height)}H0Z"
    return f'<path d="{whole}" fill="{drawing.background}"/>\n'


def number(value: float) -> str:
    """A coordinate to 0.001, as short as it can be written."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _legal(text: str) -> str:
    """The text with what XML 1.0 cannot carry replaced, so that the document is always well formed."""
    return "".join(c if _in_xml(ord(c)) else "\ufffd" for c in text)


def _in_xml(code: int) -> bool:
    return 0x20 <= code < 0xD800 or code in (0x9, 0xA, 0xD) or 0xE000 <= code < 0xFFFE or code > 0xFFFF


def _content(text: str) -> str:
    return escape(_legal(text))


@lru_cache(maxsize=4096)
def _attribute(text: str) -> str:
    return quoteattr(_legal(text))


class _Writer:
    """Writes items and remembers what they use by reference, in the order of its first use."""

    def __init__(self) -> None:
        self._glyphs: dict[tuple[str, Weight], None] = {}
        self._gradients: dict[LinearGradient | RadialGradient, str] = {}
        self._stamps: dict[int, tuple[str, str]] = {}
        self._pictures: dict[int, tuple[str, str]] = {}

    def layer(self, layer: Layer) -> str:
        """One layer as a group; items that look alike share a group that says how."""
        return f'<g id="{layer.id}" aria-label={_attribute(layer.title)}>\n{self._items(layer.items)}</g>\n'

    def definitions(self) -> str:
        """Every gradient, picture, stamp and glyph that was used."""
        parts = [_gradient(gradient, name) for gradient, name in self._gradients.items()]
        parts += [body for _, body in self._pictures.values()]
        parts += [f'<g id="{name}">\n{body}</g>\n' for name, body in self._stamps.values()]
        parts += [_glyph(character, weight) for character, weight in self._glyphs]
        return f"<defs>\n{''.join(parts)}</defs>\n" if parts else ""

    def _items(self, items: Iterable[Item]) -> str:
        parts = []
        for style, run in groupby(items, self._style):
            written = "".join(self._item(item) for item in run)
            parts.append(f"<g{style}>{written}</g>\n" if style else written)
        return "".join(parts)

    def _style(self, item: Item) -> str:
        if isinstance(item, Text):
            return f' fill="{item.colour}"'
        if isinstance(item, Group | Stamp | Image):
            return ""
        return self._filled(item.fill) + _stroke(item.pen)

    def _filled(self, fill: Fill | None) -> str:
        if fill is None or isinstance(fill, str):
            return f' fill="{fill or "none"}"'
        if isinstance(fill, Sheer):
            return f' fill="{fill.colour}" fill-opacity="{number(fill.opacity)}"'
        name = self._gradients.setdefault(fill, f"fill{len(self._gradients) + 1}")
        return f' fill="url(#{name})"'

    def _item(self, item: Item) -> str:
        if isinstance(item, Text):
            return self._text(item)
        if isinstance(item, Group):
            named = f" class={_attribute(item.name)}" if item.name else ""
            return f"<g{_id(item.id)}{named}{_moved(item)}>\n{self._items(item.items)}</g>\n"
        if isinstance(item, Stamp):
            place = f'x="{number(item.x)}" y="{number(item.y)}"'
            return f'<use{_id(item.id)} href="#{self._stamp(item.items)}" {place}/>\n'
        if isinstance(item, Image):
            return self._image(item)
        if isinstance(item, Circle):
            place = f'cx="{number(item.x)}" cy="{number(item.y)}" r="{number(item.radius)}"'
            return f"<circle{_id(item.id)} {place}/>"
        return f'<path{_id(item.id)} d="{path_data(item.segments)}"/>'

    def _stamp(self, items: tuple[Item, ...]) -> str:
        """The name of a stamp's items, written once: the drawing keeps them, so `id` tells them apart."""
        if id(items) not in self._stamps:
            body = self._items(items)
            self._stamps[id(items)] = (f"stamp{len(self._stamps) + 1}", body)
        return self._stamps[id(items)][0]

    def _image(self, image: Image) -> str:
        place = f'x="{number(image.x)}" y="{number(image.y)}"'
        size = f'width="{number(image.width)}" height="{number(image.height)}"'
        return f'<use{_id(image.id)} href="#{self._picture(image.artwork)}" {place} {size}/>\n'

    def _picture(self, artwork: Artwork) -> str:
        if id(artwork) not in self._pictures:
            name = f"picture{len(self._pictures) + 1}"
            self._pictures[id(artwork)] = (name, _symbol(artwork, name))
        return self._pictures[id(artwork)][0]

    def _text(self, text: Text) -> str:
        run, glyphs = _run(text.text, text.weight, text.anchor)
        self._glyphs.update(dict.fromkeys(glyphs))
        turned = f" rotate({number(text.rotation)})" if text.rotation else ""
        place = f"translate({number(text.x)} {number(text.y)}){turned} scale({text.size / UNITS_PER_EM:.7f})"
        return f'<g aria-label={_attribute(text.text)} transform="{place}">{run}</g>'


@lru_cache(maxsize=4096)
def _run(text: str, weight: Weight, anchor: Anchor) -> tuple[str, tuple[tuple[str, Weight], ...]]:
    """The glyphs of a text side by side, in font units, and which they are."""
    known = face(weight)
    characters = shown(text, weight)
    x = round(sum(known.advances[character] for character in characters) * _SHIFTS[anchor])
    parts, used = [], []
    for character in characters:
        if known.paths[character]:
            parts.append(f'<use href="#{_glyph_id(character, weight)}" x="{x}"/>')
            used.append((character, weight))
        x += known.advances[character]
    return "".join(parts), tuple(used)


def _glyph_id(character: str, weight: Weight) -> str:
    return f"{_LETTERS[weight]}{ord(character):x}"


@lru_cache(maxsize=2048)
def _glyph(character: str, weight: Weight) -> str:
    return f'<path id="{_glyph_id(character, weight)}" d="{face(weight).paths[character]}"/>\n'


def _symbol(artwork: Artwork, name: str) -> str:
    """A picture of the shop's own, clipped to its own bounds, its ids kept apart from all others."""
    box = f'viewBox="0 0 {number(artwork.width)} {number(artwork.height)}" preserveAspectRatio="none"'
    return f'<symbol id="{name}" {box}>{artwork.markup.replace("{prefix}", f"{name}.")}</symbol>\n'


def _id(name: str | None) -> str:
    return f" id={_attribute(name)}" if name else ""


def _moved(group: Group) -> str:
    if group.matrix:
        return f' transform="matrix({" ".join(map(number, (*group.matrix, group.x, group.y)))})"'
    parts = []
    if group.x or group.y:
        parts.append(f"translate({number(group.x)} {number(group.y)})")
    if group.rotation:
        parts.append(f"rotate({number(group.rotation)})")
    if group.scale != 1.0:
        parts.append(f"scale({number(group.scale)})")
    return f' transform="{" ".join(parts)}"' if parts else ""


@lru_cache(maxsize=256)
def _stroke(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(map(number, pen.dash))}"' if pen.dash else ""
    cap = f' stroke-linecap="{pen.cap}"' if pen.cap != "butt" else ""
    seen = f' stroke-opacity="{number(pen.opacity)}"' if pen.opacity != 1 else ""
    return f' stroke="{pen.colour}" stroke-width="{number(pen.width)}"{dash}{cap}{seen}'


def path_data(segments: Iterable[Segment]) -> str:
    """The path data of some segments."""
    return "".join(map(_segment, segments))


def _segment(segment: Segment) -> str:
    if isinstance(segment, LineTo):
        return f"L{number(segment.x)} {number(segment.y)}"
    if isinstance(segment, MoveTo):
        return f"M{number(segment.x)} {number(segment.y)}"
    if isinstance(segment, Close):
        return "Z"
    if isinstance(segment, ArcTo):
        radius = number(segment.radius)
        return f"A{radius} {radius} 0 0 {int(segment.clockwise)} {number(segment.x)} {number(segment.y)}"
    return (
        f"C{number(segment.x1)} {number(segment.y1)} {number(segment.x2)} {number(segment.y2)} "
        f"{number(segment.x)} {number(segment.y)}"
    )


def _gradient(gradient: LinearGradient | RadialGradient, name: str) -> str:
    head = f'id="{name}" gradientUnits="userSpaceOnUse"'
    stops = "".join(_stop(stop) for stop in gradient.stops)
    if isinstance(gradient, LinearGradient):
        ends = (("x1", gradient.x1), ("y1", gradient.y1), ("x2", gradient.x2), ("y2", gradient.y2))
        return f"<linearGradient {head}{_numbers(ends)}>{stops}</linearGradient>\n"
    circle = (("cx", gradient.x), ("cy", gradient.y), ("r", gradient.radius))
    focus = (("fx", gradient.fx), ("fy", gradient.fy))
    return f"<radialGradient {head}{_numbers((*circle, *focus))}>{stops}</radialGradient>\n"


def _numbers(pairs: Iterable[tuple[str, float]]) -> str:
    return "".join(f' {name}="{number(value)}"' for name, value in pairs)


def _stop(stop: Stop) -> str:
    opacity = f' stop-opacity="{number(stop.opacity)}"' if stop.opacity != 1 else ""
    return f'<stop offset="{number(stop.offset)}" stop-color="{stop.colour}"{opacity}/>'


def _encode(subject: Subject, _options: OutputOptions, _budget: Budget) -> bytes:
    return svg(subject.drawing()).encode()


SVG = Form(
    name="svg",
    title="SVG",
    media_type="image/svg+xml",
    is_text=True,
    views=("pattern", "finished", "cutter", "worn"),
    parameters=frozenset(("view", "piece", "units", "background", "kerf", "hole")),
    of_posted=frozenset(("vary",)),
    refusals=("unknown_piece", "kerf_too_wide", "hole_not_worn"),
    headers={
        "Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; sandbox",
        "Cross-Origin-Embedder-Policy": "require-corp",  # else an isolated page may not show it in a frame
    },
    downloads=(
        DownloadOffer("pattern", "Working pattern as SVG"),
        DownloadOffer("picture", "Picture as SVG", "view=finished"),
    ),
    cost=always("small"),
    encode=_encode,
)
