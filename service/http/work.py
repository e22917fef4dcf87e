"""Turns: how much is made at the same time in one process, and how many more may wait for it."""

from collections import deque
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from threading import Event, Lock
from typing import Literal, TypeVar

from service.http.deadline import Deadline
from service.http.errors import Busy
from service.http.metrics import RUNNING, WAITING
from service.settings import Settings

Result = TypeVar("Result")
Timed = Callable[[Literal["wait"]], AbstractContextManager[None]]
"""Times the wait for a turn."""


def untimed(_: str) -> AbstractContextManager[None]:
    """Times nothing."""
    return nullcontext()


class Lane:
    """At most `at_once` are inside and `waiting` before it, each for at most `patience` seconds, in their order."""

    def __init__(self, name: str, at_once: int, waiting: int, patience: float, deadline: Deadline) -> None:
        self._at_once, self._may_wait, self._patience, self._deadline = at_once, waiting, patience, deadline
        self._inside = 0
        self._queue: deque[Event] = deque()
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
        with self._lock:
            if self._inside >= self._at_once and len(self._queue) >= self._may_wait:
                raise Busy

    def _enter(self) -> None:
        with self._lock:
            if self._inside < self._at_once and not self._queue:
                self._inside += 1
                self._running.set(self._inside)
                return
            if len(self._queue) >= self._may_wait:
                raise Busy
            called = Event()
            self._queue.append(called)
            self._waiting.set(len(self._queue))
        if not called.wait(self._patience):
            self._give_up(called)

    def _give_up(self, called: Event) -> None:
        with self._lock:
            if called.is_set():  # the call came between the end of our patience and this line
                return
            self._queue.remove(called)
            self._waiting.set(len(self._queue))
        raise Busy

    def _leave(self) -> None:
        """Hand the place to the next in the queue, or leave it free."""
        with self._lock:
            if self._queue:
                self._queue.popleft().set()
                self._waiting.set(len(self._queue))
            else:
                self._inside -= 1
                self._running.set(self._inside)


@dataclass(frozen=True, slots=True)
class Lanes:
    """Small answers have a lane of their own, so that they pass the large ones."""

    small: Lane
    large: Lane


def lanes(settings: Settings, deadline: Deadline) -> Lanes:
    """The lanes of one process, and the longest that anything may stay in one."""
    patience = settings.wait_ms / 1000
    return Lanes(
        small=Lane("small", settings.small_at_once, settings.small_waiting, patience, deadline),
        large=Lane("large", settings.large_at_once, settings.large_waiting, patience, deadline),
    )
