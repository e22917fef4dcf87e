"""The other strap of a pair: the mirror image of a pattern about its centre line, grain side up like the first.

Outlines are alike on both sides of the centre line, and so are most patterns: their mirror image is themselves.
"""

from collections.abc import Iterable
from dataclasses import replace

from service.shop.goods import Nm
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.model.spec import Hand
from service.strap.model.stitch_line import StitchLine

_ROUNDED: Nm = 1_000
"""Answers tell a thousandth of a millimetre: what differs by less is alike."""


def mirrored(pattern: Pattern) -> Pattern:
    """The pattern with `y` turned about, where that makes another strap of it; else the very same pieces.

    All pieces turn or none, so that holes which meet go on meeting by their names.
    """
    if is_symmetrical(pattern):
        return pattern
    return replace(pattern, pieces=tuple(map(_turned, pattern.pieces)))


def in_hand(pattern: Pattern, hand: Hand) -> Pattern:
    """The pattern of one hand of a pair, of that of either hand; a strap of which nothing is said is a left one."""
    said = replace(pattern, spec=replace(pattern.spec, hand=hand))
    is_other = (hand == "right") != (pattern.spec.hand == "right")
    return mirrored(said) if is_other else said


def is_symmetrical(pattern: Pattern) -> bool:
    """Whether every piece is its own mirror image: right and left are cut and punched alike."""
    return all(_seen(piece) == _seen(_turned(piece)) for piece in pattern.pieces)


def _turned(piece: Piece) -> Piece:
    features = tuple(map(_across, piece.features))
    return replace(piece, features=features, stitch_lines=tuple(map(_sewn_across, piece.stitch_lines)))


def _across(feature: Feature) -> Feature:
    level = None if feature.level is None else -feature.level
    return replace(feature, y=-feature.y, angle=-feature.angle % 180, level=level)


def _sewn_across(line: StitchLine) -> StitchLine:
    runs = (replace(run, points=tuple((x, -y) for x, y in run.points)) for run in line.runs)
    return replace(line, runs=tuple(runs))


def _seen(piece: Piece) -> tuple[object, ...]:
    """What is seen of a piece: everything on it, whatever it is called and in whatever order it is told."""
    made = sorted(map(repr, map(_told, piece.features)))
    sewn = sorted((line.purpose, line.stitches, sorted(_near(line.points))) for line in piece.stitch_lines)
    return tuple(made), tuple(map(repr, sewn))


def _told(feature: Feature) -> Feature:
    """A feature without its names, its places to what answers tell."""
    (place,) = _near([(feature.x, feature.y)])
    return replace(feature, id="", mates=(), x=place[0], y=place[1], level=None)


def _near(points: Iterable[tuple[Nm, Nm]]) -> list[tuple[int, int]]:
    return [(round(x / _ROUNDED), round(y / _ROUNDED)) for x, y in points]
