"""How tapers and the edges of a piece are marked and cut, in words."""

from collections.abc import Iterable, Sequence

from service.shop.goods import EdgeIron
from service.shop.shop import Units
from service.strap.model.pattern import Piece
from service.strap.plane.lengths import reading
from service.strap.plane.outline import TaperAt
from service.strap.plane.profile import cut_edge, edge_at
from service.words import say, say_list
from service.workshop.names import called, several

_ENDS = {1: "its first end", 2: "its last end"}


def taper_sentence(piece: Piece, features: Iterable[str], units: Units) -> str:
    """Where a piece is how wide, and how the marks are joined; tapers alike are told together."""
    wanted = set(features)
    tapers = [taper for taper in piece.outline.tapers if f"{piece.name}.taper.{taper.n}" in wanted]
    return say(
        "Taper the {piece} to {ends}: mark it {wide} wide about its middle {narrow}, and its full "
        "{full_width} at {full}. Join the marks {line}, and cut along them towards the end.",
        piece=called(piece.name),
        ends=say(_ENDS[tapers[0].n]) if len(tapers) == 1 else say("both ends"),
        wide=reading(tapers[0].width, units),
        narrow=_as_far(piece, tapers, units),
        full_width=reading(piece.width, units),
        full=say_list(reading(taper.full, units) for taper in tapers),
        line=_line(piece, tapers, units),
    )


def _as_far(piece: Piece, tapers: Sequence[TaperAt], units: Units) -> str:
    """How far an end keeps its width; a square one may lose it at once."""
    if all(taper.narrow in (0, piece.length) for taper in tapers):
        return say("at the end")
    return say("from the end as far as {narrow}", narrow=say_list(reading(taper.narrow, units) for taper in tapers))


def edge_sentence(piece: Piece, iron: EdgeIron | None, units: Units) -> str:
    """How both long edges are cut: in whole repeats, from crest to crest."""
    cut = cut_edge(piece.outline)
    if cut is None:
        return ""
    one = {
        "scalloped": "Scallop one long edge of each of the {piece} from {start} to {end}",
        "pinked": "Pink one long edge of each of the {piece} from {start} to {end}",
    }
    words = (
        one
        if cut.edges == 1
        else {
            "scalloped": "Scallop both long edges of the {piece} from {start} to {end}",
            "pinked": "Pink both long edges of the {piece} from {start} to {end}",
        }
    )
    first = say(words[cut.shape], piece=several(piece), start=reading(cut.start, units), end=reading(cut.end, units))
    by_iron = (
        "{first}: {count} whole repeats of {repeat} along each, a crest at both ends, the roots {depth} inside. Step "
        "them off with dividers, and cut them with the {iron}, blow by blow."
    )
    by_hand = (
        "{first}: {count} whole repeats of {repeat} along each, a crest at both ends, the roots {depth} inside. Step "
        "them off with dividers, and cut along a template."
    )
    return say(
        by_iron if iron else by_hand,
        first=first,
        iron=iron.title if iron else "",
        count=cut.count,
        repeat=reading(cut.repeat, units),
        depth=reading(cut.depth, units),
    )


def _line(piece: Piece, tapers: Sequence[TaperAt], units: Units) -> str:
    """Along a straightedge, or by a curve through the widths a quarter, half and three quarters of the way."""
    if not tapers[0].eased:
        return say("with a straightedge")
    places = [taper.narrow + (taper.full - taper.narrow) * n // 4 for taper in tapers for n in (1, 2, 3)]
    through = (
        say("{wide} wide at {at}", wide=reading(round(2 * edge_at(piece.outline, x)), units), at=reading(x, units))
        for x in places
    )
    return say("by a curve that leaves both widths without a corner, {through}", through=say_list(through))
