"""A job: a spec with every default said and every id looked up in the shop."""

from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter
from typing import TypeVar

from service.shop.goods import Buckle, EndShape, Fastener, Leather, Nm, Ornament, Ring
from service.shop.shop import Rules, Shop, Units
from service.strap.model.hardware import Cut
from service.strap.model.plies import Plies, thickness
from service.strap.model.spec import Rows, Spec, Stitching, StrapEnd
from service.strap.plane.lengths import INCH
from service.strap.plane.spacing import Ruler, SpacingRule, ruler_for

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Measuring:
    """How a strap is measured out at the bench.

    `spacing` is the row's rule, `ruler` where there is no row. `grid` is what stations and blanks are whole numbers of:
    the ruler's finest graduation, and 1 nm under other rules than `ruler`.
    """

    spacing: SpacingRule
    ruler: Ruler
    grid: Nm


def measuring(spec: Spec, rules: Rules) -> Measuring:
    """By a filled spec's spacing and units."""
    spacing: SpacingRule = said(spec.ornaments.spacing) if spec.ornaments else "ruler"
    ruler = ruler_for(said(spec.units), rules.graduation, rules.ruler_tolerance)
    return Measuring(spacing, ruler, ruler.finest if spacing == "ruler" else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What the layout works from. `buckle` is `None` on an open strap; `keeper` says whether one is made.

    `rivet_hole`, `fold_hole` and `keeper_hole` are what the three fasteners' posts go through. The fold's fastener is
    the joint's, but where a lined body makes the joint's stack thicker than the fold's.
    """

    spec: Spec
    given: Spec
    """The spec as it was given, with nothing filled in."""
    shop: Shop
    rules: Rules
    """The shop's rules of the bench, as they are in these units."""
    units: Units
    measuring: Measuring
    leather: Leather
    lining: Leather | None
    covers: bool
    """Whether the lining covers the backs of what is set: it is glued on after them."""
    plies: Plies
    fastener: Fastener
    fold_fastener: Fastener
    keeper_fastener: Fastener
    keeper_share: Decimal
    """What skiving leaves of a keeper's thickness."""
    rivet_hole: Cut
    fold_hole: Cut
    keeper_hole: Cut
    buckle: Buckle | None
    head_ring: Ring | None
    foot_ring: Ring | None
    lead_ring: Ring | None
    row: tuple[Ornament, ...]
    """The ornaments along the middle, in order, the centrepiece among them."""
    gap: tuple[Ornament, ...]
    """What stands in each gap between neighbouring ornaments, in order."""
    borders: tuple[Ornament, ...]
    """What each border row is made of."""

    @property
    def largest(self) -> Ornament | None:
        """The largest ornament of the row."""
        return max(self.row, key=attrgetter("diameter"), default=None)

    @property
    def spacing(self) -> SpacingRule:
        """The row's spacing rule; `ruler` where there is no row."""
        return self.measuring.spacing

    @property
    def grid(self) -> Nm:
        """What stations and blanks are whole numbers of."""
        return self.measuring.grid

    @property
    def rows(self) -> Rows | None:
        """Several rows across the strap, if there are."""
        return self.spec.ornaments.rows if self.spec.ornaments else None

    @property
    def is_staggered(self) -> bool:
        """Whether every second row stands in the gaps of the first."""
        return self.rows is not None and self.rows.across == "staggered"

    @property
    def keeper(self) -> bool:
        """Whether a loose keeper is made."""
        return bool(self.spec.billet.keeper)

    @property
    def keeper_width(self) -> Nm:
        """Width of a keeper's loop, along the strap."""
        return self.spec.billet.keeper_width or self.rules.keeper_width

    @property
    def body_width(self) -> Nm:
        """Width of the decorated part."""
        return said(self.spec.body.width)

    @property
    def strap_width(self) -> Nm:
        """Width of the part that goes through the buckle, or of the whole open strap."""
        three_piece = self.spec.construction == "three_piece"
        return said(self.spec.billet.width) if three_piece else self.body_width

    @property
    def joint_count(self) -> int:
        """Rivets in a joint, or in a turned-back end."""
        return said(self.spec.joint.count)

    @property
    def joint_spacing(self) -> Nm:
        """Distance between neighbouring rivets of a joint."""
        return said(self.spec.joint.spacing)

    @property
    def end_distance(self) -> Nm:
        """From a piece's end to its first rivet."""
        return said(self.spec.joint.end_distance)

    @property
    def overlap(self) -> Nm:
        """How far a billet lies over the body: end distance + (count - 1) · spacing + end distance."""
        return 2 * self.end_distance + (self.joint_count - 1) * self.joint_spacing

    @property
    def hole_count(self) -> int:
        """Size holes for the prong."""
        return said(self.spec.billet.size_holes.count)

    @property
    def hole_spacing(self) -> Nm:
        """Distance between neighbouring size holes."""
        return said(self.spec.billet.size_holes.spacing)

    @property
    def fold_thickness(self) -> Nm:
        """Thickness of the strap where it is folded, its lining with it, skived as the shop does."""
        return round(thickness(self.plies.folded) * self.rules.fold_skive)

    @property
    def stitching(self) -> Stitching | None:
        """How it is stitched, if it is."""
        return self.spec.stitching

    @property
    def edge_stitched(self) -> bool:
        """Whether the body or strip is stitched along its edges."""
        return bool(self.stitching and self.stitching.edges)

    @property
    def fold_stitched(self) -> bool:
        """Whether turned-back ends are stitched, and not riveted."""
        return bool(self.stitching and self.stitching.turn_back)

    @property
    def stitch_inset(self) -> Nm:
        """From the edge to a line of stitches."""
        return said(said(self.stitching).inset)

    @property
    def stitch_pitch(self) -> Nm:
        """From one hole to the next, as it was asked for."""
        stitching = said(self.stitching)
        return stitching.pitch or round(INCH / said(stitching.per_inch))

    @property
    def fold_half(self) -> Nm:
        """How far what holds a fold reaches towards the bar: half a cap, or what a stitch keeps clear."""
        return self.rules.stitch_clear if self.fold_stitched else self.fold_fastener.cap_diameter // 2

    @property
    def tip(self) -> tuple[EndShape, Nm]:
        """Shape and depth of the tongue's tip and of a billet's riveted end."""
        return said(self.spec.billet.tip.shape), said(self.spec.billet.tip.depth)

    @property
    def body_end(self) -> tuple[EndShape, Nm]:
        """Shape and depth of both ends of a three-piece body."""
        return said(self.spec.body.end.shape), said(self.spec.body.end.depth)


def end_shape(end: StrapEnd) -> tuple[EndShape, Nm]:
    """Shape and depth of an open strap's end."""
    return said(end.shape), said(end.depth)


def said(value: T | None) -> T:
    """A field of a filled spec, which is never left unsaid."""
    if value is None:
        raise AssertionError("a filled spec says every field that its construction uses")
    return value
