"""The sheet's words, in English."""

from typing import get_args

from service.shop.shop import Shop, Units
from service.strap.ends.kinds import kind_of
from service.strap.model.pattern import Face, Pattern, Piece, PieceName, Purpose
from service.strap.model.spec import Construction, Hand, LiningPurpose
from service.words import opening, say, say_count
from service.workshop.names import called, cut_over

LANGUAGE = "en"

PIECES: dict[PieceName, str] = {name: opening(called(name)) for name in get_args(PieceName)}
_CONSTRUCTIONS: dict[Construction, str] = {
    "three_piece": "Three-piece strap",
    "one_piece": "One-piece strap",
    "open": "Open strap",
}
PURPOSES: dict[Purpose, str] = {
    "joint": "joint",
    "fold_rivet": "fold rivet",
    "prong_slot": "buckle prong",
    "size_hole": "size hole",
    "ornament": "ornament",
    "between": "between",
    "border": "border",
    "keeper_rivet": "keeper rivet",
    "hanger": "hanging",
    "snap_cap": "snap cap",
    "snap_stud": "snap stud",
    "fold_line": "fold line",
    "keeper_place": "middle of a keeper",
    "fixed_keeper": "middle of a fixed keeper",
}
HANDS: dict[Hand, str] = {"left": "left", "right": "right"}
FACES: dict[Face, str] = {"grain": "grain side up", "flesh": "flesh side up"}
DATUMS: dict[str, str] = {
    "fold": "from the fold's outer edge",
    "bar": "from the buckle's bar",
    "frame": "from the frame's outer edge",
}

LININGS: dict[LiningPurpose, str] = {
    "cover": "covers the backs, glued on once all is set",
    "carry": "glued on first, and set through",
}
"""What a lining is for."""


def strap_title(pattern: Pattern) -> str:
    """What kind of strap it is: by the short name of its construction, or by its ends."""
    head, foot = (say(kind_of(end).title) for end in pattern.ends.outermost)
    short = _CONSTRUCTIONS.get(pattern.spec.construction)
    made = say(short) if short else say("Strap, {head} to {foot}", head=head, foot=foot)
    hand = pattern.spec.hand
    return say("{strap}, {hand}", strap=made, hand=say(HANDS[hand])) if hand else made


def lining_title(lining: Piece) -> str:
    """The lining's leather, and what it is for."""
    if lining.is_loose:
        return say("{leather}: a strap of its own, held by keepers", leather=lining.leather.title)
    return f"{lining.leather.title}: {say(LININGS[lining.purpose])}" if lining.purpose else lining.leather.title


def strips(piece: Piece) -> str:
    """What a spliced piece is made of."""
    return say("lapped of {count} strips", count=len(piece.strips))


def cut_larger(piece: Piece, units: Units) -> str:
    """How much larger a lining is cut, and what becomes of that."""
    over = cut_over(piece, units)
    return (
        say("cut {cut_over}", cut_over=over)
        if piece.has_edges
        else say("cut {cut_over}, trim once glued", cut_over=over)
    )


def how_many(piece: Piece) -> str:
    """How many of a piece are made."""
    return say("make {count} of it", count=piece.count)


def hole_numbers(piece: Piece) -> dict[str, str]:
    """The number of each size hole by its id, as answers count them: its id's.

    A joining strap has each number twice: it is buckled at the same hole at both ends, counted from its middle.
    """
    holes = [each for each in piece.features if each.purpose == "size_hole"]
    if piece.name != "joining_strap":
        return {each.id: each.id.rpartition(".")[2] for each in holes}
    places = sorted({each.x for each in holes})
    count = len(places) // 2
    numbers = dict(zip(places, (*range(count, 0, -1), *range(1, count + 1)), strict=True))
    return {each.id: str(numbers[each.x]) for each in holes}


def item_title(shop: Shop, item: str) -> str:
    """The title of something of the shop that is set on straps; the id itself where it has none."""
    found = shop.item(item)
    return found.title if found else item


def punch_title(shop: Shop, tool: str | None) -> str | None:
    """The title of a round or slot punch of the shop; the id itself where it has none."""
    if tool is None:
        return None
    punch = shop.round_punches.get(tool) or shop.slot_punches.get(tool)
    return punch.title if punch else tool


def size_holes(count: int) -> str:
    """`1 size hole`, `3 size holes`."""
    return say_count("{count} size hole", "{count} size holes", count)
