"""The rules that a pattern must keep, each with its tightest place. Looks at the pattern, never at how it was made.

The work grows with the number of features: along a piece only neighbours are compared.
"""

from collections.abc import Iterable

from service.strap.model.check import Check
from service.strap.model.job import Job
from service.strap.model.pattern import Pattern, Piece
from service.strap.model.rule import Measured, Rule
from service.strap.rules.billets import BILLETS
from service.strap.rules.blanks import END_DEPTHS, STRIPS
from service.strap.rules.buckle import BUCKLE_END
from service.strap.rules.edging import EDGINGS
from service.strap.rules.family import PieceFamily, StrapFamily
from service.strap.rules.fixed_keepers import FIXED_KEEPERS
from service.strap.rules.fixings import FIXINGS, LINED_BACKS
from service.strap.rules.joining import JOINING
from service.strap.rules.joints import ALIGNMENT, GRIPS, RIVET_ENDS
from service.strap.rules.keepers import LOOPS
from service.strap.rules.punches import PUNCHES
from service.strap.rules.rings import RINGS
from service.strap.rules.snaps import SNAP_FLANGES, SNAPS
from service.strap.rules.splices import LAPS
from service.strap.rules.stitches import STITCHES
from service.strap.rules.surface import Surface
from service.strap.rules.tapers import TAPERS
from service.strap.rules.tongue import TONGUE_END
from service.strap.rules.webs import WEBS

OF_PIECES: tuple[PieceFamily, ...] = (RIVET_ENDS, WEBS, SNAP_FLANGES, STITCHES, STRIPS, LAPS, TAPERS, LOOPS, EDGINGS)
OF_STRAPS: tuple[StrapFamily, ...] = (
    ALIGNMENT, END_DEPTHS, PUNCHES, GRIPS, FIXINGS, LINED_BACKS, RINGS, SNAPS, JOINING, BILLETS, BUCKLE_END,
    FIXED_KEEPERS, TONGUE_END,
)  # fmt: skip
RULES: tuple[Rule, ...] = (
    *(rule for family in OF_PIECES for rule in family.rules),
    *(rule for family in OF_STRAPS for rule in family.rules),
)
"""Every rule of the bench."""

_SET_ON_PIECES = tuple(family for family in OF_PIECES if not family.bare)
_SET_ON_STRAPS = tuple(family for family in OF_STRAPS if not family.bare)


def measure_rules(pattern: Pattern, job: Job) -> tuple[Measured, ...]:
    """The tightest place of each rule and of each kind of feature that the rule looks at."""
    measures: list[Measured] = []
    for piece in pattern.pieces:
        measures += _of_piece(OF_PIECES, piece, job)
    measures += _of_strap(OF_STRAPS, pattern, job)
    return tuple(measures)


def measure_set_on(piece: Piece, job: Job) -> list[Measured]:
    """What is set on one piece, and what lies near it."""
    return _of_piece(_SET_ON_PIECES, piece, job)


def measure_fit(pattern: Pattern, job: Job) -> list[Measured]:
    """Whether what is set on the strap fits it, and the strap its hardware."""
    return _of_strap(_SET_ON_STRAPS, pattern, job)


def _of_piece(families: Iterable[PieceFamily], piece: Piece, job: Job) -> list[Measured]:
    surface = Surface(piece, job)
    return [measured for family in families for measured in family.measure(surface)]


def _of_strap(families: Iterable[StrapFamily], pattern: Pattern, job: Job) -> list[Measured]:
    return [measured for family in families for measured in family.measure(pattern, job)]


def tightest(measures: Iterable[Measured]) -> tuple[Check, ...]:
    """One check a rule: the place with the least room to its limit. In the order in which rules first appear."""
    best: dict[Rule, Measured] = {}
    for measured in measures:
        known = best.get(measured.rule)
        if known is None or measured.room < known.room:
            best[measured.rule] = measured
    return tuple(measured.check for measured in best.values())
