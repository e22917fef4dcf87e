"""A strip's end folded round a buckle's bar or a ring and riveted to itself.

Distances run from the strip's own end, flat: first the rivets of the tail, then the fold's middle, then
the rivets of the front ply, which mirror the tail's about the fold.
"""

from collections.abc import Callable
from dataclasses import dataclass

from service.shop.goods import Nm, Ring
from service.strap.model.hardware import Cut, prong_slot
from service.strap.model.job import Job, said
from service.strap.model.pattern import Feature, PieceName, Purpose
from service.strap.plane.bend import Fold, flat_for_reach, fold
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.spacing import round_up


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnBack:
    """`tail` runs from the strip's end to its first rivet; `fold.flat` between the innermost mated holes."""

    tail: Nm
    count: int
    spacing: Nm
    fold: Fold
    slot: Cut | None
    """The prong's slot, where there is a prong."""

    @property
    def innermost(self) -> Nm:
        """From the strip's end to the tail's rivet nearest the fold."""
        return self.tail + (self.count - 1) * self.spacing

    @property
    def middle(self) -> Nm:
        """From the strip's end to the fold line."""
        return self.innermost + self.fold.flat // 2

    @property
    def front(self) -> Nm:
        """From the strip's end to the front ply's rivet nearest the fold."""
        return self.innermost + self.fold.flat

    @property
    def landing(self) -> Nm:
        """Where the strip's end comes to lie on the front ply."""
        return self.front + self.innermost

    @property
    def bar_offset(self) -> Nm:
        """Add it to a place on the front ply to get its distance from the bar's axis, made up."""
        return self.fold.bar_to_rivet - self.front


def buckle_turn_back(job: Job, tail: Nm, count: int) -> TurnBack:
    """The end round a buckle's bar.

    Between the mated holes lie 2 x slot length, and the shop's extra where a loose keeper stands (common
    practice); more where the buckle's frame, the keeper and the rivet's cap need it.
    """
    buckle, rules = said(job.buckle), job.rules
    slot = prong_slot(buckle, job.strap_width, job.shop, job.spec.billet.prong_slot)
    usual = 2 * slot.length + (rules.keeper_room if job.keeper else 0)
    reach = buckle.bar_to_heel + job.fold_half
    if job.keeper:
        reach += job.keeper_width + rules.hardware_clear
    flat = _even(job, max(usual, _flat_for(job, reach, buckle.bar_thickness)))
    bent = fold(flat, buckle.bar_thickness, job.fold_thickness, rules.neutral_fraction)
    return TurnBack(tail=tail, count=count, spacing=job.joint_spacing, fold=bent, slot=slot)


def ring_turn_back(job: Job, ring: Ring) -> TurnBack:
    """The end round a ring: the first rivet's cap, or stitch, clears the ring by the shop's slack."""
    rules = job.rules
    reach = ring.thickness // 2 + rules.ring_fold_slack + job.fold_half
    flat = _even(job, _flat_for(job, reach, ring.thickness))
    bent = fold(flat, ring.thickness, job.fold_thickness, rules.neutral_fraction)
    return TurnBack(tail=job.end_distance, count=job.joint_count, spacing=job.joint_spacing, fold=bent, slot=None)


def _flat_for(job: Job, reach: Nm, bar: Nm) -> Nm:
    """The flat distance for a reach, rounded up to 1/16 in or 1 mm, so that it can be read off a ruler."""
    step = INCH // 16 if job.units == "in" else MM
    return round_up(flat_for_reach(reach, bar, job.fold_thickness, job.rules.neutral_fraction), step)


def _even(job: Job, flat: Nm) -> Nm:
    """On a ruler the fold, half way between the mated holes, lies on a graduation as they do."""
    return round_up(flat, 2 * job.grid) if job.grid > 1 else flat


def turn_back_features(
    job: Job, piece: PieceName, turn: TurnBack, place: Callable[[Nm], Nm], first: int = 1
) -> list[Feature]:
    """Slot, fold line and rivet holes of a turned-back end. `place` maps a distance from the strip's end to x.

    Rivet `first` + i of the front ply meets rivet `first` + count + i of the tail, both counted from the fold.
    A stitched end has no rivets.
    """
    features = [
        Feature(
            id=f"{piece}.fold_line.{first}",
            kind="fold",
            action="fold",
            purpose="fold_line",
            x=place(turn.middle),
        )
    ]
    if turn.slot:
        features.append(
            Feature(
                id=f"{piece}.prong_slot.1", kind="slot", action="punch", purpose="prong_slot",
                x=place(turn.middle), length=turn.slot.length, width=turn.slot.width,
                tool=turn.slot.tool, method=turn.slot.method,
            )
        )  # fmt: skip
    for index in range(0 if job.fold_stitched else turn.count):
        away = index * turn.spacing
        front, tail = first + index, first + turn.count + index
        features.append(
            rivet(job, piece, "fold_rivet", front, place(turn.front + away), (f"{piece}.fold_rivet.{tail}",))
        )
        features.append(
            rivet(job, piece, "fold_rivet", tail, place(turn.innermost - away), (f"{piece}.fold_rivet.{front}",))
        )
    return features


def rivet(job: Job, piece: PieceName, purpose: Purpose, n: int, x: Nm, mates: tuple[str, ...]) -> Feature:
    """A hole for the fastener of a joint, of a fold (`fold_rivet`) or of the keeper (`keeper_rivet`)."""
    fastener, cut = job.fastener, job.rivet_hole
    if purpose == "fold_rivet":
        fastener, cut = job.fold_fastener, job.fold_hole
    elif purpose == "keeper_rivet":
        fastener, cut = job.keeper_fastener, job.keeper_hole
    return Feature(
        id=f"{piece}.{purpose}.{n}",
        kind="hole",
        action="punch",
        purpose=purpose,
        x=x,
        diameter=cut.length,
        tool=cut.tool,
        item=fastener.id,
        footprint=fastener.cap_diameter,
        mates=mates,
    )
