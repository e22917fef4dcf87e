"""An SVG file judged and written anew: shapes, groups and gradients, with bounded size, number and depth."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.parsers import expat
from xml.sax.saxutils import quoteattr

from service.artwork.values import NAME, ArtworkError, declarations, is_allowed
from service.words import say

MOST_BYTES = 65_536
MOST_ELEMENTS = 600
DEEPEST = 24
_MOST_RATIO = 10.0
_SVG, _XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
_SHAPES = frozenset({"g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})
_GRADIENTS = frozenset({"linearGradient", "radialGradient"})
_KEPT = _SHAPES | _GRADIENTS | {"defs", "stop"}
_SILENT = frozenset({"title", "desc", "metadata"})
"""Elements that are no part of the picture: left out."""
_ADVICE = {
    "text": "make paths of its text",
    "tspan": "make paths of its text",
    "style": "put the properties on the shapes themselves",
    "use": "put the shapes themselves where they are used",
    "image": "draw it with shapes",
    "script": "a picture may not contain scripts",
    "foreignObject": "a picture holds shapes only",
}
_PLACEHOLDER = "{prefix}"
_APART = re.compile(r"[\s,]+")


@dataclass(frozen=True, slots=True)
class Clean:
    """The picture's own size in user units, and its elements, moved to begin at the origin."""

    width: float
    height: float
    markup: str


def clean(content: bytes) -> Clean:
    """The picture in an SVG file. Raises `ArtworkError` for the first thing that is not allowed in it."""
    if len(content) > MOST_BYTES:
        raise ArtworkError(say("has {size} bytes; at most {most} are read", size=len(content), most=MOST_BYTES))
    reader = _Reader()
    parser = expat.ParserCreate(namespace_separator="|")
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.StartDoctypeDeclHandler = _no_doctype
    parser.ProcessingInstructionHandler = _no_instruction
    try:
        parser.Parse(content, True)  # noqa: FBT003 - expat takes it by place only
    except expat.ExpatError as error:
        raise ArtworkError(say("is not well-formed XML: {error}", error=error)) from error
    except (LookupError, ValueError) as error:
        if isinstance(error, ArtworkError):
            raise
        raise ArtworkError(say("cannot be read: {error}", error=error)) from error
    return reader.result()


def _no_doctype(*_: object) -> None:
    raise ArtworkError("has a document type declaration, which may hold entities; save it without one")


def _no_instruction(target: str, _: str) -> None:
    raise ArtworkError(say("has the processing instruction {target!r}; save it as plain SVG", target=target[:24]))


