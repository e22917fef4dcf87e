"""What an attribute of a shop's picture may say."""

import re

from service.strap.errors import StrapError
from service.words import say

_NUMBER = r"[-+]?(?:[0-9]++(?:\.[0-9]*+)?|\.[0-9]++)(?:[eE][-+]?[0-9]{1,2})?"
_LENGTH = re.compile(rf"{_NUMBER}(?:px|mm|%)?")
_NUMBERS = re.compile(r"[-+0-9eE., \t\r\n]*")
_PATH = re.compile(r"[MmZzLlHhVvCcSsQqTtAa0-9eE+\-., \t\r\n]*")
_TRANSFORM = re.compile(r"(?:\s*+(?:matrix|translate|scale|rotate|skewX|skewY)\s*+\([-+0-9eE., \t\r\n]*+\)\s*+,?+)*")
_WORD = re.compile(r"[a-zA-Z]{1,24}")
_PAINT = re.compile(
    r"none|#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}|[a-z]{3,24}|rgb\([0-9., %]{5,40}\)|url\(#[A-Za-z_][\w.-]{0,60}\)"
)
_REFERENCE = re.compile(r"\s*+url\(#[\w.-]+\)\s*+")
_NO_LIST = re.compile(r"[\\@{}]|/\*")
NAME = re.compile(r"[A-Za-z_][\w.-]{0,60}", re.ASCII)

FORMS: dict[str, re.Pattern[str]] = {
    "id": NAME,
    "d": _PATH,
    "points": _NUMBERS,
    "transform": _TRANSFORM,
    "gradientTransform": _TRANSFORM,
    **dict.fromkeys(("fill", "stroke", "stop-color"), _PAINT),
    **dict.fromkeys(("fill-rule", "stroke-linecap", "stroke-linejoin", "gradientUnits", "spreadMethod"), _WORD),
    **dict.fromkeys(
        (
            "x", "y", "width", "height", "rx", "ry", "cx", "cy", "r", "x1", "y1", "x2", "y2", "fx", "fy",
            "offset", "opacity", "fill-opacity", "stroke-opacity", "stop-opacity", "stroke-width",
            "stroke-miterlimit",
        ),
        _LENGTH,
    ),
}  # fmt: skip
"""The attributes that are kept, and the form of each."""
_HARMFUL = frozenset(
    {"stroke-dasharray", "filter", "mask", "clip-path", "marker", "marker-start", "marker-mid", "marker-end"}
)
"""Attributes that no picture of ours needs, and that can take any amount of time to draw."""


class ArtworkError(StrapError, ValueError):
    """A picture that is not used; the message says why and what would help."""


def is_allowed(name: str, value: str) -> bool:
    """Whether an attribute is kept: yes where its value is sound, no where the drawing can do without it.

    Raises `ArtworkError` for a value that is not sound and for an attribute that could do harm.
    """
    if name.lower().startswith("on"):
        raise ArtworkError(say("has the event attribute {name}; a picture may not contain scripts", name=name[:24]))
    if "url(" in value.lower() and not _REFERENCE.fullmatch(value):
        raise ArtworkError(say("refers in {name} to something outside the file", name=name[:24]))
    if name in _HARMFUL:
        if value.strip() != "none":
            raise ArtworkError(say("uses {name}, which is not drawn here; make plain shapes of it", name=name))
        return False
    form = FORMS.get(name)
    if form is None:
        return False
    if not form.fullmatch(value.strip()):
        raise ArtworkError(say("has {name}={value!r}, which is not read here", name=name, value=value.strip()[:40]))
    return True


def declarations(style: str) -> list[tuple[str, str]]:
    """The properties of a `style` attribute. Raises `ArtworkError` for what is no plain list of them."""
    if _NO_LIST.search(style):
        raise ArtworkError("has a style attribute that is more than a list of properties")
    found = []
    for part in style.split(";"):
        name, colon, value = part.partition(":")
        if colon:
            found.append((name.strip(), value.strip()))
    return found
