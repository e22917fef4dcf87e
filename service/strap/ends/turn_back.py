"""An end folded back on itself, round a buckle's bar or a ring, and riveted or stitched.

Made up, the front ply lies on top and the tail underneath. Distances run from the strip's end.
"""

from collections.abc import Iterator

from service.shop.goods import Buckle, Nm
from service.strap.fixings.rivets import rivet
from service.strap.fixings.stitches import stitched_box, turned_round
from service.strap.model.end_measures import TurnBack
from service.strap.model.hardware import prong_slot
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, StitchLine
from service.strap.model.side import Side
from service.strap.plane.bend import flat_for_reach, fold
from service.strap.plane.geometry import least_from_end
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import EndForm
from service.strap.plane.spacing import round_up


def buckle_turn_back(
    job: Job, buckle: Buckle, width: Nm, slot_length: Nm | None, keeper_width: Nm | None, tail: Nm, count: int
) -> TurnBack:
    """The end round a buckle's bar.

    Between the mated holes lie 2 x slot length, and the shop's extra where a loose keeper stands (common
    practice); more where the buckle's frame, the keeper and the rivet's cap need it.
    """
    rules = job.rules
    slot = prong_slot(buckle, width, job.shop, slot_length)
    usual = 2 * slot.length
    reach = buckle.bar_to_heel + job.fold_half
    if keeper_width is not None:
        usual += rules.keeper_room
        reach += keeper_width + rules.hardware_clear
    flat = _even(job, max(usual, _flat_for(job, reach, buckle.bar_thickness)))
    bent = fold(flat, buckle.bar_thickness, job.fold_thickness, rules.neutral_fraction)
    return TurnBack(tail=tail, count=count, spacing=job.joint_spacing, fold=bent, slot=slot)


def turn_back_round(job: Job, thickness: Nm, tail: Nm, count: int) -> TurnBack:
    """The end round a rail: the first rivet's cap, or stitch, clears it by the shop's slack."""
    rules = job.rules
    reach = thickness // 2 + rules.ring_fold_slack + job.fold_half
    flat = _even(job, _flat_for(job, reach, thickness))
    bent = fold(flat, thickness, job.fold_thickness, rules.neutral_fraction)
    return TurnBack(tail=tail, count=count, spacing=job.joint_spacing, fold=bent, slot=None)


def tail_and_count(job: Job, *, on_billet: bool) -> tuple[Nm, int]:
    """How far the tail reaches past its last rivet, and how many rivets hold it.

    On a billet it runs up to the body's end, less the shop's gap, and one rivet holds it.
    """
    if on_billet:
        return max(job.rules.first_fold_rivet - job.end_distance - job.rules.tail_gap, job.rules.end_distance), 1
    return job.end_distance, job.joint_count


def _flat_for(job: Job, reach: Nm, bar: Nm) -> Nm:
    """The flat distance for a reach, rounded up to 1/16 in or 1 mm, so that it can be read off a ruler."""
    step = INCH // 16 if job.units == "in" else MM
    return round_up(flat_for_reach(reach, bar, job.fold_thickness, job.rules.neutral_fraction), step)


def _even(job: Job, flat: Nm) -> Nm:
    """On a ruler the fold, half way between the mated holes, lies on a graduation as they do."""
    return round_up(flat, 2 * job.grid) if job.grid > 1 else flat


def turn_back_features(job: Job, turn: TurnBack, side: Side) -> list[Feature]:
    """Slot, fold line and rivet holes of a turned-back end.

    Rivet `first_rivet` + i of the front ply meets rivet `first_rivet` + count + i of the tail, both counted from the
    fold. A stitched end has no rivets.
    """
    piece, first = side.piece, side.first_rivet
    features = [
        Feature(
            id=f"{piece}.fold_line.{first}",
            kind="fold",
            action="fold",
            purpose="fold_line",
            x=side.at(turn.middle),
        )
    ]
    if turn.slot:
        features.append(
            Feature(
                id=f"{piece}.prong_slot.{side.n}", kind="slot", action="punch", purpose="prong_slot",
                x=side.at(turn.middle), length=turn.slot.length, width=turn.slot.width,
                tool=turn.slot.tool, method=turn.slot.method,
            )
        )  # fmt: skip
    for index in range(0 if job.fold_stitched else turn.count):
        away = index * turn.spacing
        front, tail = first + index, first + turn.count + index
        for n, mate, place in ((front, tail, turn.front + away), (tail, front, turn.innermost - away)):
            mates = (f"{piece}.fold_rivet.{mate}",)
            features.append(rivet(job.fold_held, piece, "fold_rivet", n, side.at(place), mates))
    return features


def fold_line(job: Job, turn: TurnBack, form: EndForm, width: Nm, side: Side) -> Iterator[StitchLine]:
    """The rectangle that holds a turned-back end of this form and width, on the front ply.

    It goes from where the innermost rivet would stand to `inset` before the strip's end. There is none where it has no
    room, and none on a strap that is riveted there.
    """
    if not job.fold_stitched:
        return
    inset = job.stitch_inset
    y = width // 2 - inset
    first = turn.front
    if y <= 0:
        return
    last = turn.landing - least_from_end(form, width // 2, y, inset)
    if last <= first:
        return
    line = stitched_box(f"{side.piece}.fold_stitch.{side.n}", first, last, y, inset, job.stitch_pitch)
    yield turned_round(line, side.length) if side.is_foot else line


def stitch_from(job: Job, turn: TurnBack) -> Nm | None:
    """Where the edges' line begins behind a turned-back end.

    A lining is stitched on along the whole strip before that is folded and riveted: then nowhere. Otherwise the line
    stays clear of what is turned back, by the inset.
    """
    if job.edge_stitched and (job.fold_stitched or job.lining is None):
        return turn.landing + job.stitch_inset
    return None
