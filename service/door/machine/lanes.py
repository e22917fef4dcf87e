"""Turns: how much is made at the same time in one process, and how many more may wait for it."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from threading import Lock
from typing import Literal, TypeVar

from service.door.errors import Busy
from service.door.machine.deadline import Deadline
from service.door.machine.fair_queue import FairQueue, Waiter
from service.door.machine.metrics import RUNNING, WAITING
from service.door.machine.rates import caller
from service.forms.form import Cost
from service.settings import Settings

Result = TypeVar("Result")
Timed = Callable[[Literal["wait"]], AbstractContextManager[None]]
"""Times the wait for a turn."""


def untimed(_: str) -> AbstractContextManager[None]:
    """Times nothing."""
    return nullcontext()


class Lane:
    """At most `at_once` are inside and `waiting` before it, each for at most `patience` seconds, in turn by caller."""

    def __init__(
        self,
        name: str,
        at_once: int,
        waiting: int,
        patience: float,
        deadline: Deadline,
        whose: Callable[[], str] = caller,
    ) -> None:
        self._at_once, self._patience, self._deadline, self._whose = at_once, patience, deadline, whose
        self._inside = 0
        self._queue = FairQueue(waiting)
        self._lock = Lock()
        self._running, self._waiting = RUNNING.labels(name), WAITING.labels(name)

    @contextmanager
    def turn(self, timed: Timed = untimed) -> Iterator[None]:
        """Do what is inside when its turn comes; `timed` times the wait. Raises `Busy` if it does not come."""
        with timed("wait"):
            self._enter()
        try:
            yield
        finally:
            self._leave()

    def do(self, work: Callable[[], Result], timed: Timed = untimed) -> Result:
        """What `work` gives when its turn comes.

        Raises `Busy` if it does not come, and `TookTooLong` if the work is not done in time then.
        """
        with self.turn(timed):
            return self._deadline.run(work)

    def refuse_if_full(self) -> None:
        """Raises `Busy` where a turn would be refused now: sparing the work of reading what cannot be made."""
        who = self._whose()
        with self._lock:
            if self._inside >= self._at_once and not self._queue.takes(who):
                raise Busy

    def _enter(self) -> None:
        who = self._whose()
        with self._lock:
            if self._inside < self._at_once and not self._queue:
                self._inside += 1
                self._running.set(self._inside)
                self._queue.served(who)
                return
            waiter = self._queue.add(who)
            self._waiting.set(len(self._queue))
        if waiter is None:
            raise Busy
        if not waiter.called.wait(self._patience):
            self._give_up(waiter)
        if not waiter.has_turn:
            raise Busy

    def _give_up(self, waiter: Waiter) -> None:
        with self._lock:
            if waiter.called.is_set():  # the call came between the end of our patience and this line
                return
            self._queue.remove(waiter)
            self._waiting.set(len(self._queue))

    def _leave(self) -> None:
        """Hand the place to who is next in the queue, or leave it free."""
        with self._lock:
            if self._queue:
                self._queue.call_next()
                self._waiting.set(len(self._queue))
            else:
                self._inside -= 1
                self._running.set(self._inside)


@dataclass(frozen=True, slots=True)
class Lanes:
    """Small answers have a lane of their own, so that they pass the large ones."""

    small: Lane
    large: Lane

    def of(self, cost: Cost) -> Lane:
        """The lane of what costs so much."""
        return self.small if cost == "small" else self.large


def lanes(settings: Settings, deadline: Deadline) -> Lanes:
    """The lanes of one process, and the longest that anything may stay in one."""
    patience = settings.wait_ms / 1000
    return Lanes(
        small=Lane("small", settings.small_at_once, settings.small_waiting, patience, deadline),
        large=Lane("large", settings.large_at_once, settings.large_waiting, patience, deadline),
    )
