"""A drawing in words, for those who do not see it."""

from service.drawing import words
from service.drawing.parts.callouts import callouts, what, why
from service.drawing.parts.seams import counted, where
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern, Piece
from service.strap.plane.lengths import reading, tape_reading
from service.words import say
from service.workshop.names import narrowing_words


def title(pattern: Pattern, shop: Shop, units: Units) -> str:
    """One line: the construction, its finished length and whose it is."""
    made = words.strap_title(pattern)
    return say(
        "{made}, {length} finished: pattern, {shop}",
        made=made,
        length=tape_reading(pattern.finished.length, units),
        shop=shop.name,
    )


def description(pieces: tuple[Piece, ...], shop: Shop, units: Units) -> str:
    """Every piece with its size, and what is cut, scribed and folded on it."""
    told = " ".join(_piece(piece, shop, units) for piece in pieces)
    return say("{pieces} True size: 1 unit is 1 mm.", pieces=told)


def _piece(piece: Piece, shop: Shop, units: Units) -> str:
    size = say(
        "{length} by {width}{narrowing_words}",
        length=reading(piece.length, units),
        width=reading(piece.width, units),
        narrowing_words=narrowing_words(piece, units),
    )
    head = f"{words.PIECES[piece.name]}, {size}, {piece.leather.title}, {say(words.FACES[piece.face])}"
    head += f", {words.how_many(piece)}" if piece.count > 1 else ""
    head += f", {words.strips(piece)}" if piece.splices else ""
    groups = [f"{what(group, shop, units)} ({why(group, shop)})" for group in callouts(piece)]
    groups += [f"{counted(line, units)} ({where(line, piece, units)})" for line in piece.stitch_lines]
    return f"{head}: {'; '.join(groups)}." if groups else f"{head}."
