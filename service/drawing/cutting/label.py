"""What a part is called, written on it where nothing is cut or marked; machines leave that layer out."""

from collections.abc import Iterator

from service.drawing.cutting.parts import Part
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Colour, Text
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import MM

_EM = 4.0
_LEAST_EM = 1.0
_OF_WIDTH = 0.5
"""The most of a part's width that its lettering is high."""
_BESIDE = 2.5
"""Millimetres that are left free before and behind it."""


def label(part: Part, colour: Colour) -> Text:
    """Its name on its centre line, in the longest stretch without a hole or a mark, as large as that has room for."""
    begin, end = max(_free(part), key=lambda stretch: stretch[1] - stretch[0])
    narrow = min(part.outline.end_widths) / MM
    room = (end - begin - 2 * _BESIDE) / text_width(part.told, 1.0)
    em = max(_LEAST_EM, min(_EM, _OF_WIDTH * narrow, room))
    return Text(begin + _BESIDE, CAP_HEIGHT * em / 2, part.told, em, colour=colour)


def _free(part: Part) -> Iterator[tuple[float, float]]:
    """The stretches between its ends and what lies along its centre line, in its own frame."""
    outline = part.outline
    reached, last = outline.head_depth / MM, (outline.length - outline.foot_depth) / MM
    for begin, end in (*sorted(_taken(part)), (last, last)):
        yield reached, max(reached, begin)
        reached = max(reached, end)


def _taken(part: Part) -> Iterator[tuple[float, float]]:
    """From where to where along it each feature lies that its name might run into."""
    for each in part.features:
        if abs(each.y) / MM - _half(each) < _EM:
            middle = (each.x - part.start) / MM
            yield middle - _half(each), middle + _half(each)


def _half(feature: Feature) -> float:
    return max(feature.long / MM / 2, 1.0)
