"""Who waits for a turn, and who is next: fair by caller, so that nobody's many requests are before another's one.

Turns go round the callers (RFC 970, section on fairness), and who was not served lately is before who was. Where all
places are taken, the place of another comes from the caller who holds most of them (RFC 8290, sections 4.1 and 4.2,
do the same with packets). Nothing here is locked: that is its user's.
"""

from collections import OrderedDict, deque
from dataclasses import dataclass, field
from itertools import count
from threading import Event

_REMEMBERED = 1024
"""Callers whose last turn is known; one who is forgotten counts as one who was never served."""


@dataclass(eq=False, slots=True)
class Waiter:
    """One request that waits: `called` is set when its wait is over, `has_turn` says whether it may go in then."""

    caller: str
    arrival: int
    called: Event = field(default_factory=Event)
    has_turn: bool = False


class FairQueue:
    """At most `places` wait."""

    def __init__(self, places: int) -> None:
        self._places = places
        self._waiting: dict[str, deque[Waiter]] = {}
        self._last_turn: OrderedDict[str, int] = OrderedDict()
        self._arrivals, self._turns = count(), count(1)
        self._length = 0

    def __len__(self) -> int:
        return self._length

    def takes(self, caller: str) -> bool:
        """Whether a request of this caller would get a place now."""
        return self._length < self._places or self._giver(caller) is not None

    def add(self, caller: str) -> Waiter | None:
        """A place for a request of this caller, or None. The request that loses its place for it is told so."""
        if self._length >= self._places:
            giver = self._giver(caller)
            if giver is None:
                return None
            self._drop(giver)
        waiter = Waiter(caller, next(self._arrivals))
        self._waiting.setdefault(caller, deque()).append(waiter)
        self._length += 1
        return waiter

    def remove(self, waiter: Waiter) -> None:
        """Take out one that waits no longer."""
        own = self._waiting[waiter.caller]
        own.remove(waiter)
        self._length -= 1
        if not own:
            del self._waiting[waiter.caller]

    def call_next(self) -> None:
        """Give the turn to the first request of the caller whose last turn is longest ago. Somebody has to wait."""
        first = min((own[0] for own in self._waiting.values()), key=self._rank)
        self.remove(first)
        self.served(first.caller)
        first.has_turn = True
        first.called.set()

    def served(self, caller: str) -> None:
        """Remember that a turn was given to this caller."""
        self._last_turn[caller] = next(self._turns)
        self._last_turn.move_to_end(caller)
        if len(self._last_turn) > _REMEMBERED:
            self._last_turn.popitem(last=False)

    def _rank(self, waiter: Waiter) -> tuple[int, int]:
        return self._last_turn.get(waiter.caller, 0), waiter.arrival

    def _giver(self, caller: str) -> str | None:
        """Who holds most places, if that is more than this caller would hold with one more."""
        own = len(self._waiting.get(caller, ()))
        most = max(self._waiting, key=lambda each: len(self._waiting[each]), default=None)
        return most if most is not None and len(self._waiting[most]) > own + 1 else None

    def _drop(self, caller: str) -> None:
        """End the wait of the caller's latest request: the others have waited longer."""
        latest = self._waiting[caller][-1]
        self.remove(latest)
        latest.called.set()
