"""Remedies: small changes to a refused spec that make it one that can be made.

Candidates come from the solver's own bounds (the largest count, the shortest length, the goods that fit).
Each is tried before it is offered: a remedy that is shown is one that is accepted.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from service.shop.shop import Shop, Units
from service.strap.errors import Fault, Path, Refusal
from service.strap.filling.fill import fill
from service.strap.model.filled import Filled
from service.strap.model.short_form import billet_of
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change, Changes, Value, apply
from service.strap.model.work import Work
from service.strap.plane.lengths import reading
from service.strap.remedies.cure_tools import LEAVE_OUT
from service.strap.remedies.cures import cures_for
from service.strap.remedies.ranking import distance, for_the_wearer, undominated
from service.strap.solve import solve
from service.words import opening, say, say_list

_MOST_TRIALS = 30
"""Specs tried for one fault."""
_ENOUGH_WORK = 1000
"""Work on the remedies of one spec after which those that are found will do."""
_LAST_SHARE = 4
"""A quarter of the work is kept for the bluntest way, where no other is found."""
_OVERDRAWN = 500
"""So much more the bluntest way may take."""
_MOST_REMEDIES = 6
_ENOUGH = 3
"""With more remedies than this, further faults are not asked for theirs: each remedy mends them all."""
_DEEPEST = 8
_WIDTHS = ("make it narrower", "make it wider")


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Changes that, applied together, make the spec one that is accepted."""

    detail: str
    changes: Changes


def find_remedies(spec: Spec, shop: Shop, faults: tuple[Fault, ...], work: Work | None = None) -> tuple[Remedy, ...]:
    """Remedies for a spec that was refused with `faults`, what changes least of it first; none where nothing helps.

    A cure that leaves other faults is carried on with cures for those, as far as the `work` of the request reaches;
    where something is found already, less of it will do.
    """
    search = _Search(spec, shop, work or Work())
    found = _ways(spec, shop, faults, search)
    if all(any(change.is_leaving_out for change in changes) for changes in found.values()):
        search.is_patient = True
        found |= _ways(spec, shop, faults, search)
    filled = fill(spec, shop)
    ways = for_the_wearer(found.values() or filter(None, (search.bluntly(faults),)), filled, shop)
    fewest = min((len(_alike(changes)) for changes in ways), default=0)
    short = [changes for changes in ways if len(_alike(changes)) <= fewest + 1]
    ranked = sorted(undominated(short, filled, shop), key=lambda changes: distance(changes, spec, filled, shop))
    return tuple(Remedy(detail=_sentence(changes, filled), changes=changes) for changes in ranked[:_MOST_REMEDIES])


_Ways = dict[frozenset[tuple[Path, Value]], Changes]
"""Changes by what they change to what, in whatever order."""


def _ways(spec: Spec, shop: Shop, faults: tuple[Fault, ...], search: "_Search") -> _Ways:
    """Changes that are accepted, found from the most urgent fault on; each set mends them all."""
    found: _Ways = {}
    for fault in _most_urgent_first(faults):
        search.start_again()
        if len(found) > _ENOUGH:
            break
        for cure in cures_for(spec, shop, fault):
            if found and search.has_done_enough:
                break
            changes = search.carry_on(cure, fault)
            if changes:
                found.setdefault(frozenset((change.path, change.value) for change in changes), changes)
    return found


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
    """Tries cures of one spec, each time for the most urgent fault that is left, and counts the trials.

    A cure that does not mend its own fault is not carried on; where the search `is_patient`, one that lessens it is.
    """

    def __init__(self, spec: Spec, shop: Shop, work: Work) -> None:
        self._spec = spec
        self._shop = shop
        self.is_patient = False
        self._left = 0
        self._work = work
        self._at_first = work.left
        self._last = work.left // _LAST_SHARE

    @property
    def has_done_enough(self) -> bool:
        """Whether so much was tried that what is found will do."""
        return self._at_first - self._work.left > _ENOUGH_WORK

    def start_again(self) -> None:
        """Allow the full number of trials again."""
        self._left = _MOST_TRIALS

    def carry_on(self, changes: Changes, cured: Fault, depth: int = 1) -> Changes:
        """The changes with whatever else it takes; empty where no way is found."""
        if self._left == 0 or self._work.left - self._work.dearest < self._last:
            return ()
        self._left -= 1
        left = self._faults_of(changes)
        if not left:
            return () if self._loosens_tip(changes) else changes
        if depth == _DEEPEST or not _mends(changes[-1], cured, left, lessens=self.is_patient):
            return ()
        return next(self._further(changes, left[0], depth + 1), ())

    def bluntly(self, faults: tuple[Fault, ...]) -> Changes:
        """Whatever is in the way left out, or else its last cure, fault by fault; empty where that leads nowhere."""
        left = _most_urgent_first(faults)
        changes = self._all_left_out(left) if self._work.left < self._work.dearest else ()
        left = self._faults_of(changes) if changes else left
        while left and len(changes) < _DEEPEST and self._work.left > -_OVERDRAWN:
            settled = _paths(changes)
            last = [(change,) for change in (LEAVE_OUT.get(left[0].path[0]),) if change]
            cures = (*self._cures(changes, left[0]), *last)
            cure = next((cure for cure in reversed(cures) if not settled & _paths(cure)), None)
            if cure is None:
                return ()
            changes = (*changes, *cure)
            left = self._faults_of(changes)
        return () if left or self._loosens_tip(changes) else changes

    def _loosens_tip(self, changes: Changes) -> bool:
        """Whether the tip would hang loose that did not: no remedy, though a caller may ask for it."""
        return _is_loose(apply(self._spec, changes), self._shop) and not _is_loose(self._spec, self._shop)

    def _all_left_out(self, faults: list[Fault]) -> Changes:
        """Every part of the decoration that is in the way left out at once, where one after another takes too long."""
        parts = dict.fromkeys(fault.path[0] for fault in faults)
        return tuple(LEAVE_OUT[part] for part in parts if part in LEAVE_OUT)

    def _faults_of(self, changes: Changes) -> list[Fault]:
        """What is wrong with the spec once it is changed so."""
        try:
            solve(apply(self._spec, changes), self._shop, self._work)
        except Refusal as refusal:
            return _most_urgent_first(refusal.faults)
        return []

    def _cures(self, changes: Changes, fault: Fault) -> tuple[Changes, ...]:
        return cures_for(apply(self._spec, changes), self._shop, fault)

    def _further(self, changes: Changes, fault: Fault, depth: int) -> Iterator[Changes]:
        """Candidates for what is left. A length or a count may be changed again; anything else is changed once."""
        settled = _paths(change for change in changes if not change.is_number)
        for cure in self._cures(changes, fault):
            if not settled & _paths(cure):
                kept = tuple(change for change in changes if change.path not in _paths(cure))
                longer = self.carry_on((*kept, *cure), fault, depth)
                if longer:
                    yield longer


def _is_loose(spec: Spec, shop: Shop) -> bool:
    """Whether no keeper holds the tip, and no buckle that is known to hold it."""
    filled = fill(spec, shop)
    billet = billet_of(filled)
    buckle = shop.buckles.get(billet.buckle or "")
    return filled.two.closes and not billet.keeper and (buckle is None or buckle.needs_keeper)


def _paths(changes: Iterable[Change]) -> set[Path]:
    return {change.path for change in changes}


def _mends(cure: Change, cured: Fault, left: list[Fault], *, lessens: bool) -> bool:
    """Whether its own fault is gone, or less where that will do. A pitch wide enough may still need a longer strap."""
    if cure.path[:2] == ("ornaments", "spacing"):
        return True
    same = (fault for fault in left if (fault.code, fault.path) == (cured.code, cured.path))
    return all(lessens and _excess(fault) < _excess(cured) for fault in same)


def _excess(fault: Fault) -> int:
    """How far a figure lies from its limit; nothing where it is none that is measured."""
    return abs((fault.limit or 0) - (fault.found or 0))


def _sentence(changes: Changes, filled: Filled) -> str:
    text = "; ".join(_told(each, filled) for each in _alike(changes))
    return say("{text}.", text=opening(text))


def _alike(changes: Changes) -> list[Changes]:
    """The changes by what they do: to one item wherever a list says it they are told, and count, as one."""
    return [tuple(each) for _, each in groupby(changes, key=lambda change: (change.value, change.why))]


def _told(changes: Changes, filled: Filled) -> str:
    """What changes to one value do, and what of the document; what is left out is said once."""
    change, path = changes[0], say_list([".".join(change.path) for change in changes])
    why = _why(change, filled)
    if change.value is None:
        is_told = why.startswith("leave ") and "out" in why.split()
        if is_told:
            return say("leave out {path}", path=path)
        return say("{why}: leave out {path}", why=say(why), path=path)
    return say("{why}: {path} = {value}", why=say(why), path=path, value=_value(change, filled.units))


def _why(change: Change, filled: Filled) -> str:
    """What a change does; a width that was changed twice is told by where it began."""
    if change.path != ("body", "width") or change.why not in _WIDTHS or not isinstance(change.value, int):
        return change.why
    return _WIDTHS[change.value > filled.body.width]


def _value(change: Change, units: Units) -> str:
    value = change.value
    if isinstance(value, bool):
        return str(value).lower()
    return reading(value, units) if change.is_length and isinstance(value, int) else str(value)
