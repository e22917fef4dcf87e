"""What is done to the laps of a spliced piece, in words."""

from collections.abc import Iterable

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.model.pattern import Piece
from service.strap.plane.lengths import reading
from service.words import say, say_list
from service.workshop.bench.step import Deed
from service.workshop.names import called


def splice_sentence(piece: Piece, step: Deed, units: Units) -> str:
    """How a piece is cut, thinned, glued and pricked at its laps; nothing where the step does something else."""
    if not piece.splices:
        return ""
    laps = {lap.id for lap in piece.splices} & set(step.features)
    if step.op == "cut":
        return _cut(piece, units)
    if laps and step.op in ("skive", "glue"):
        return _skive(piece, units) if step.op == "skive" else _glue(piece)
    lines = {line.id for line in piece.stitch_lines if line.purpose == "splice_stitch"}
    return _prick(piece, units) if step.op == "prick" and lines.issuperset(step.features) else ""


def _cut(piece: Piece, units: Units) -> str:
    lengths = say_list(reading(strip.cut_length, units) for strip in piece.strips)
    told = (
        (
            "Cut {count} strips for the {name}, in their order: {lengths}, {over} over at its ends, to be trimmed once "
            "it is glued."
        )
        if piece.over
        else "Cut {count} strips for the {name}, in their order: {lengths}."
    )
    over = reading(piece.over, units)
    return say(told, count=len(piece.strips), name=called(piece.name), lengths=lengths, over=over)


def _skive(piece: Piece, units: Units) -> str:
    return say(
        "Skive both strips of the {name} at each lap, {places}: the one nearer its 0 on the flesh side, the other on "
        "the grain side, from full thickness to nothing over the whole lap, so that both together are as thick as one.",
        name=called(piece.name),
        places=_places(piece, units),
    )


def _glue(piece: Piece) -> str:
    return say(
        "Glue the laps of the {name}, the strip nearer its 0 on top, in line along a straight edge, and press them "
        "until they hold.",
        name=called(piece.name),
    )


def _prick(piece: Piece, units: Units) -> str:
    """Lines of one lap lie side by side, and those of every lap alike."""
    lines = [line for line in piece.stitch_lines if line.purpose == "splice_stitch"]
    across = sorted({line.points[0][1] + piece.width // 2 for line in lines})
    spans = dict.fromkeys((line.points[0][0], line.points[-1][0]) for line in lines)
    return say(
        "Prick the {name} through each lap, {spans}: {count} lines along the strap and none across it, {across} from "
        "its upper edge, each of {holes} holes, {pitch} apart, one at each end.",
        name=called(piece.name),
        spans=_spans(spans, units),
        count=len(across),
        across=say_list(reading(each, units) for each in across),
        holes=lines[0].holes,
        pitch=reading(lines[0].pitch, units),
    )


def _places(piece: Piece, units: Units) -> str:
    return _spans(((lap.start, lap.end) for lap in piece.splices), units)


def _spans(spans: Iterable[tuple[Nm, Nm]], units: Units) -> str:
    return say_list(
        say("from {low} to {high}", low=reading(low, units), high=reading(high, units)) for low, high in spans
    )
