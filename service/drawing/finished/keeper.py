"""The keeper: a loop of leather round the strap, seen as a band across it."""

from service.drawing.finished.shade import cast_shadow
from service.drawing.finished.shapes import box
from service.drawing.finished.tint import BLACK, mix, sheen
from service.drawing.model import Colour, Item, LinearGradient, Path, Pen, Stop
from service.shop.goods import Leather


def keeper(leather: Leather, width: float, half: float, strap_half: float) -> tuple[Item, ...]:
    """A band `width` along the strap, `half` to each side of its middle, the origin; so the strap by `strap_half`."""
    colour, edge = leather.colour, leather.edge_colour
    side = width / 2
    whole = box(-side, -half, side, half, 1.1)
    inner = box(-side + 0.55, -half + 0.1, side - 0.55, half - 0.1, 0.8)
    lip = box(-side + 1.7, -half + 0.3, side - 1.7, half - 0.3, 0.5)
    return (
        *_shadow(side, strap_half - 0.3),
        Path(whole, fill=edge),
        Path(inner, fill=mix(colour, edge, 0.12)),
        Path(lip, fill=colour),
        Path(lip, Pen(0.4, mix(edge, BLACK, 0.2), opacity=0.55)),
        Path(whole, fill=_round(half, sheen(colour))),
    )


def _round(half: float, lit: Colour) -> LinearGradient:
    """The loop turns away over both edges of the strap."""
    stops = (
        Stop(0, BLACK, 0.7), Stop(0.06, BLACK, 0.25), Stop(0.1, lit, 0.05), Stop(0.2, lit, 0.42),
        Stop(0.42, lit, 0.02), Stop(0.6, BLACK, 0.0), Stop(0.88, BLACK, 0.2), Stop(0.95, BLACK, 0.45),
        Stop(1, BLACK, 0.8),
    )  # fmt: skip
    return LinearGradient(0, -half, 0, half, stops)


def _shadow(side: float, inner: float) -> tuple[Item, ...]:
    """On the strap, to both sides, and more to the right."""
    fall = (Stop(0, BLACK, 0.5), Stop(0.4, BLACK, 0.22), Stop(1, BLACK, 0.0))
    left, right = -side - 1.4, side + 3.4
    return (
        Path(box(left, -inner, -side, inner), fill=LinearGradient(-side, 0, left, 0, fall)),
        Path(box(side, -inner, right, inner), fill=LinearGradient(side, 0, right, 0, fall)),
    )


def keeper_shadow(width: float, half: float) -> tuple[Item, ...]:
    """Its shadow on the ground, beyond the strap's edges."""
    side = width / 2
    return cast_shadow(lambda grown: box(-side - grown, -half - grown, side + grown, half + grown, 1.2), 1.8, 0.45)
