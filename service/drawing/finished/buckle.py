"""A buckle with its bar's axis at x = 0, its frame out to the left for `side` -1, to the right for 1."""

from service.drawing.finished.shade import glow, line_shadow
from service.drawing.finished.shapes import Segments, box, facing
from service.drawing.finished.tint import Tones, metal, mix
from service.drawing.finished.tube import tube
from service.drawing.model import (
    ArcTo,
    Close,
    CurveTo,
    Item,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    Stop,
)
from service.shop.goods import Buckle
from service.strap.plane.lengths import MM

_GROUND = 2.6
"""The frame's height over what it lies on, in millimetres."""


def frame_shadow(buckle: Buckle, side: int = -1) -> tuple[Item, ...]:
    """The shadow of frame and bar on the ground."""
    return (
        *line_shadow(frame_way(buckle, side), buckle.frame_thickness / MM, _GROUND, 0.42),
        *line_shadow(_bar_way(buckle), buckle.folded_round / MM, _GROUND, 0.3, "butt"),
    )


def bar(buckle: Buckle) -> tuple[Item, ...]:
    """The bar that the strap is folded round, with the roller on it, if it has one, between the frame's rails."""
    tones = metal(buckle.colour)
    half, reach = buckle.bar_thickness / MM / 2, (buckle.frame_width - buckle.frame_thickness) / MM / 2
    found = [Path(box(-half, -reach, half, reach), fill=_round(half, tones))]
    if buckle.roller:
        half, reach = buckle.roller / MM / 2, (buckle.frame_width - 2 * buckle.frame_thickness) / MM / 2
        found.append(Path(box(-half, -reach, half, reach), fill=_round(half, tones)))
    return tuple(found)


def _bar_way(buckle: Buckle) -> Segments:
    reach = (buckle.frame_width - 2 * buckle.frame_thickness) / MM / 2
    return MoveTo(0.0, -reach), LineTo(0.0, reach)


def _round(half: float, tones: Tones) -> LinearGradient:
    """Across an upright bar `half` wide to each side of x = 0."""
    stops = (
        Stop(0, tones.dark), Stop(0.18, tones.base), Stop(0.34, tones.glint), Stop(0.5, tones.light),
        Stop(0.75, tones.shade), Stop(1, tones.deep),
    )  # fmt: skip
    return LinearGradient(-half, 0, half, 0, stops)


def frame(buckle: Buckle, side: int = -1) -> tuple[Item, ...]:
    """The frame's rail: open at the heel where the bar closes it, or all round."""
    return tube(frame_way(buckle, side), buckle.frame_thickness / MM, metal(buckle.colour))


def frame_way(buckle: Buckle, side: int = -1) -> Segments:
    """The middle line of the frame's rail."""
    return facing(_frame(buckle), side)


def _frame(buckle: Buckle) -> Segments:
    thick = buckle.frame_thickness / MM
    left, half = -(buckle.bar_to_frame / MM - thick / 2), (buckle.frame_width / MM - thick) / 2
    if buckle.bar_place == "centre":
        right = buckle.bar_to_heel / MM - thick / 2
        return box(left, -half, right, half, min(0.55 * half, (right - left) / 2.2))
    corner, heel = min(0.62 * half, 0.7 * -left), buckle.bar_to_heel / MM - thick / 2
    return (
        MoveTo(heel, half),
        LineTo(left + corner, half),
        ArcTo(corner, left, half - corner),
        LineTo(left, corner - half),
        ArcTo(corner, left + corner, -half),
        LineTo(heel, -half),
    )


def prong(buckle: Buckle, side: int = -1) -> tuple[Item, ...]:
    """The prong, from its coil round the bar to where it rests on the frame's far rail."""
    half, base = buckle.folded_round / MM / 2, buckle.prong_width / MM / 2
    *blade, gleam = tongue(buckle, side)
    return (*blade, *_coil(half + 0.9, base * 1.16, metal(buckle.colour)), gleam)


def tongue(buckle: Buckle, side: int = -1) -> tuple[Item, ...]:
    """What of the prong is seen where a strap lies on its coil: from the bar, through the hole, to the far rail."""
    tones = metal(buckle.colour)
    base, tip = buckle.prong_width / MM / 2, buckle.prong_width / MM * 0.36
    far = -(buckle.bar_to_frame / MM - 0.22 * buckle.frame_thickness / MM)
    half = buckle.folded_round / MM / 2
    way = facing((MoveTo(-half, 0.0), LineTo(far + tip, 0.0)), side)
    return (
        *line_shadow(way, 2 * tip, 1.5, 0.42),
        Path(facing(_blade(half * 0.4, far, base, tip), side), fill=_lit(base, tones)),
        glow(-side * (far + 1.6 * tip), -0.4 * tip, 1.3 * tip, 0.6, tones.glint),
    )


def _blade(right: float, far: float, base: float, tip: float) -> Segments:
    """From `base` half its width at the bar to `tip`, rounded, at the far rail."""
    waist = far * 0.55
    return (
        MoveTo(right, -base),
        CurveTo(waist, -base, waist, -tip, far + tip, -tip),
        ArcTo(tip, far, 0.0, clockwise=False),
        ArcTo(tip, far + tip, tip, clockwise=False),
        CurveTo(waist, tip, waist, base, right, base),
        Close(),
    )


def _lit(half: float, tones: Tones) -> LinearGradient:
    stops = (
        Stop(0, tones.shade), Stop(0.2, tones.light), Stop(0.36, tones.glint), Stop(0.52, tones.base),
        Stop(0.8, tones.dark), Stop(1, tones.deep),
    )  # fmt: skip
    return LinearGradient(0, -half, 0, half, stops)


def _coil(reach: float, half: float, tones: Tones) -> tuple[Item, ...]:
    """The prong's eye, bent round the bar: its own edge dark, its back bright."""
    edge = box(-reach, -half, reach, half, 0.35 * half)
    back = box(-reach + 0.25, -half + 0.22, reach - 0.25, half - 0.22, 0.3 * half)
    return Path(edge, fill=mix(tones.deep, tones.dark, 0.4)), Path(back, fill=_round(reach, tones))


def heel_shadow(buckle: Buckle, half: float, side: int = -1) -> tuple[Item, ...]:
    """What the rail of a frame with its bar across the middle throws on a strap `half` wide to each side."""
    thick = buckle.frame_thickness / MM
    x, reach = -side * (buckle.bar_to_heel / MM - thick / 2), half - 1.3
    return line_shadow((MoveTo(x, -reach), LineTo(x, reach)), thick, 1.4, 0.5, "butt")
