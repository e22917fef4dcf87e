"""The key to lines and symbols: only those that occur on the sheet."""

from collections.abc import Sequence

from service.drawing import palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Text
from service.drawing.parts.panel import Panel, flow
from service.drawing.parts.specimens import Symbol, specimen, symbol_of
from service.drawing.sizes import Sizes
from service.strap.model.pattern import Piece
from service.words import say

_MEANINGS: dict[Symbol, str] = {
    "outline": "outline: cut",
    "hole": "hole: cut through",
    "slot": "slot: cut through",
    "holes_and_cuts": "slot by two holes and two knife cuts: cut through",
    "mark": "mark: scribe only, never cut",
    "fold": "fold",
    "stitch": "line of stitches",
    "lap": "end of a lap of two strips",
    "edging": "edging beyond the edge",
    "centre": "centre line",
    "footprint": "what will sit there, for orientation",
    "datum": "datum: every reading begins here",
}


def symbols_used(pieces: Sequence[Piece]) -> tuple[Symbol, ...]:
    """What occurs in the pieces, in the key's order."""
    features = [feature for piece in pieces for feature in piece.features]
    used: set[Symbol] = {"outline", "centre", "datum", *(symbol_of(feature) for feature in features)}
    if any(feature.footprint for feature in features):
        used.add("footprint")
    if any(piece.stitch_lines for piece in pieces):
        used.add("stitch")
    if any(piece.splices for piece in pieces):
        used.add("lap")
    if any(piece.stands_out for piece in pieces):
        used.add("edging")
    return tuple(symbol for symbol in _MEANINGS if symbol in used)


def legend(pieces: Sequence[Piece], width: float, sizes: Sizes) -> Panel:
    """The key for these pieces, in rows at most `width` wide."""
    entries = [_entry(symbol, sizes) for symbol in symbols_used(pieces)]
    return flow(entries, width, 2.0 * sizes.em, 0.75 * sizes.em)


def _entry(symbol: Symbol, sizes: Sizes) -> Panel:
    em = sizes.em
    space = 3.0 * em if symbol in ("outline", "fold", "stitch", "lap", "edging", "centre") else 2.0 * em
    baseline = CAP_HEIGHT * em
    text = say(_MEANINGS[symbol])
    items = (
        specimen(symbol, space / 2, baseline / 2, space, em),
        Text(space + 0.6 * em, baseline, text, em, colour=palette.INK),
    )
    return Panel(items, space + 0.6 * em + text_width(text, em), baseline + 0.2 * em)
