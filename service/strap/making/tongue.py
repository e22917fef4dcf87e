"""The tongue end: size holes, and tip enough to pass the keeper at the loosest hole."""

from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.making.turn_back import TurnBack
from service.strap.model.hardware import size_hole
from service.strap.model.job import Job, said
from service.strap.model.pattern import Feature, PieceName
from service.strap.plane.spacing import round_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """Distances along the tongue: size holes `spacing` apart, then `tip` beyond the last one."""

    count: int
    spacing: Nm
    tip: Nm

    @property
    def row(self) -> Nm:
        """From the first size hole to the last."""
        return (self.count - 1) * self.spacing

    @property
    def to_nominal(self) -> Nm:
        """From the first size hole to the middle one."""
        return (self.count - 1) // 2 * self.spacing

    @property
    def beyond_nominal(self) -> Nm:
        """From the middle size hole to the tip's end: how far the tip lies past the bar when buckled there."""
        return self.row - self.to_nominal + self.tip


def keeper_reach(job: Job, turn: TurnBack) -> Nm:
    """From the bar's axis to the far side of what holds the tip.

    That is a loose keeper pushed up to the fold's rivet or stitches, or the buckle's own frame.
    """
    if job.keeper:
        return turn.fold.bar_to_rivet - job.fold_half
    return said(job.buckle).bar_to_heel


def least_tip(job: Job, turn: TurnBack) -> Nm:
    """The shortest tip that passes what holds it at the loosest hole."""
    return keeper_reach(job, turn) + job.rules.tip_past_keeper


def tongue(job: Job, turn: TurnBack) -> Tongue:
    """The tip is as long as the spec says; else the shop's number of strap widths, and never less than the least.

    What the shop settles is rounded up to a graduation.
    """
    usual = max(round(job.strap_width * job.rules.tip_widths), least_tip(job, turn))
    tip = round_up(usual, job.grid) if job.spec.billet.tip_length is None else job.spec.billet.tip_length
    return Tongue(count=job.hole_count, spacing=job.hole_spacing, tip=tip)


def size_hole_features(job: Job, piece: PieceName, first: Nm, tail: Tongue) -> list[Feature]:
    """The size holes from `first` on; hole 1 is the nearest to the buckle."""
    cut = size_hole(said(job.buckle), job.shop, job.spec.billet.size_holes.diameter)
    return [
        Feature(
            id=f"{piece}.size_hole.{n + 1}", kind="hole", action="punch", purpose="size_hole",
            x=first + n * tail.spacing, diameter=cut.length, tool=cut.tool,
        )
        for n in range(tail.count)
    ]  # fmt: skip
