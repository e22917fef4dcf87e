"""The finished strap in words, for those who do not see it."""

from collections import Counter
from collections.abc import Iterator

from service.drawing import words
from service.drawing.end_words import EndWords
from service.drawing.finished.made_up import MadeUp, Placed
from service.shop.shop import Shop, Units
from service.strap.ends.kinds import kind_of
from service.strap.model.pattern import KEEPERS, Pattern, Purpose, StitchPurpose
from service.strap.plane.lengths import reading, tape_reading
from service.workshop.names import end_to_end, narrowing_words

_WHERE: tuple[tuple[Purpose, str], ...] = (
    ("between", "between them"),
    ("border", "along the edges"),
)
_SEAMS: tuple[tuple[StitchPurpose, str], ...] = (
    ("edge_stitch", "along the edges"),
    ("fold_stitch", "along the turned-back end"),
    ("joint_stitch", "along the joint"),
    ("splice_stitch", "through the laps"),
)


def title(pattern: Pattern, strap: MadeUp, shop: Shop, units: Units) -> str:
    """One line: what it is, what it carries, how long it is and whose it is."""
    made = words.strap_title(pattern)
    row = _goods(strap.ornaments, "ornament", shop)
    length = tape_reading(pattern.finished.length, units)
    return f"{made}{f' with {row}' if row else ''}, {length}: finished look, {shop.name}"


def description(pattern: Pattern, strap: MadeUp, shop: Shop, units: Units) -> str:
    """What is seen, sentence by sentence."""
    parts = (
        _view(strap),
        _leather(pattern, units),
        *_sewn(pattern),
        *_set_on(strap, shop),
        *_ends(pattern, strap, shop),
    )
    return f"{' '.join(parts)} {_length(pattern, units)} True proportion: 1 unit is 1 mm."


def _view(strap: MadeUp) -> str:
    if len(strap.buckles) == 2:
        return "Seen from the front, laid flat, a buckle at each end."
    if not strap.buckles:
        return "Seen from the front, laid flat."
    return "Seen from the front, laid flat, the buckle at the left."


def _leather(pattern: Pattern, units: Units) -> str:
    wide = [
        f"{words.PIECES[piece.name].lower()} {reading(piece.width, units)} wide{narrowing_words(piece, units)}"
        for piece in pattern.pieces
        if piece.name not in (*KEEPERS, "lining")
    ]
    body = pattern.pieces[0]
    spliced = f", {words.strips(body)}" if body.splices else ""
    return f"{body.leather.title}: {', '.join(wide)}{spliced}."


def _sewn(pattern: Pattern) -> Iterator[str]:
    """What is stitched, and the lining that stitches hold."""
    lining = pattern.piece("lining")
    if lining:
        covers = ", which covers the backs" if lining.purpose == "cover" else ""
        yield f"Lined with {lining.leather.title}{covers}."
    lines = {line.purpose for piece in pattern.pieces for line in piece.stitch_lines}
    places = [where for purpose, where in _SEAMS if purpose in lines]
    if places:
        yield f"Stitched {' and '.join(places)}."


def _set_on(strap: MadeUp, shop: Shop) -> Iterator[str]:
    rows = any(each.y for each in strap.ornaments if each.feature.purpose == "ornament")
    where = (("ornament", "in rows" if rows else "along the middle"), *_WHERE)
    found = [f"{goods} {place}" for purpose, place in where if (goods := _goods(strap.ornaments, purpose, shop))]
    if found:
        yield f"{'; '.join(found)}."


def _goods(placed: tuple[Placed, ...], purpose: Purpose, shop: Shop) -> str:
    """`6 × shank bell, 30 mm` of everything that is set for one purpose."""
    counts = Counter(each.feature.item for each in placed if each.feature.purpose == purpose)
    found = [f"{count} × {words.item_title(shop, item)}" for item, count in counts.items() if item]
    return " and ".join((", ".join(found[:-1]), found[-1])) if len(found) > 1 else "".join(found)


def _ends(pattern: Pattern, strap: MadeUp, shop: Shop) -> Iterator[str]:
    if pattern.is_buckled:
        title = strap.buckles[0].buckle.title
        keeper = " and a keeper of leather" if strap.keepers else ""
        ring = f"; {strap.lead_ring.ring.title} behind the buckle" if strap.lead_ring else ""
        holes = words.plural(len(strap.holes), "size hole")
        yield f"{title[:1].upper()}{title[1:]}{keeper}{ring}; {holes}."
        return
    if strap.joining:
        holes = words.plural(len(strap.joining_holes), "size hole")
        yield f"Beside it a strap with a tip at each end and {holes}, which joins the two buckles."
    for name, end in zip(("Left", "Right"), pattern.ends.outermost, strict=True):
        yield f"{name} end {kind_of(end).seen(end, EndWords(shop, 'mm'))}."


def _length(pattern: Pattern, units: Units) -> str:
    length = tape_reading(pattern.finished.length, units)
    if not pattern.is_buckled:
        return f"{length} long, {end_to_end(pattern)}."
    return f"{length} {words.DATUMS[pattern.finished.measured_from]} to the middle hole."
