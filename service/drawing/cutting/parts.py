"""What is cut out of a leather in one: its contours, what is marked in it, and what it is called."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from service.shop.goods import Nm
from service.strap.model.pattern import Feature, Piece
from service.strap.model.splice import Strip
from service.strap.plane.outline import Outline, lengthened


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece, or a strip of one that begins at `start`, with what is cut and marked in it.

    `outline` is in the part's own frame, `features` in the piece's.
    """

    name: str
    """Of its contour and its group; unique in a drawing."""
    told: str
    """What the drawing writes on it."""
    outline: Outline
    width: Nm
    """What it takes of the hide, over with it."""
    over: Nm = 0
    """How much larger it is cut all round."""
    start: Nm = 0
    features: tuple[Feature, ...] = ()
    prefix: str = ""
    """Before the ids of its features, where several parts have the same."""

    @property
    def length(self) -> Nm:
        """What it takes of the hide, over with it."""
        return self.outline.length + 2 * self.over


def parts_of(piece: Piece) -> Iterator[Part]:
    """The parts of a piece. No feature lies in a lap, so that each lies in one strip. Of keepers there are several."""
    if not piece.splices:
        whole = _part(piece, piece.name, piece.cut_outline, piece.features)
        yield whole
        yield from (_copy(whole, n) for n in range(2, piece.count + 1))
        return
    for strip in piece.strips:
        inside = tuple(each for each in piece.features if strip.start <= each.x < strip.end)
        yield replace(_part(piece, strip.name, _short_of_over(piece, strip), inside), start=strip.start)


def _part(piece: Piece, name: str, outline: Outline, features: tuple[Feature, ...]) -> Part:
    return Part(name=name, told=name, outline=outline, width=piece.cut_width, over=piece.over, features=features)


def _copy(part: Part, n: int) -> Part:
    """The same part once more; its features have ids of their own."""
    features = tuple(replace(each, id=f"{each.id}.copy.{n}") for each in part.features)
    name = f"{part.name}.copy.{n}"
    return replace(part, name=name, told=name, features=features)


def _short_of_over(piece: Piece, strip: Strip) -> Outline:
    """What comes out true once it is grown by what a lining is cut over: at its laps it is not."""
    outline = strip.outline
    return lengthened(outline, strip.cut_length - 2 * piece.over - outline.length)
