"""What things are called at the bench: the shop's titles, and plain words for what has only a name in the data."""

from typing import Literal

from service.shop.goods import Nm
from service.shop.pricing import ConsumedPer
from service.shop.shop import Shop, Units
from service.strap.model.pattern import BETWEEN_KEEPERS, Pattern, Piece, PieceName
from service.strap.model.spec import MeasuredFrom
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.plane.profile import cut_edge
from service.words import say, say_count, say_list

_PURPOSES = {
    "joint": "joint hole",
    "fold_rivet": "fold rivet hole",
    "prong_slot": "prong slot",
    "size_hole": "size hole",
    "ornament": "ornament",
    "between": "ornament between",
    "border": "border spot",
    "keeper_rivet": "keeper hole",
    "hanger": "hanging hole",
    "snap_cap": "hole for the snap's cap",
    "snap_stud": "hole for a snap's stud",
    "edge_stitch": "stitches along the edges",
    "fold_stitch": "stitches of the fold",
    "splice_stitch": "stitches of the laps",
    "joint_stitch": "stitches of the joint",
    "keeper_place": "middle of a keeper",
    "fixed_keeper": "middle of a fixed keeper",
}


_MEASURED: dict[MeasuredFrom | Literal["ends", "stud"], str] = {
    "bar": "between the axes of what it is folded round",
    "frame": "over all, with what it is folded round",
    "fold": "end to end",
}


_CALLED = {
    "english_point": "English point",
    "head_billet": "billet of the first end",
    "foot_billet": "billet of the last end",
    "head_buckle_billet": "buckle billet of the first end",
    "foot_buckle_billet": "buckle billet of the last end",
    "head_tongue_billet": "tongue billet of the first end",
    "foot_tongue_billet": "tongue billet of the last end",
    "head_keeper": "keeper of the first end",
    "keeper_between": "keeper between ornaments",
    "foot_keeper": "keeper of the last end",
    "foot_fixed_keeper": "fixed keeper of the last end",
}


_SEVERAL: dict[PieceName, str] = {
    "keeper": "{count} keepers",
    "head_keeper": "{count} keepers of the first end",
    "foot_keeper": "{count} keepers of the last end",
    "keeper_between": "{count} keepers between ornaments",
    "edging": "{count} strips of edging",
    "fixed_keeper": "{count} fixed keepers",
    "foot_fixed_keeper": "{count} fixed keepers of the last end",
}
"""What is made several times, alike."""


def called(name: str) -> str:
    """A piece, a strip of one, a shape or a construction in plain words."""
    if name in BETWEEN_KEEPERS[1:]:
        return say("keeper between ornaments (length {number})", number=_length_number(name))
    piece, strip, number = name.partition(".strip.")
    told = say(_CALLED.get(piece, piece.replace("_", " ")))
    return say("{piece}, strip {number}", piece=told, number=number) if strip else told


def several(piece: Piece) -> str:
    """A piece, or how many of it there are: `24 keepers between ornaments`."""
    if piece.count == 1:
        return called(piece.name)
    if piece.name in BETWEEN_KEEPERS[1:]:
        told = "{count} keepers between ornaments (length {number})"
        return say(told, count=piece.count, number=_length_number(piece.name))
    return say(_SEVERAL[piece.name], count=piece.count)


def _length_number(keeper: str) -> str:
    """Which of their lengths a keeper between ornaments has, as its name counts them."""
    return keeper.rpartition("_")[2]


def purpose_title(purpose: str) -> str:
    """What a feature is for."""
    return say(_PURPOSES[purpose]) if purpose in _PURPOSES else called(purpose)


def nominal_size(pattern: Pattern) -> str:
    """The size hole or stud at which a strap has its size: the middle one, of an even number the one that is meant."""
    count, number = len(pattern.finished.holes), pattern.finished.nominal_hole
    if count == 1 and pattern.is_snapped:
        return say("the stud")
    if count % 2:
        return say("the middle stud" if pattern.is_snapped else "the middle hole")
    told = (
        "stud {number} of {count} (1 is the tightest)"
        if pattern.is_snapped
        else "hole {number} of {count} (1 is the tightest)"
    )
    return say(told, number=number, count=count)


def end_to_end(pattern: Pattern) -> str:
    """From where to where a strap is measured that is not buckled: what hangs beyond its folds is left out."""
    if pattern.is_snapped:
        return say("from {stud} to the cap", stud=nominal_size(pattern))
    if pattern.finished.measured_from == "bar" and all(end.buckle for end in pattern.ends.outermost):
        return say("from the middle of one bar to the middle of the other")
    if pattern.finished.measured_from not in ("ends", "stud"):
        return say(_MEASURED[pattern.finished.measured_from])
    rings = sum(line.count for line in pattern.hardware if line.purpose in ("head", "foot"))
    buckles = sum(line.count for line in pattern.hardware if line.purpose in ("buckle", "foot_buckle"))
    hung = [say_count("the ring", "the rings", rings)] if rings else []
    hung += [say_count("the buckle", "the buckles", buckles)] if buckles else []
    return say("end to end, without {hung}", hung=say_list(hung)) if hung else say("end to end")


