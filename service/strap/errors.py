"""The core's error family: each error inherits `StrapError` and a builtin, and carries its values as fields."""

from dataclasses import dataclass
from enum import Enum, auto

from service.shop.goods import Nm

Path = tuple[str, ...]
"""Where something stands in a spec, e.g. `("ornaments", "count")`."""


class StrapError(Exception):
    """Base of every error that the core raises on purpose."""


class LengthError(StrapError, ValueError):
    """A text or number that cannot be read as a length. `reason` is a sentence for a maker."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class Cure(Enum):
    """What kind of change mends a fault; which changes those are is worked out in `remedies`, one way for each."""

    # a spec that is no job yet
    KNOWN_LEATHER = auto()
    KNOWN_BUCKLE = auto()
    KNOWN_FASTENER = auto()
    KNOWN_RING = auto()
    KNOWN_SNAP = auto()
    KNOWN_IRON = auto()
    KNOWN_ORNAMENT = auto()
    KNOWN_SIZE_TABLE = auto()
    KNOWN_SIZE_LABEL = auto()
    LEAVE_OUT = auto()
    OTHER_ENDS = auto()
    """A strap that is said by its two ends, or the ends of an open one."""
    KEEP_LIMIT = auto()
    BODY_AS_WIDE = auto()
    FEWER_FEATURES = auto()
    NARROWER_TAPER = auto()
    """A taper that narrows, or none."""
    JOIN_BUCKLES = auto()
    """A strap that joins two buckles, where a girth is to be closed."""
    OTHER_IRON = auto()
    """Another iron, or straight edges."""
    # the size
    LENGTHEN = auto()
    """A longer strap, or ends that take less of it."""
    LEVEL_ROWS = auto()
    # the row, what stands between, the border
    ROW = auto()
    BETWEEN = auto()
    BORDER = auto()
    BORDER_INSET = auto()
    BORDER_CUTS = auto()
    FROM_EDGE = auto()
    OTHER_ITEM = auto()
    LOWER_BACKS = auto()
    """Backs that a lining comes down beside."""
    # rivets, holes and cuts
    CUT_FROM_EDGE = auto()
    HANGING_HOLE_FROM_EDGE = auto()
    HANGING_HOLE_SIZE = auto()
    END_DISTANCE = auto()
    RIVETS_APART = auto()
    SIZE_HOLES_APART = auto()
    SIZE_HOLE_DIAMETER = auto()
    OTHER_FASTENER = auto()
    FASTENER_FOR_PUNCH = auto()
    OTHER_PLIES = auto()
    # buckle, keeper, tip and rings
    OTHER_BUCKLE = auto()
    WIDER_KEEPER = auto()
    KEEPERS_CLEAR = auto()
    KEEPER_LAP = auto()
    FIXED_KEEPER = auto()
    FIXED_KEEPERS_APART = auto()
    FIXED_KEEPER_HELD = auto()
    PRONG_SLOT = auto()
    TAIL = auto()
    FIRST_SIZE_HOLE = auto()
    TIP_LENGTH = auto()
    TIP_OFF_ORNAMENT = auto()
    TIP_THROUGH_RING = auto()
    OTHER_RING = auto()
    OTHER_SNAP = auto()
    JOINING_WIDTH = auto()
    JOINING_ROOM = auto()
    BILLET_ADDS = auto()
    SAME_SNAP = auto()
    OTHER_PARITY = auto()
    STUDS_APART = auto()
    RING_ROOM = auto()
    TONGUE_WIDTH = auto()
    # leather, ends and stitches
    SHORTER = auto()
    MORE_SPLICES = auto()
    FEWER_SPLICES = auto()
    SPLICE_PLACE = auto()
    FEWER_SPLICE_LINES = auto()
    NARROWER = auto()
    LONGER_LINING = auto()
    OTHER_LINING = auto()
    SHALLOWER_ENDS = auto()
    SHORTER_TAPER = auto()
    EDGE_ROOM = auto()
    EDGE_STRETCH = auto()
    EDGING_ROOM = auto()
    EDGING_REACH = auto()
    EDGING_SEEN = auto()
    EDGING_CLEAR = auto()
    STITCH_INSET = auto()
    STITCHES_CLEAR = auto()
    STITCH_ROOM = auto()
    STITCHED_FOLD = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong with a spec.

    Of a figure `limit` and `found` are lengths in nanometres where `is_length`, else plain counts. `cure` is what
    mends it, if anything does.
    """

    path: Path
    code: str
    detail: str
    limit: Nm | None = None
    found: Nm | None = None
    is_length: bool = True
    cure: Cure | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureFault(Fault):
    """A figure that lies beyond its limit."""

    limit: Nm
    found: Nm

    @property
    def short(self) -> Nm:
        """How much is missing to a limit that is the least; negative where it is the most, and passed."""
        return self.limit - self.found


class Refusal(StrapError, ValueError):
    """A readable spec that cannot be made, with every fault that was found."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults
