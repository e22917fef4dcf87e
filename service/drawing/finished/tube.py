"""Round bars and wire: polished rails along any path, as wide as they are thick."""

from service.drawing.finished.shapes import Segments, moved
from service.drawing.finished.tint import Tones, mix
from service.drawing.model import Cap, Colour, Item, Path, Pen

_STEPS = 14
_SHIFT = 0.16
"""How far the brightest line lies from the middle, towards the light, as a share of the thickness."""


def tube(way: Segments, thickness: float, tones: Tones, cap: Cap = "round") -> tuple[Item, ...]:
    """A round rail `thickness` wide along the middle line `way`, lit from the upper left.

    Lines are laid on one another, each narrower, brighter and nearer to the light.
    """
    found = [Path(way, Pen(thickness, tones.deep, cap=cap))]
    for step in range(_STEPS):
        share = step / (_STEPS - 1)
        shift = -_SHIFT * thickness * share
        width = thickness * (0.94 - 0.87 * share)
        found.append(Path(moved(way, shift, shift), Pen(width, _tone(share, tones), cap=cap)))
    return tuple(found)


def _tone(share: float, tones: Tones) -> Colour:
    """From the dark edge (0) to the glint (1)."""
    ramp = (tones.dark, tones.shade, tones.base, tones.light, tones.glint)
    place = share * (len(ramp) - 1)
    index = min(int(place), len(ramp) - 2)
    return mix(ramp[index], ramp[index + 1], place - index)
