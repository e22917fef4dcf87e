"""What was ordered, caption by caption, with every default that the shop filled in."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.drawing import words
from service.drawing.end_words import EndWords, shape_words
from service.shop.shop import Shop, Units
from service.strap.ends.kinds import kind_of
from service.strap.model.filled import Filled, FilledBorder, FilledRow
from service.strap.model.filled_ends import FilledBillet, FilledHoles
from service.strap.model.pattern import BETWEEN_KEEPERS, Feature, Pattern
from service.strap.model.spec import Hold
from service.strap.model.stitch_line import StitchPurpose
from service.strap.model.two_ends import is_said_by_ends
from service.strap.plane.lengths import reading, tape_reading
from service.words import say, say_count, say_list
from service.workshop.bench.strap import Strap
from service.workshop.names import end_to_end, inside_edge, narrowing_words, nominal_size, seam_inside

_SEWN: dict[StitchPurpose, str] = {"edge_stitch": "edges", "fold_stitch": "folds", "joint_stitch": "joints"}
_SPACED = {"ruler": "spaced by the ruler", "even": "evenly spaced"}

Entry = tuple[str, str]
"""A caption and its value."""


def ordered(pattern: Pattern, shop: Shop, units: Units) -> tuple[Entry, ...]:
    """The whole order; what the strap does not have is left out."""
    spec = pattern.spec
    return (
        ("strap", words.strap_title(pattern)),
        ("size", _size(pattern, units)),
        *_handed(pattern),
        (say("finished length"), _finished(pattern, units)),
        ("leather", pattern.pieces[0].leather.title),
        *_spliced(pattern, units),
        *_kept(pattern, units),
        *_sewn(pattern, units),
        *_widths(pattern, units),
        *_buckled(spec, shop, units),
        *_ends(spec, shop, units),
        *_fastened(pattern, shop, units),
        *_joining(pattern, units),
        *_decoration(pattern, shop, units),
        ("weight", say("about {grams} g", grams=_grams(pattern.finished.weight_mg))),
    )


def _size(pattern: Pattern, units: Units) -> str:
    size, label = pattern.spec.size, f"{pattern.size_label}: " if pattern.size_label else ""
    if size.body_length is not None:
        return say("{label}body {body_length}", label=label, body_length=reading(size.body_length, units))
    if size.girth is not None:
        ease = say(" and {ease} of ease", ease=reading(size.ease, units)) if size.ease else ""
        return say("{label}girth {girth}{ease}", label=label, girth=tape_reading(size.girth, units), ease=ease)
    if size.bar_to_bar is not None:
        return say("{label}{bar_to_bar} from bar to bar", label=label, bar_to_bar=reading(size.bar_to_bar, units))
    if size.overall_length is not None:
        return say("{label}{overall_length} over all", label=label, overall_length=reading(size.overall_length, units))
    datum = say(words.DATUMS[size.measured_from or "fold"]) if pattern.is_buckled else end_to_end(pattern)
    return say(
        "{label}finished {finished_length}, {datum}",
        label=label,
        finished_length=reading(size.finished_length or 0, units),
        datum=datum,
    )


def _finished(pattern: Pattern, units: Units) -> str:
    finished = pattern.finished
    length = tape_reading(finished.length, units)
    if not pattern.is_buckled:
        return f"{length}, {end_to_end(pattern)}"
    datum = say(words.DATUMS[finished.measured_from])
    return say("{length} to {hole}, {datums}", length=length, hole=nominal_size(pattern), datums=datum)


def _handed(pattern: Pattern) -> Iterator[Entry]:
    """Of a pair, which it is, and which face of it is drawn."""
    told = {"left": "left, drawn grain side up", "right": "right, the left one's mirror image, drawn grain side up"}
    if pattern.spec.hand:
        yield say("of a pair"), say(told[pattern.spec.hand])


def _kept(pattern: Pattern, units: Units) -> Iterator[Entry]:
    keepers = [piece for piece in pattern.pieces if piece.name in BETWEEN_KEEPERS]
    if not keepers:
        return
    count, wide = sum(keeper.count for keeper in keepers), reading(keepers[0].width, units)
    told = say_count("{count} keeper, {width} wide", "{count} keepers, {width} wide", count, width=wide)
    if len(keepers) > 1:
        each = (
            say("{count} of {length}", count=keeper.count, length=reading(keeper.length, units)) for keeper in keepers
        )
        told = say("{told}: {lengths}", told=told, lengths=say_list(each))
    yield say("between ornaments"), told


def _spliced(pattern: Pattern, units: Units) -> Iterator[Entry]:
    for piece in pattern.pieces:
        if piece.splices:
            lap = piece.splices[0]
            size = reading(lap.end - lap.start, units)
            yield (
                say("{piece} in", piece=words.PIECES[piece.name].lower()),
                say("{count} strips, laps of {size}", count=len(piece.strips), size=size),
            )


def _sewn(pattern: Pattern, units: Units) -> Iterator[Entry]:
    lining, stitching = pattern.piece("lining"), pattern.spec.stitching
    if lining:
        yield "lining", words.lining_title(lining)
    at = pattern.pieces[0].edging
    if at:
        shape = say(at.cut.shape) if at.cut else say("straight")
        lies = {
            "behind": "{leather}, {shape}, {reach} out, behind",
            "between": "{leather}, {shape}, {reach} out, between",
        }
        told = say(lies[at.lies], leather=at.leather.title, shape=shape, reach=reading(at.reach, units))
        yield say("edging"), told
    lines = [(piece, line) for piece in pattern.pieces for line in piece.stitch_lines if line.purpose in _SEWN]
    where = [say(name) for purpose, name in _SEWN.items() if any(line.purpose == purpose for _, line in lines)]
    if stitching and where:
        fine = (
            say("{pitch} apart", pitch=reading(stitching.pitch, units))
            if stitching.pitch
            else say("{per_inch} to the inch", per_inch=stitching.per_inch)
        )
        inset = "; ".join(dict.fromkeys(seam_inside(piece, line, units) for piece, line in lines))
        yield (
            "stitches",
            say(
                "{where}, {fine}, {inset}, {strands} strands",
                where=say_list(where),
                fine=fine,
                inset=inset,
                strands=stitching.strands,
            ),
        )


def _widths(pattern: Pattern, units: Units) -> Iterator[Entry]:
    strip, body, ends = pattern.pieces[0], pattern.piece("body"), pattern.ends
    if body is None:
        yield "width", reading(strip.width, units) + narrowing_words(strip, units)
    else:
        wide = say(
            "{width} wide{narrowing_words}",
            width=reading(body.width, units),
            narrowing_words=narrowing_words(body, units),
        )
        yield "body", say("{wide}, ends {shape}", wide=wide, shape=shape_words(pattern.spec.body.end, units))
        widths = dict.fromkeys(end.width for end in ends.both if end.width)
        yield "billets", say("{width} wide", width=say_list(reading(width, units) for width in widths))


def _joining(pattern: Pattern, units: Units) -> Iterator[Entry]:
    """What it adds between the bars, and its holes."""
    joined, strap = pattern.finished.joined, pattern.spec.joining_strap
    if joined and strap:
        adds = (reading(length - pattern.finished.from_bar, units) for length in (joined.least, joined.most))
        holes = _holes(strap.size_holes, units)
        yield (
            say("joining strap"),
            say(
                "{width} wide, adds {adds}; at each end {holes}",
                width=reading(strap.width, units),
                adds=say_list(adds, "{most} to {last}"),
                holes=holes,
            ),
        )


def _buckled(spec: Filled, shop: Shop, units: Units) -> Iterator[Entry]:
    if is_said_by_ends(spec):
        return
    billet = spec.billet
    if billet.buckle:
        keeper = say(", with a keeper") if billet.keeper else ""
        yield "buckle", words.item_title(shop, billet.buckle) + keeper
    if billet.ring:
        yield "ring", words.item_title(shop, billet.ring)
    beyond = (
        say("; {tip_length} from the last hole", tip_length=reading(billet.tip_length, units))
        if billet.tip_length
        else ""
    )
    yield "tip", f"{shape_words(billet.tip, units)}{beyond}"
    if spec.tip:
        yield say("size holes"), _holes(spec.tip.size_holes, units)


def _fastened(pattern: Pattern, shop: Shop, units: Units) -> Iterator[Entry]:
    """What holds each billet on the body, and each fold: what is there, not what the shop would take."""
    joints, folds, strap = [], [], Strap(pattern, shop)
    for piece in pattern.pieces:
        holes = [each for each in piece.features if each.purpose == "joint"]
        if holes and piece is not pattern.pieces[0]:
            joints.append(_riveted(holes, shop, units))
        if any(line.purpose == "joint_stitch" for line in piece.stitch_lines):
            joints.append(say("stitched, over {lap} of the body's end", lap=reading(piece.lap, units)))
        if any(line.purpose == "fold_stitch" for line in piece.stitch_lines):
            folds.append("stitched")
        for fold in (each for each in piece.features if each.action == "fold"):
            holes = [each for each in strap.rivets_of(piece, fold) if each.x < fold.x]
            folds += [_riveted(holes, shop, units)] if holes else []
    slots = [
        each for piece in pattern.pieces for each in piece.features if (each.purpose, each.kind) == ("hanger", "slot")
    ]
    hung = [f"{reading(each.length or 0, units)} × {reading(each.width or 0, units)}" for each in slots]
    for caption, held in (("joint", joints), ("fold", folds), (say("hanging slot"), hung)):
        if held:
            yield caption, "; ".join(dict.fromkeys(held))


def _riveted(holes: Sequence[Feature], shop: Shop, units: Units) -> str:
    """`2 × double-cap rivet, 1 in apart`."""
    counts = Counter(each.item for each in holes)
    told = say_list(f"{count} × {words.item_title(shop, item)}" for item, count in counts.items() if item)
    places = sorted({each.x for each in holes})
    steps = dict.fromkeys(reading(after - before, units) for before, after in pairwise(places))
    return told + (say(", {steps} apart", steps=say_list(steps)) if steps else "")


def _holes(holes: FilledHoles, units: Units) -> str:
    apart = say(", {spacing} apart", spacing=reading(holes.spacing, units)) if holes.count > 1 else ""
    return f"{holes.count}{apart}"


def _ends(spec: Filled, shop: Shop, units: Units) -> Iterator[Entry]:
    if not is_said_by_ends(spec):
        return
    for caption, end in zip((say("first end"), say("last end")), spec.two.both, strict=True):
        outer = end.outermost
        billet = _billet(end, spec, shop, units) if isinstance(end, FilledBillet) else ""
        yield caption, billet + kind_of(outer).ordered(outer, EndWords(shop, units))


_JOINED: dict[Hold, str] = {
    "rivets": "billet {width} wide, riveted on: ",
    "screws": "billet {width} wide, screwed on: ",
    "stitches": "billet {width} wide, sewn on: ",
}


def _billet(end: FilledBillet, spec: Filled, shop: Shop, units: Units) -> str:
    usual: Hold = "screws" if shop.fasteners[spec.joint.fastener].is_screw else "rivets"
    return say(_JOINED[end.join or usual], width=reading(end.width, units))


def _decoration(pattern: Pattern, shop: Shop, units: Units) -> Iterator[Entry]:
    spec = pattern.spec
    if spec.ornaments and spec.ornaments.count:
        yield "ornaments", _row(spec.ornaments, pattern, shop, units)
    for between in spec.betweens:
        if between.per_gap:
            yield say("in each gap"), f"{between.per_gap} × {words.item_title(shop, between.item)}"
    for border in spec.borders:
        inset = say(", {inside}", inside=inside_edge(pattern.pieces[0], border.inset, units, say("each edge")))
        yield say("along the edges"), words.item_title(shop, border.item) + inset + _apart(border, pattern, units)


def _apart(border: FilledBorder, pattern: Pattern, units: Units) -> str:
    """From each to the next as it came out; what was asked for is a step about which it is laid."""
    piece = pattern.pieces[0]
    lines = (each for each in piece.features if each.purpose == "border" and each.item == border.item and each.y < 0)
    places = sorted(each.x for each in lines if border.inset == piece.outline.root_half + each.row_y)
    steps = dict.fromkeys(reading(step, units) for step in sorted(after - x for x, after in pairwise(places)))
    ends = list(steps)[:: max(len(steps) - 1, 1)]
    return say(", {ends} apart", ends=say_list(ends, "{most} to {last}")) if ends else ""


def _row(row: FilledRow, pattern: Pattern, shop: Shop, units: Units) -> str:
    """How many of what, in which arrangement, round which centrepiece, how far apart."""
    features = pattern.pieces[0].features
    counts = Counter(each.item for each in features if each.purpose == "ornament" and each.item != row.centrepiece)
    told = [say_list(f"{count} × {words.item_title(shop, item)}" for item, count in counts.items() if item)]
    if row.arrange:
        told.append(row.arrange + (", mirrored" if row.mirrored else ""))
    if row.centrepiece:
        told.append(say("round {shop}", shop=words.item_title(shop, row.centrepiece)))
    if row.rows and row.rows.count > 1:
        told.append(
            say(
                "{count} rows {distance} apart, {across}",
                count=row.rows.count,
                distance=reading(row.rows.distance, units),
                across=row.rows.across,
            )
        )
    rule = row.spacing
    told.append(say("{rule} apart", rule=reading(rule, units)) if isinstance(rule, int) else say(_SPACED[rule]))
    return ", ".join(told)


def _grams(milligrams: int) -> int:
    return (milligrams + 500) // 1000
