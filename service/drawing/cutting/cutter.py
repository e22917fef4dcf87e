"""The cutter's drawing of a strap: its pieces side by side on their leathers."""

from collections.abc import Sequence
from typing import NamedTuple

from service.drawing import words
from service.drawing.cutting.layers import PlacedPart, layers_of, refuse_wide
from service.drawing.cutting.nesting import Nested, nest
from service.drawing.cutting.parts import Part, parts_of
from service.drawing.description import title
from service.drawing.model import Drawing
from service.drawing.parts.chosen import chosen
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern, Piece
from service.strap.plane.lengths import MM, reading
from service.words import opening, say
from service.workshop.names import called, several

_APART = 3.0
"""Leather between two pieces, beside the kerf."""
_EDGE = 2.0


class _Cut(NamedTuple):
    """A part and the piece that it is of."""

    piece: Piece
    part: Part


def cutter_drawing(pattern: Pattern, shop: Shop, *, piece: str | None, units: Units, kerf: int = 0) -> Drawing:
    """All pieces, or one alone, side by side on the leather; `kerf` in nanometres.

    One unit is one millimetre. Raises `UnknownPiece` and `KerfTooWide`.
    """
    cuts = [_Cut(each, part) for each in chosen(pattern, piece) for part in parts_of(each)]
    refuse_wide((cut.part for cut in cuts), kerf, units)
    nested = _nested(cuts, kerf / MM)
    placed = [PlacedPart(cut.part, x, y) for cut, (x, y) in zip(cuts, nested.places, strict=True)]
    layers = layers_of(placed, shop, kerf)
    told = _description(cuts, units, kerf)
    return Drawing(nested.width, nested.height, title(pattern, shop, units), told, words.LANGUAGE, layers, None)


def _nested(cuts: Sequence[_Cut], kerf: float) -> Nested:
    """The pieces of each leather nested by themselves, one leather below another."""
    places: dict[str, tuple[float, float]] = {}
    width = height = 0.0
    for leather in dict.fromkeys(each.piece.leather for each in cuts):
        of_it = [each.part for each in cuts if each.piece.leather == leather]
        found = nest(
            [(each.length / MM, each.width / MM) for each in of_it],
            (leather.strip_length / MM, leather.usable_width / MM),
            _APART + kerf,
            _EDGE + kerf,
        )
        places |= {each.name: (x, y + height) for each, (x, y) in zip(of_it, found.places, strict=True)}
        width, height = max(width, found.width), height + found.height
    return Nested(tuple(places[each.part.name] for each in cuts), width, height)


def _description(cuts: Sequence[_Cut], units: Units, kerf: int) -> str:
    sizes = "; ".join(
        say(
            "{titled} {length} by {width}, {leather}",
            titled=_titled(each),
            length=reading(each.part.length, units),
            width=reading(each.part.width, units),
            leather=each.piece.leather.title,
        )
        for each in cuts
        if ".copy." not in each.part.name
    )
    return say("Cut lines only: {sizes}. {offset} True size: 1 unit is 1 mm.", sizes=sizes, offset=offset_words(kerf))


def offset_words(kerf: int) -> str:
    """What the paths of a drawing have to do with this kerf."""
    if not kerf:
        return say("No kerf is allowed for.")
    return say("Paths are moved by half the kerf of {kerf}.", kerf=reading(kerf, "mm"))


def _titled(cut: _Cut) -> str:
    """A piece, how many of it, or a strip, in words that begin a sentence."""
    return opening(called(cut.part.name) if cut.piece.count == 1 else several(cut.piece))
