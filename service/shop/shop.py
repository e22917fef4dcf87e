"""A whole shop: its goods by id, its rules of the bench and its limits."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from decimal import Decimal
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeVar

from service.shop.artwork import Artwork
from service.shop.designs import Design
from service.shop.exports import Export
from service.shop.figures import Length, Number, OwnLength
from service.shop.goods import (
    Buckle,
    EdgeIron,
    EndPunch,
    EndShape,
    Fastener,
    Leather,
    Nm,
    Ring,
    RoundPunch,
    SlotPunch,
    Snap,
)
from service.shop.limits import Limits
from service.shop.looks import CutterLines, FinishedLook, Paper
from service.shop.offer import OfferWords
from service.shop.ornaments import Ornament
from service.shop.pricing import Cutting, Pricing
from service.shop.terms import terms_digest

Units = Literal["in", "mm"]
WornBy = Literal["person", "animal", "object"]
"""Who or what a strap is for: it decides which cautions apply."""

Part = TypeVar("Part", "Rules", "Defaults")

Item = Fastener | Buckle | Ring | Snap | Ornament
"""Goods that are set on a strap, counted by the piece."""
ItemKind = Literal["fastener", "buckle", "ring", "snap", "ornament"]

GRADUATION_MM: Nm = 1_000_000
"""The finest graduation of a shop in jobs in millimetres where it says nothing: 1 mm (common practice)."""


@lru_cache(maxsize=64)
def _in_mm(part: Part) -> Part:
    """What a part of the shop is in a job in millimetres."""
    changed: dict[str, Any] = {"mm": {}, **part.mm}
    return replace(part, **changed) if part.mm else part


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Clearances and common-practice measures of the bench; every one is an editable line of the shop file.

    What the file may say of each is noted beside its type; without a note it is any length but 0, or a share up to 1.
    """

    # clearances
    end_distance: Nm
    """Least distance from the centre of a rivet hole to the end of its piece."""
    edge_web: Annotated[Nm, Length(zero=True)]
    """Least leather between a cut and the outline."""
    cut_web: Annotated[Nm, Length(zero=True)]
    """Least leather between two cuts."""
    ornament_clear: Annotated[Nm, Length(zero=True)]
    """Least clear gap between two ornaments."""
    hardware_clear: Annotated[Nm, Length(zero=True)]
    """Least clear gap between an ornament and a cap, a buckle or a billet."""
    ornament_edge: Annotated[Nm, Length(zero=True)]
    """Least distance from an ornament's rim to the outline, unless it may overhang."""
    tail_gap: Annotated[Nm, Length(zero=True)]
    """Least gap between a turned-back tail and the body's end under the billet."""
    # spacing
    ruler_tolerance: Decimal
    """Greatest difference between an end gap and the pitch, as a share of the pitch."""
    graduation: Annotated[Nm, Length(laid_out=True, usual_mm=GRADUATION_MM)] = 1_587_500
    """The finest graduation that the shop measures by: 1/16 in (common practice)."""
    # holes
    hole_ease: Annotated[Nm, Length(zero=True)]
    """Least clearance of a punched hole over what goes through it."""
    hole_slack: Annotated[Nm, Length(zero=True)]
    """Greatest clearance of a punched hole over what goes through it."""
    slot_ease: Annotated[Nm, Length(zero=True)]
    """Least clearance of a slot over a shank, in length and in width."""
    slot_slack: Annotated[Nm, Length(zero=True)]
    """Greatest clearance in length of a slot over a shank."""
    post_slack: Annotated[Nm, Length(zero=True)] = 1_000_000
    """Greatest difference between a screw post's barrel and the stack that it holds."""
    cap_clear: Annotated[Nm, Length(zero=True)] = 500_000
    """Least clear gap between the caps of two rivets; half a millimetre where nothing is said."""
    size_hole_over_prong: Annotated[Nm, Length(zero=True)]
    """Clearance of a size hole over the buckle's prong."""
    # buckle end
    prong_slot_over_width: Annotated[Nm, Length(zero=True)]
    """How much longer the prong slot is than the strap is wide."""
    keeper_room: Annotated[Nm, Length(zero=True, laid_out=True)]
    """Added between the fold rivets where a loose keeper stands beside the frame."""
    neutral_fraction: Decimal
    """Where in a bent leather's thickness its length stays the same: 0 inside, 1 outside."""
    first_fold_rivet: Annotated[Nm, Length(laid_out=True)]
    """From the joint's last hole to the first fold rivet."""
    buckle_slack: Annotated[Nm, Length(zero=True)]
    """Greatest difference between a buckle's inside width and the strap's width."""
    ring_fold_slack: Annotated[Nm, Length(zero=True, laid_out=True)]
    """From the ring's axis to the first rivet of a ring fold, over the bend."""
    # tapers
    taper_over: Annotated[Decimal, Number(least="1", most="200")] = Decimal(8)
    """Over what length a strap narrows to an end, as a multiple of what it narrows by, where nothing is said."""
    taper_least: Annotated[Decimal, Number(least="0.5", most="200")] = Decimal(1)
    """A taper is at least so many times as long as it narrows by."""
    # edges that are cut
    edge_repeat_least: Nm = 6_350_000
    """The finest repeat of a scalloped or pinked edge: 1/4 in (from memory)."""
    edge_depths: Annotated[Decimal, Number(least="1", most="100")] = Decimal(3)
    """A repeat is at least so many times as long as its roots are deep."""
    edge_widths: Annotated[Decimal, Number(least="2", most="100")] = Decimal(6)
    """A piece is at least so many times as wide as the roots of its edges are deep."""
    edge_stretch: Decimal = Decimal("0.05")
    """By what share of an iron's repeat those of an edge may be longer or shorter that it cuts."""
    edging_reach: Annotated[Decimal, Number(least="0.1", most="10")] = Decimal("1.5")
    """An edging stands out beyond its edge at most so many times as far as it reaches inside it."""
    edging_taper: Annotated[Decimal, Number(least="0.5", most="200")] = Decimal(4)
    """A taper that an edging follows is at least so many times as long as it narrows by."""
    # tongue end
    first_size_hole: Annotated[Nm, Length(laid_out=True)]
    """From the joint's last hole, or the end of the free run, to the first size hole."""
    tip_widths: Annotated[Decimal, Number(most="20")]
    """Tip beyond the last size hole, in strap widths."""
    tip_past_keeper: Annotated[Nm, Length(zero=True, laid_out=True)]
    """Least tip beyond the keeper when buckled at the loosest hole."""
    flat_under_tip: Annotated[Nm, Length(zero=True)] = 3_500_000
    """What stands no higher than this above the leather may lie under the tip of a buckled strap."""
    # keeper
    keeper_width: Annotated[Nm, Length(laid_out=True)]
    keeper_lap: Annotated[Nm, Length(laid_out=True)]
    keeper_ease: Annotated[Nm, Length(zero=True)]
    keeper_skive: Annotated[Decimal, Number(least="0.05")]
    """Share of its thickness that the keeper's leather keeps."""
    fold_skive: Annotated[Decimal, Number(least="0.05")]
    """Share of its thickness that a strap keeps where it is folded."""
    lining_over: Annotated[Nm, Length(zero=True)] = 3_000_000
    """How much larger a lining is cut all round than what it lines, where its leather yields it."""
    lining_run: Annotated[Decimal, Number(most="10")] = Decimal(2)
    """How much farther than it stands up a covered back lies inside the edge, so that the lining comes down to it."""
    machine_room: Annotated[Nm, Length(zero=True)] = 9_525_000
    """What a sewing machine takes up beside the edge of a strap whose ornaments are set before it is sewn."""
    # splices
    splice_lap: Annotated[Decimal, Number(least="4", most="100")] = Decimal(12)
    """How long the lap of a splice is, as a multiple of its leather's thickness."""
    splice_lap_least: Annotated[Decimal, Number(least="4", most="100")] = Decimal(7)
    """How short a lap may be where nothing longer has a place between what is cut or set."""
    splice_clear: Annotated[Nm, Length(zero=True)] = 6_350_000
    """Least distance along the strap from a splice's lap to anything that is cut, set, folded or riveted."""
    # stitching
    stitch_edge: Annotated[Nm, Length(zero=True)]
    """Least distance from a line of stitches to the outline."""
    stitch_web: Annotated[Nm, Length(zero=True)]
    """Least leather between a line of stitches and a cut."""
    stitch_clear: Annotated[Nm, Length(zero=True)]
    """Least distance from a line of stitches to an ornament's rim, a cap or a buckle's frame."""
    stitched_fold: Nm
    """Least length along the strap of a turned-back end that is stitched."""
    thread_multiple: Annotated[Decimal, Number(least="1", most="20")]
    """Thread of one strand, as a multiple of the seam."""
    thread_spare: Annotated[Nm, Length(zero=True)]
    """Added to each length of a strand for threading and finishing."""
    thread_drawn: Nm = 1_500_000_000
    """The longest that is drawn through in one; beyond it another length is begun."""
    # lace and clinch
    lace_thickness: Nm
    lace_knot: Annotated[Nm, Length(zero=True)]
    """Knot and tail at each end of a lace."""
    lace_waste: Annotated[Decimal, Number(most="10")]
    """Waste for the taper, as a share of the lace's length."""
    clinch_min: Annotated[Nm, Length(zero=True)]
    """Least length of a prong left to bend behind the leather."""
    clinch_max: Nm
    """Greatest length of a prong that the clinch can fold."""
    # fit
    ease: Annotated[Nm, Length(zero=True, laid_out=True)]
    """Added to a girth when the spec names none."""
    mm: Mapping[str, Nm] = field(default_factory=lambda: {"graduation": GRADUATION_MM}, hash=False)
    """By name what is otherwise in a job in millimetres, the graduation at least."""
    own: Mapping[str, Nm] = field(default_factory=dict, hash=False)
    """By name the figures that a single rule declares for itself, as far as the shop says them."""

    def in_units(self, units: Units) -> "Rules":
        """The rules of a job in these units."""
        return _in_mm(self) if units == "mm" else self

    def of(self, figure: OwnLength) -> Nm:
        """What this shop says of a figure that a rule declares."""
        return self.own.get(figure.name, figure.usual)


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What a spec gets where it says nothing."""

    units: Units
    leather: str
    body_width: Nm
    strip_width: Nm
    """Width of a one-piece or open strap."""
    body_end: EndShape
    billet_width: Nm
    buckle: str
    tip: EndShape
    size_holes: int
    size_hole_spacing: Nm
    joint_fastener: str
    joint_count: int
    joint_spacing: Nm
    joint_end_distance: Nm
    keeper_fastener: str
    ring: str
    hang_hole: Nm
    """Diameter of a hanging hole."""
    hang_slot: Nm
    """Length of a hanging slot."""
    border_inset: Nm
    border_step: Nm
    stitch_inset: Nm
    """From the edge to a line of stitches."""
    stitches_per_inch: int
    stitch_strands: int
    edge_repeat: Nm = 19_050_000
    """Of edges that are cut in scallops or points: 3/4 in (from memory)."""
    edge_depth: Nm = 3_175_000
    """How far their roots lie inside the edge: 1/8 in (from memory)."""
    edging_reach: Nm = 6_350_000
    """How far an edging stands out beyond its edge: 1/4 in (from memory)."""
    splices: Literal["allowed", "none"] = "none"
    """Whether a body longer than its leather's strips is made of several of them where a spec says nothing."""
    splice_stitch_lines: int = 2
    """Lines of stitches along the strap in each lap."""
    mm: Mapping[str, Nm] = field(default_factory=dict, hash=False)
    """By name what is otherwise in a job in millimetres."""

    def in_units(self, units: Units) -> "Defaults":
        """The defaults of a job in these units."""
        return _in_mm(self) if units == "mm" else self


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeTable:
    """Sizes by label, each a length of one kind: S, M and L of a garter by girth.

    `ease` is added to these girths where a spec names none; `None` leaves it to the shop's rules.
    """

    id: str
    title: str
    measure: Literal["body_length", "finished_length", "girth"]
    sizes: Mapping[str, Nm]
    worn_by: WornBy | None = None
    """Whose sizes these are, where the shop says so."""
    ease: Nm | None = None


