"""Whether a shop still makes what was sealed: the same strap, or word of what would be another.

Every function is pure, as in `service.desk.pipeline`.
"""

from dataclasses import dataclass

from service.schemas.codes import code_of
from service.schemas.seals import Seal, moved_document
from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Path, Refusal, StrapError
from service.strap.model.likeness import Moved, figures_of, moved, pattern_digest
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.work import Work
from service.strap.solve import solve
from service.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """How what a shop makes of a sealed spec today is not what was sealed.

    `code` is that of the same spec, for what would be made today. `faults` say why nothing would, in places of that
    spec; else `moved` has the figures that are others, and none where another place or size is.
    """

    code: str
    units: Units
    moved: tuple[Moved, ...] = ()
    faults: tuple[Fault, ...] = ()
    path: Path = ()
    """Where the seal stands in the caller's document; empty where it is the address."""


class ShopChanged(StrapError, ValueError):
    """Straps that were sealed, and that the shop would make otherwise today or not at all."""

    def __init__(self, changes: tuple[Changed, ...]) -> None:
        super().__init__(_sentence(changes))
        self.changes = changes


def _sentence(changes: tuple[Changed, ...]) -> str:
    """The first figure that moved, or why nothing can be made any more, and how many more straps are others."""
    first, *rest = changes
    if first.faults:
        sentence = say("what was sealed can no longer be made: {why}", why=first.faults[0].detail)
    elif first.moved:
        sentence = say(
            "this would be another strap: {moved}", moved=moved_document(first.moved[0], first.units)["detail"]
        )
    else:
        sentence = "this would be another strap: a place or a size in it is not the one that was sealed"
    return say("{opener} (and {more} more, see changed)", opener=sentence, more=len(rest)) if rest else sentence


def make_sealed(seal: Seal, shop: Shop) -> Pattern:
    """The pattern that was sealed. Raises `ShopChanged` where the shop would make another today, or none."""
    held = hold(seal, attempt(seal.spec, shop), shop)
    if isinstance(held, Changed):
        raise ShopChanged((held,))
    return held


def attempt(spec: Spec, shop: Shop, work: Work | None = None) -> Pattern | Refusal:
    """What becomes of a spec, taken from `work`."""
    try:
        return solve(spec, shop, work)
    except Refusal as refusal:
        return refusal


def hold(seal: Seal, outcome: Pattern | Refusal, shop: Shop) -> Pattern | Changed:
    """What becomes of a seal's spec today, held against what was sealed."""
    units = seal.spec.units or shop.defaults.units
    code = code_of(seal.spec, shop.defaults.units)
    if isinstance(outcome, Refusal):
        return Changed(code=code, units=units, faults=outcome.faults)
    if pattern_digest(outcome) == seal.digest:
        return outcome
    return Changed(code=code, units=units, moved=moved(seal.figures, figures_of(outcome)))
