"""A piece in the parts that its paper has room for."""

from itertools import pairwise

from service.drawing.parts import symbols
from service.drawing.parts.symbols import CENTRE_OVERHANG
from service.drawing.printed.document import Part
from service.drawing.printed.joints import BLEED, Extent, Room, divide
from service.strap.model.pattern import Feature, Piece
from service.strap.plane.lengths import MM

_CLEAR = 1.0
"""Joints keep this far from what must not be cut, where they can, in millimetres."""


def parts_of(piece: Piece, letter: str, width: float, overlap: float) -> tuple[Part, ...]:
    """The piece's parts in order, each of them shown on at most `width` millimetres of paper.

    Joints avoid holes, slots, marks, folds and shaped ends, in this order of importance: that each is whole on
    one part at least, that no joint crosses it, that it does not lie in an overlap, nor what is set on it on a joint.
    """
    length = piece.length / MM
    division = divide(length, _extents(piece), Room(width, overlap, CENTRE_OVERHANG), _footprints(piece))
    edges = (None, *division.joints, None)
    count = len(edges) - 1
    return tuple(
        Part(
            piece=piece.name,
            letter=letter,
            number=number,
            count=count,
            left=0.0 if begins is None else begins - BLEED,
            right=length if ends is None else ends + division.overlap,
            begins=begins,
            ends=ends,
        )
        for number, (begins, ends) in enumerate(pairwise(edges), 1)
    )


def _extents(piece: Piece) -> list[Extent]:
    length, outline = piece.length / MM, piece.outline
    found = [(0.0, outline.head_depth / MM), (length - outline.foot_depth / MM, length)]
    for feature in piece.features:
        half = half_length(feature) / MM + _CLEAR
        found.append((feature.x / MM - half, feature.x / MM + half))
    return found


def _footprints(piece: Piece) -> list[Extent]:
    found = ((feature.x / MM, feature.footprint / MM / 2) for feature in piece.features if feature.footprint)
    return [(x - half, x + half) for x, half in found]


def reach(feature: Feature) -> int:
    """How far along the piece the feature, or what will sit there, goes from its centre, in nanometres."""
    return max(half_length(feature), feature.footprint // 2)


def half_length(feature: Feature) -> int:
    """How far along the piece what is cut, marked or folded goes from its centre, in nanometres."""
    if feature.kind == "slot":
        return ((feature.width if feature.angle == 90 else feature.length) or 0) // 2
    if feature.kind == "hole":
        return (feature.diameter or 0) // 2
    return round(symbols.CROSS_ARM * MM) if feature.kind == "mark" else 0