_NO_TERMS = frozenset(
    {"cutter", "name", "care", "designs", "exports", "offer", "paper", "finished", "mark", "artwork", "digest", "terms"}
)
"""What may change in a shop while every pattern and price stays as it is."""
_TERMS_IF_ANY = frozenset({"edge_irons", "snaps"})
"""Goods that came later: a shop without them is known by the digest that it had."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A shop as its file declares it. Mappings are by id, in the file's order."""

    name: str
    currency: str
    care: tuple[str, ...] = ()
    """What who uses a strap is told of its care, one sentence each."""
    leathers: Mapping[str, Leather]
    round_punches: Mapping[str, RoundPunch]
    slot_punches: Mapping[str, SlotPunch]
    end_punches: Mapping[str, EndPunch]
    edge_irons: Mapping[str, EdgeIron] = field(default_factory=dict)
    fasteners: Mapping[str, Fastener]
    buckles: Mapping[str, Buckle]
    rings: Mapping[str, Ring]
    snaps: Mapping[str, Snap] = field(default_factory=dict)
    ornaments: Mapping[str, Ornament]
    size_tables: Mapping[str, SizeTable] = field(default_factory=dict)
    rules: Rules
    defaults: Defaults
    limits: Limits
    paper: Paper = field(default_factory=Paper)
    cutting: Cutting = field(default_factory=Cutting)
    pricing: Pricing | None = None
    """Without it the shop makes no quotes."""
    finished: FinishedLook = field(default_factory=FinishedLook)
    cutter: CutterLines = field(default_factory=CutterLines)
    mark: str | None = None
    """File name of the shop's own mark, for the title strip."""
    artwork: Mapping[str, Artwork] = field(default_factory=dict)
    """The shop's own pictures by file name."""
    designs: Mapping[str, Design] = field(default_factory=dict)
    exports: Mapping[str, Export] = field(default_factory=dict)
    """How orders are read that other tools export."""
    offer: OfferWords = field(default_factory=OfferWords)
    """What stands on every offer."""
    digest: str
    """Hexadecimal SHA-256 of the shop file and its pictures: goes into every entity tag."""
    terms: str = field(init=False)
    """Hexadecimal SHA-256 of everything here that shapes a pattern or a price."""

    def __post_init__(self) -> None:
        """Work the digest out anew for each shop, one made of another by `replace` included."""
        terms = {each.name: getattr(self, each.name) for each in fields(self) if each.name not in _NO_TERMS}
        terms = {name: said for name, said in terms.items() if said or name not in _TERMS_IF_ANY}
        object.__setattr__(self, "terms", terms_digest(terms))

    @property
    def items(self) -> Mapping[ItemKind, Mapping[str, Item]]:
        """The goods that are set on straps, by kind and id. One id names one thing in a whole shop."""
        return {
            "fastener": self.fasteners,
            "buckle": self.buckles,
            "ring": self.rings,
            "snap": self.snaps,
            "ornament": self.ornaments,
        }

    def item(self, name: str) -> Item | None:
        """The item of this id, if the shop has it."""
        for table in (self.fasteners, self.ornaments, self.buckles, self.rings, self.snaps):
            if name in table:
                return table[name]
        return None
