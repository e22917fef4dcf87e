"""The longest that one request may be worked on: what counts of work bound already is ended here if they were wrong.

A thread cannot be stopped from outside, but it can be made to raise: at its next step in Python, so that a call into
a library ends first. Such a raise may come between any two steps, also where a lock was just taken or a `with` is just
left. So what is done within a deadline is one call of work alone: turns are waited for, and answers kept, outside.
"""

import ctypes
import os
from collections.abc import Callable
from threading import Lock, Thread, get_ident
from time import monotonic, sleep
from typing import TypeVar
from weakref import ref

from service.door.errors import TookTooLong

Result = TypeVar("Result")

_LOOKS = 20
"""How often the time is looked at within one deadline: so much later than wanted, a twentieth, it may end."""
_raise_in = ctypes.pythonapi.PyThreadState_SetAsyncExc
_raise_in.argtypes = (ctypes.c_ulong, ctypes.py_object)


class _Expired(BaseException):
    """The time is over. No `Exception`, so that nobody takes it for a fault of what was called."""


class Deadline:
    """Ends what its threads do within `seconds`. One thread of each process keeps the time, once there is work."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._until: dict[int, float] = {}
        self._starting = Lock()
        self._keeper: int | None = None

    @property
    def seconds(self) -> float:
        """How long is given."""
        return self._seconds

    def run(self, work: Callable[[], Result]) -> Result:
        """What `work` gives, if it does so in time. Raises `TookTooLong`. Not to be nested."""
        self._start_keeper()
        has_come = False
        try:
            try:
                self._until[get_ident()] = monotonic() + self._seconds
                return work()
            except _Expired:
                has_come = True
                raise
            finally:
                # Whoever takes the entry away decides: either nothing is raised any more, or it is on its way.
                while self._until.pop(get_ident(), None) is None and not has_come:
                    sleep(0.001)
        except _Expired:
            raise TookTooLong(self._seconds) from None

    def _start_keeper(self) -> None:
        with self._starting:
            if self._keeper != os.getpid():  # a thread does not live on in a worker that is forked
                self._keeper = os.getpid()
                keeper = Thread(
                    target=_keep_time, args=(ref(self), self._seconds / _LOOKS), name="deadline", daemon=True
                )
                keeper.start()

    def look(self) -> None:
        """End what is beyond its time."""
        now = monotonic()
        for thread, until in list(self._until.items()):
            if until <= now and self._until.pop(thread, None) is not None:
                _raise_in(thread, _Expired)


def _keep_time(of: "ref[Deadline]", every: float) -> None:
    """Look at the time every so many seconds, for as long as there is somebody to look for."""
    while True:
        sleep(every)
        deadline = of()
        if deadline is None:
            return
        deadline.look()
        del deadline
