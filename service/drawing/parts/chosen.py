"""The pieces of a pattern that are drawn: all of them, or one by its name."""

from service.strap.errors import StrapError
from service.strap.model.pattern import Pattern, Piece
from service.words import say


class UnknownPiece(StrapError, LookupError):
    """A pattern has no piece of that `name`; `names` are those that it has."""

    def __init__(self, name: str, names: tuple[str, ...]) -> None:
        super().__init__(say("this strap has no piece {name!r}: choose {names}", name=name, names=", ".join(names)))
        self.name = name
        self.names = names


def chosen(pattern: Pattern, name: str | None) -> tuple[Piece, ...]:
    """Every piece of the pattern, or the one of that name. Raises `UnknownPiece`."""
    if name is None:
        return pattern.pieces
    found = pattern.piece(name)
    if found is None:
        raise UnknownPiece(name, tuple(piece.name for piece in pattern.pieces))
    return (found,)
