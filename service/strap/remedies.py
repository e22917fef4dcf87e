"""Remedies: small changes to a refused spec that make it one that can be made.

Candidates come from the solver's own bounds (the largest count, the shortest length, the goods that fit).
Each is tried before it is offered: a remedy that is shown is one that is accepted.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from service.shop.shop import Shop, Units
from service.strap.cures import cures_for
from service.strap.errors import Fault, Refusal
from service.strap.fill import fill
from service.strap.lengths import reading
from service.strap.resolve import features_asked
from service.strap.solve import solve
from service.strap.spec import Spec
from service.strap.spec_changes import Change, apply

_MOST_TRIALS = 30
"""Specs tried for one fault."""
_MOST_WORK = 20_000
"""Features of all specs tried, about; a spec without any counts as `_LEAST_WORK`."""
_LEAST_WORK = 60
_MOST_REMEDIES = 6
_ENOUGH = 3
"""With more remedies than this, further faults are not asked for theirs: each remedy mends them all."""
_DEEPEST = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Changes that, applied together, make the spec one that is accepted."""

    detail: str
    changes: tuple[Change, ...]


def find_remedies(spec: Spec, shop: Shop, faults: tuple[Fault, ...]) -> tuple[Remedy, ...]:
    """Remedies for a spec that was refused with `faults`, the smallest changes first; none where nothing helps.

    A cure that leaves other faults is carried on with cures for those. The work is bounded by the number
    of specs that are tried and by their features.
    """
    search = _Search(shop)
    found: dict[tuple[Change, ...], Remedy] = {}
    for fault in _most_urgent_first(faults):
        search.start_again()
        if len(found) > _ENOUGH:
            break
        for cure in cures_for(spec, shop, fault):
            changes = search.carry_on(spec, (cure,), fault)
            if changes:
                key = tuple(sorted(changes, key=lambda change: change.path))
                found.setdefault(key, Remedy(detail=_sentence(changes, spec, shop), changes=changes))
    best = sorted(found.values(), key=lambda remedy: len(remedy.changes))
    return tuple(remedy for remedy in best[:_MOST_REMEDIES] if len(remedy.changes) <= len(best[0].changes) + 1)


def _most_urgent_first(faults: tuple[Fault, ...]) -> list[Fault]:
    """What a thing is comes before how wide it is, and that before how many there are and how far apart."""
    return sorted(faults, key=_urgency)


def _urgency(fault: Fault) -> int:
    if fault.code.startswith("unknown_") or fault.code.endswith("_beyond_limits"):
        return 0
    if fault.path[-1] in ("item", "fastener", "buckle", "leather", "lining", "keeper", "ring"):
        return 1
    return {"body": 2, "billet": 2, "joint": 3, "border": 4, "ends": 2}.get(fault.path[0], 5)


class _Search:
    """Tries cures, each time for the most urgent fault that is left, and counts the trials.

    A cure that does not mend its own fault is not carried on.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._left = 0
        self._work = _MOST_WORK

    def start_again(self) -> None:
        """Allow the full number of trials again."""
        self._left = _MOST_TRIALS

    def carry_on(self, spec: Spec, changes: tuple[Change, ...], cured: Fault, depth: int = 1) -> tuple[Change, ...]:
        """The changes with whatever else it takes; empty where no way is found."""
        if self._left == 0 or self._work <= 0:
            return ()
        changed = apply(spec, changes)
        self._left -= 1
        self._work -= _LEAST_WORK + sum(count for count, _ in features_asked(fill(changed, self._shop)))
        try:
            solve(changed, self._shop)
        except Refusal as refusal:
            left = _most_urgent_first(refusal.faults)
            if depth == _DEEPEST or not _mends(changes[-1], cured, left):
                return ()
            return next(self._further(spec, changed, changes, left[0], depth + 1), ())
        return changes

    def _further(
        self, spec: Spec, changed: Spec, changes: tuple[Change, ...], fault: Fault, depth: int
    ) -> Iterator[tuple[Change, ...]]:
        """Cures for what is left. A length or a count may be changed again; anything else is changed once."""
        settled = {change.path for change in changes if not change.is_number}
        for cure in cures_for(changed, self._shop, fault):
            if cure.path not in settled:
                kept = tuple(change for change in changes if change.path != cure.path)
                longer = self.carry_on(spec, (*kept, cure), fault, depth)
                if longer:
                    yield longer


def _mends(cure: Change, cured: Fault, left: list[Fault]) -> bool:
    """Whether its own fault is gone. A pitch that is wide enough may still need a longer strap."""
    if cure.path[:2] == ("ornaments", "spacing"):
        return True
    return all((fault.code, fault.path) != (cured.code, cured.path) for fault in left)


def _sentence(changes: tuple[Change, ...], spec: Spec, shop: Shop) -> str:
    units: Units = fill(spec, shop).units or shop.defaults.units
    text = "; ".join(f"{change.why}: {'.'.join(change.path)}{_value(change, units)}" for change in changes)
    return f"{text[0].upper()}{text[1:]}."


def _value(change: Change, units: Units) -> str:
    value = change.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return f" = {str(value).lower()}"
    return f" = {reading(value, units)}" if change.is_length and isinstance(value, int) else f" = {value}"
