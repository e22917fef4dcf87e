"""The goods and figures of one strap, every id looked up in the shop: all of a job but its ends."""

from decimal import Decimal
from operator import attrgetter

from service.shop.goods import Fastener, Leather, Nm
from service.shop.ornaments import Ornament
from service.shop.shop import Rules, Shop, Units
from service.strap.model.filled import Filled, FilledRows, FilledSplices, FilledStitching
from service.strap.model.holding import Holding
from service.strap.model.loads import may_bear_load
from service.strap.model.measuring import Measuring
from service.strap.model.plies import Plies, thickness
from service.strap.model.short_form import billet_of
from service.strap.model.spec import Billet, Spec
from service.strap.plane.spacing import SpacingRule
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapGoods:
    """What a strap is made of, held by and measured with.

    Ends are held by `joint_held` and `fold_held` where they say nothing of it. A fold's is the joint's, but where a
    lined body makes the joint's stack thicker than the fold's.
    """

    spec: Filled
    given: Spec
    """The spec as it was given, with nothing filled in."""
    shop: Shop
    rules: Rules
    """The shop's rules of the bench, as they are in these units."""
    units: Units
    measuring: Measuring
    leather: Leather
    lining: Leather | None
    edging: Leather | None
    """What its edging is made of."""
    covers: bool
    """Whether the lining covers the backs of what is set: it is glued on after them."""
    plies: Plies
    joint_held: Holding
    fold_held: Holding
    keeper_held: Holding
    keeper_share: Decimal
    """What skiving leaves of a keeper's thickness."""
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
    def rows(self) -> FilledRows | None:
        """Several rows across the strap, if there are."""
        return self.spec.ornaments.rows if self.spec.ornaments else None

    @property
    def is_staggered(self) -> bool:
        """Whether every second row stands in the gaps of the first."""
        return self.rows is not None and self.rows.across == "staggered"

    @property
    def billet(self) -> Billet:
        """What is said of the buckled parts, with every default filled in."""
        return billet_of(self.spec)

    @property
    def fastener(self) -> Fastener:
        """What joins pieces."""
        return self.joint_held.fastener

    @property
    def body_width(self) -> Nm:
        """Width of the decorated part."""
        return self.spec.body.width

    @property
    def joint_count(self) -> int:
        """Rivets in a joint, or in a turned-back end."""
        return self.spec.joint.count

    @property
    def joint_spacing(self) -> Nm:
        """Distance between neighbouring rivets of a joint."""
        return self.spec.joint.spacing

    @property
    def end_distance(self) -> Nm:
        """From a piece's end to its first rivet."""
        return self.spec.joint.end_distance

    @property
    def overlap(self) -> Nm:
        """How far a billet lies over the body: end distance + (count - 1) · spacing + end distance."""
        return 2 * self.end_distance + (self.joint_count - 1) * self.joint_spacing

    @property
    def fold_thickness(self) -> Nm:
        """Thickness of the strap where it is folded, its lining with it, skived as the shop does."""
        return round(thickness(self.plies.folded) * self.rules.fold_skive)

    @property
    def stitching(self) -> FilledStitching | None:
        """How it is stitched, if it is."""
        return self.spec.stitching

    @property
    def edge_stitched(self) -> bool:
        """Whether the body or strip is stitched along its edges."""
        return bool(self.stitching and self.stitching.edges)

    @property
    def stitch_inset(self) -> Nm:
        """From the edge to a line of stitches; 0 where nothing is stitched."""
        return self.stitching.inset if self.stitching else 0

    @property
    def stitch_pitch(self) -> Nm:
        """From one hole to the next, as it was asked for; 0 where nothing is stitched."""
        return self.stitching.apart if self.stitching else 0

    @property
    def kept_gaps(self) -> tuple[int, ...]:
        """The gaps of the row that have a keeper, by their numbers from 1 on."""
        keepers = self.spec.keepers_between
        return keepers.numbers(len(self.row) - 1) if keepers else ()

    @property
    def splices(self) -> FilledSplices | None:
        """How a piece is spliced that is longer than its leather's strips; `None` where none is."""
        return None if may_bear_load(self.spec) else self.spec.body.splices
