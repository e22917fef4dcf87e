"""The finished strap in words, for those who do not see it."""

from collections import Counter
from collections.abc import Iterator

from service.drawing import words
from service.drawing.end_words import EndWords
from service.drawing.finished.made_up import MadeUp
from service.drawing.finished.placed import Placed
from service.shop.shop import Shop, Units
from service.strap.ends.folded import kept_words
from service.strap.ends.kinds import kind_of
from service.strap.model.pattern import BETWEEN_KEEPERS, FIXED_KEEPERS, KEEPERS, Pattern, Purpose
from service.strap.model.stitch_line import StitchPurpose
from service.strap.plane.lengths import reading, tape_reading
from service.words import opening, say, say_count, say_list
from service.workshop.names import end_to_end, narrowing_words, nominal_size

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
    told = "{made} with {row}, {length}: finished look, {shop}" if row else "{made}, {length}: finished look, {shop}"
    return say(told, made=made, row=row, length=length, shop=shop.name)


def description(pattern: Pattern, strap: MadeUp, shop: Shop, units: Units) -> str:
    """What is seen, sentence by sentence."""
    parts = (_view(strap), *looks(pattern, strap, shop, units))
    return say(
        "{parts} {length} True proportion: 1 unit is 1 mm.", parts=" ".join(parts), length=_length(pattern, units)
    )


def looks(pattern: Pattern, strap: MadeUp, shop: Shop, units: Units, *, is_joined: bool = False) -> tuple[str, ...]:
    """A sentence each of its leather, what is sewn, what is set on it, and its ends.

    `is_joined` where its joining strap joins the buckles, and does not lie beside it.
    """
    beside = tuple(_joining(strap, is_joined=is_joined)) if strap.joining else ()
    ends = _ends(pattern, strap, shop)
    return _leather(pattern, units), *_sewn(pattern), *_set_on(strap, shop), *beside, *ends


def _joining(strap: MadeUp, *, is_joined: bool) -> Iterator[str]:
    holes = words.size_holes(len(strap.joining_holes))
    if is_joined:
        yield say("A strap with a tip at each end and {holes} joins the two buckles.", holes=holes)
    else:
        yield say("Beside it a strap with a tip at each end and {holes}, which joins the two buckles.", holes=holes)


def _view(strap: MadeUp) -> str:
    if len(strap.buckles) == 2:
        return say("Seen from the front, laid flat, a buckle at each end.")
    if not strap.buckles:
        return say("Seen from the front, laid flat.")
    return say("Seen from the front, laid flat, the buckle at the left.")


def _leather(pattern: Pattern, units: Units) -> str:
    wide = [
        say(
            "{piece} {width} wide{narrowing_words}",
            piece=words.PIECES[piece.name].lower(),
            width=reading(piece.width, units),
            narrowing_words=narrowing_words(piece, units),
        )
        for piece in pattern.pieces
        if piece.name not in (*KEEPERS, *FIXED_KEEPERS, *BETWEEN_KEEPERS, "lining", "edging")
    ]
    body = pattern.pieces[0]
    spliced = f", {words.strips(body)}" if body.splices else ""
    return f"{body.leather.title}: {', '.join(wide)}{spliced}."


def _sewn(pattern: Pattern) -> Iterator[str]:
    """What is stitched, and the lining that stitches hold."""
    lining = pattern.piece("lining")
    if lining:
        covers = say(", which covers the backs") if lining.purpose == "cover" else ""
        held = say(", held by keepers") if lining.is_loose else ""
        yield say("Lined with {leather}{covers}{held}.", leather=lining.leather.title, covers=covers, held=held)
    at = pattern.pieces[0].edging
    if at:
        told = {
            None: "An edging of {leather} along both edges.",
            "pinked": "A pinked edging of {leather} along both edges.",
            "scalloped": "A scalloped edging of {leather} along both edges.",
        }
        yield say(told[at.cut.shape if at.cut else None], leather=at.leather.title)
    lines = {line.purpose for piece in pattern.pieces for line in piece.stitch_lines}
    places = [where for purpose, where in _SEAMS if purpose in lines]
    if places:
        yield say("Stitched {places}.", places=say_list(places))


def _set_on(strap: MadeUp, shop: Shop) -> Iterator[str]:
    rows = any(each.y for each in strap.ornaments if each.feature.purpose == "ornament")
    where = (("ornament", say("in rows") if rows else say("along the middle")), *_WHERE)
    found = [f"{goods} {place}" for purpose, place in where if (goods := _goods(strap.ornaments, purpose, shop))]
    if strap.bands:
        count = len(strap.bands)
        found.append(say_count("{count} keeper round it between them", "{count} keepers round it between them", count))
    if found:
        yield f"{'; '.join(found)}."


def _goods(placed: tuple[Placed, ...], purpose: Purpose, shop: Shop) -> str:
    """`6 × shank bell, 30 mm` of everything that is set for one purpose."""
    counts = Counter(each.feature.item for each in placed if each.feature.purpose == purpose)
    found = [f"{count} × {words.item_title(shop, item)}" for item, count in counts.items() if item]
    return say_list(found) if found else ""


def _ends(pattern: Pattern, strap: MadeUp, shop: Shop) -> Iterator[str]:
    if pattern.is_buckled:
        title = strap.buckles[0].buckle.title
        kept = kept_words(pattern.ends.head.outermost.keepers)
        keeper = say(" and {keepers} of leather", keepers=kept) if strap.keepers else ""
        ring = say("; {ring} behind the buckle", ring=strap.lead_ring.ring.title) if strap.lead_ring else ""
        holes = words.size_holes(len(strap.holes))
        yield say("{buckle}{keeper}{ring}; {holes}.", buckle=opening(title), keeper=keeper, ring=ring, holes=holes)
        return
    for told, end in zip(("Left end {seen}.", "Right end {seen}."), pattern.ends.outermost, strict=True):
        yield say(told, seen=kind_of(end).seen(end, EndWords(shop, "mm")))


def _length(pattern: Pattern, units: Units) -> str:
    length = tape_reading(pattern.finished.length, units)
    if not pattern.is_buckled:
        return say("{length} long, {end_to_end}.", length=length, end_to_end=end_to_end(pattern))
    return say(
        "{length} {datum} to {hole}.",
        length=length,
        datum=say(words.DATUMS[pattern.finished.measured_from]),
        hole=nominal_size(pattern),
    )