def cut_over(piece: Piece, units: Units) -> str:
    """How much larger a lining is cut: `1/8 in over all round, 1/2 in longer to lie over the backs`."""
    told = [say("{over} over all round", over=reading(piece.over, units))] if piece.over else []
    told += [say("{rise} longer to lie over the backs", rise=reading(piece.rise, units))] if piece.rise else []
    return ", ".join(told)


def narrowing_words(piece: Piece, units: Units) -> str:
    """What is said behind a piece's width: nothing, or `, narrowing to 1 1/4 in at both ends`, and how it is edged."""
    told = {taper.n: reading(taper.width, units) for taper in piece.outline.tapers}
    near, far = told.get(1), told.get(2)
    if near and far:
        ends = (
            say(", narrowing to {near} at both ends", near=near)
            if near == far
            else say(", narrowing to {near} at the first end and {far} at the last", near=near, far=far)
        )
    elif near:
        ends = say(", narrowing to {near} at the first end", near=near)
    else:
        ends = say(", narrowing to {far} at the last end", far=far) if far else ""
    return ends + _edged(piece, units)


def _edged(piece: Piece, units: Units) -> str:
    """Nothing, or `, scalloped: 44 of 3/4 in, 1/8 in deep`."""
    cut = cut_edge(piece.outline)
    if cut is None:
        return ""
    told = {
        "scalloped": ", scalloped: {count} of {repeat}, {depth} deep",
        "pinked": ", pinked: {count} of {repeat}, {depth} deep",
    }
    repeat, depth = reading(cut.repeat, units), reading(cut.depth, units)
    return say(told[cut.shape], count=cut.count, repeat=repeat, depth=depth)


def inside_edge(piece: Piece, inset: Nm, units: Units, edge: str) -> str:
    """How far something lies inside an edge: of one that is cut, inside its roots, and how far inside its crests."""
    told = reading(inset, units)
    if not piece.outline.root_depth:
        return say("{inset} inside {edge}", inset=told, edge=edge)
    crests = reading(inset + piece.outline.root_depth, units)
    return say("{inset} inside the roots, {crests} inside the crests of {edge}", inset=told, crests=crests, edge=edge)


def seam_inside(piece: Piece, line: StitchLine, units: Units) -> str:
    """How far a line of stitches lies inside the edge: one along cut edges runs straight past their roots."""
    if line.purpose == "edge_stitch":
        return inside_edge(piece, line.inset, units, say("the edge"))
    return say("{inset} inside the edge", inset=reading(line.inset, units))


def long_reading(length: Nm, units: Units) -> str:
    """Thread or lace as it is measured off, never short: whole inches, from a yard on feet and inches; cm, or m."""
    if units == "in":
        feet, inches = divmod(-(-length // INCH), 12)
        if feet < 3 or (feet, inches) == (3, 0):
            return say("{inches} in", inches=12 * feet + inches)
        return say("{feet} ft {inches} in", feet=feet, inches=inches) if inches else say("{feet} ft", feet=feet)
    centimetres = -(-length // (10 * MM))
    return (
        say("{centimetres} cm", centimetres=centimetres)
        if centimetres <= 100
        else say("{centimetres:.2f} m", centimetres=centimetres / 100)
    )


def tool_title(tool: str, shop: Shop) -> str:
    """The shop's title of a punch; the name itself for hand tools."""
    for punches in (shop.round_punches, shop.slot_punches, shop.end_punches, shop.edge_irons):
        if tool in punches:
            return punches[tool].title
    return tool


def consumed(per: ConsumedPer, shop: Shop) -> list[str]:
    """The titles of what the shop uses up by the strap, the metre of edge or the leather."""
    goods = shop.pricing.consumables.values() if shop.pricing else ()
    return [each.title for each in goods if each.per == per]


def with_consumed(per: ConsumedPer, shop: Shop) -> str:
    """` with gum and beeswax`, or nothing where the shop uses up nothing so."""
    titles = consumed(per, shop)
    return say(" with {titles}", titles=say_list(titles)) if titles else ""


def item_title(item: str, shop: Shop) -> str:
    """The shop's title of something that is set on a strap; the name itself for lace and the like."""
    found = shop.item(item)
    return found.title if found else called(item)
