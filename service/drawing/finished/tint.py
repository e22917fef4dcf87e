"""Colours worked out of one another: the tones that make a flat colour look like leather or metal."""

from collections.abc import Iterable
from colorsys import hsv_to_rgb, rgb_to_hsv
from dataclasses import dataclass
from functools import lru_cache

from service.drawing.model import Colour

BLACK: Colour = "#000000"
WHITE: Colour = "#ffffff"


def mix(one: Colour, other: Colour, share: float) -> Colour:
    """`one` with a `share` (0 to 1) of `other` in it."""
    pairs = zip(_parts(one), _parts(other), strict=True)
    return _hex(a + (b - a) * share for a, b in pairs)


def _parts(colour: Colour) -> tuple[float, float, float]:
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


def _hex(parts: Iterable[float]) -> Colour:
    return "#" + "".join(f"{round(min(max(part, 0.0), 1.0) * 255):02x}" for part in parts)


@dataclass(frozen=True, slots=True)
class Tones:
    """One material from its brightest glint to its deepest shade."""

    glint: Colour
    light: Colour
    base: Colour
    shade: Colour
    dark: Colour
    deep: Colour


@lru_cache(maxsize=64)
def metal(colour: Colour) -> Tones:
    """Tones of polished metal: shades grow warmer and fuller, as yellow metals do; grey metals stay grey."""
    return Tones(
        glint=mix(colour, "#fffdf4", 0.88),
        light=mix(colour, "#fff6dc", 0.5),
        base=colour,
        shade=_deeper(colour, 0.74, 1.15),
        dark=_deeper(colour, 0.47, 1.3),
        deep=_deeper(colour, 0.24, 1.3),
    )


def _deeper(colour: Colour, value: float, fullness: float) -> Colour:
    hue, saturation, brightness = rgb_to_hsv(*_parts(colour))
    warmer = hue - 0.05 * (1 - value) if 0.07 < hue < 0.2 else hue
    return _hex(hsv_to_rgb(warmer, min(saturation * fullness, 1.0), brightness * value))


@lru_cache(maxsize=64)
def sheen(colour: Colour) -> Colour:
    """The light that leather of this colour throws back: brighter and a little paler, of the same hue."""
    hue, saturation, brightness = rgb_to_hsv(*_parts(colour))
    return _hex(hsv_to_rgb(hue, saturation * 0.72, min(1.0, brightness * 1.35 + 0.28)))