@dataclass(slots=True)
class _Reader:
    """Takes the parser's events, and writes what is kept."""

    parts: list[str] = field(default_factory=list)
    open: list[str] = field(default_factory=list)
    """Names of the open elements that are kept, the root first."""
    left_out: int = 0
    """How deep the parser is inside an element that is left out."""
    count: int = 0
    box: tuple[float, float, float, float] | None = None
    gradients: dict[str, str | None] = field(default_factory=dict)
    """By id: the gradient that it takes its stops from."""
    used: set[str] = field(default_factory=set)

    def start(self, qualified: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        self.count += 1
        if self.count > MOST_ELEMENTS:
            raise ArtworkError(say("has more than {most} elements", most=MOST_ELEMENTS))
        if len(self.open) + self.left_out >= DEEPEST:
            raise ArtworkError(say("has elements nested deeper than {deepest}", deepest=DEEPEST))
        space, _, name = qualified.rpartition("|")
        if not self.open:
            self._root(space, name, attributes)
        elif self.left_out or space != _SVG or name in _SILENT:
            self.left_out += 1
        else:
            self._element(name, attributes)

    def end(self, _: str) -> None:
        """An element ends."""
        if self.left_out:
            self.left_out -= 1
            return
        self.parts.append(f"</{self.open.pop()}>")

    def _root(self, space: str, name: str, attributes: dict[str, str]) -> None:
        if space != _SVG or name != "svg":
            raise ArtworkError("is not an SVG document")
        self.box = _view_box(attributes.get("viewBox", ""))
        x, y = 0 - self.box[0], 0 - self.box[1]
        own = {key: value for key, value in attributes.items() if key not in ("x", "y", "width", "height")}
        self.parts.append(f'<g transform="translate({x:.6g} {y:.6g})"><g{self._attributes("svg", own)}>')
        self.open.append("g></g")

    def _element(self, name: str, attributes: dict[str, str]) -> None:
        if name not in _KEPT:
            advice = _ADVICE.get(name, "draw it with plain shapes")
            raise ArtworkError(say("contains the element {name!r}: {advice}", name=name[:24], advice=advice))
        source = self._gradient(attributes) if name in _GRADIENTS else ""
        self.parts.append(f"<{name}{source}{self._attributes(name, attributes)}>")
        self.open.append(name)

    def _gradient(self, attributes: dict[str, str]) -> str:
        """Note a gradient; what it writes of the one that it takes its stops from."""
        name = attributes.get("id", "")
        if name in self.gradients:
            raise ArtworkError(say("has two gradients with the id {name!r}", name=name[:24]))
        target = _href(attributes)
        if target is not None and not (target.startswith("#") and NAME.fullmatch(target[1:])):
            raise ArtworkError("has a gradient that refers to something outside the file")
        if target is None:
            self.gradients[name] = None
            return ""
        source = self.gradients[name] = target.removeprefix("#")
        return f' href="#{_PLACEHOLDER}{source}"'

    def _attributes(self, element: str, attributes: dict[str, str]) -> str:
        written: dict[str, str] = {}
        for name, value in self._pairs(element, attributes):
            if is_allowed(name, value):
                written[name] = self._named(name, value.strip())
        return "".join(f" {name}={quoteattr(value)}" for name, value in written.items())

    def _pairs(self, element: str, attributes: dict[str, str]) -> Iterator[tuple[str, str]]:
        """Attributes, then the properties of `style`, which win."""
        target = _href(attributes)
        if target is not None and element not in _GRADIENTS:
            raise ArtworkError(
                say("has a reference on the element {element!r}; a picture may not refer to others", element=element)
            )
        for name, value in attributes.items():
            if name != "style" and "|" not in name:
                yield name, value
        yield from declarations(attributes.get("style", ""))

    def _named(self, name: str, value: str) -> str:
        """Ids and references to them, with room for a prefix that keeps them apart from others."""
        if name == "id":
            return _PLACEHOLDER + value
        if value.startswith("url("):
            target = value[5:-1]
            self.used.add(target)
            return f"url(#{_PLACEHOLDER}{target})"
        return value

    def result(self) -> Clean:
        """The whole picture. Raises `ArtworkError` for references to what is not there, or goes round in rings."""
        if self.box is None:
            raise ArtworkError("is empty")
        for target in sorted(self.used - set(self.gradients)):
            raise ArtworkError(say("refers to {target!r}, which is no gradient of the file", target=target[:24]))
        plain = {name for name, source in self.gradients.items() if source is None}
        for name, source in self.gradients.items():
            if source is not None and source not in plain:
                raise ArtworkError(
                    say("has the gradient {name!r}, whose stops stand in no plain gradient of the file", name=name[:24])
                )
        return Clean(self.box[2], self.box[3], "".join(self.parts))


def _href(attributes: dict[str, str]) -> str | None:
    """The reference that an element makes, if any."""
    return attributes.get("href", attributes.get(f"{_XLINK}|href"))


def _view_box(text: str) -> tuple[float, float, float, float]:
    try:
        x, y, width, height = (float(part) for part in _APART.split(text.strip()))
    except ValueError:
        raise ArtworkError("needs a viewBox of four numbers on its root element") from None
    if not (0 < width < 1e6 and 0 < height < 1e6 and abs(x) < 1e6 and abs(y) < 1e6):
        raise ArtworkError("has a viewBox that is empty or too large")
    if not 1 / _MOST_RATIO <= width / height <= _MOST_RATIO:
        raise ArtworkError(say("has a viewBox more than {most:g} times as long as it is wide", most=_MOST_RATIO))
    return x, y, width, height
