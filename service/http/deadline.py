"""The longest that one request may be worked on: what counts of work bound already is ended here if they were wrong.

A thread cannot be stopped from outside, but it can be made to raise: at its next step in Python, so that a call into
a library ends first.
"""

import ctypes
import os
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Condition, Thread, get_ident
from time import monotonic

from service.http.errors import TookTooLong

_raise_in = ctypes.pythonapi.PyThreadState_SetAsyncExc
_raise_in.argtypes = (ctypes.c_ulong, ctypes.py_object)
_NOTHING = ctypes.py_object()


class _Expired(BaseException):
    """The time is over. No `Exception`, so that nobody takes it for a fault of what was called."""


class Deadline:
    """Ends what its threads do within `seconds`. One thread of each process keeps the time, once there is work."""

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._until: dict[int, float] = {}
        self._changed = Condition()
        self._keeper: int | None = None

    @contextmanager
    def kept(self) -> Iterator[None]:
        """Do what is inside, for so long at most. Raises `TookTooLong`. Not to be nested."""
        try:
            self._begin()
            try:
                yield
            finally:
                self._end()
        except _Expired:
            raise TookTooLong(self._seconds) from None

    def _begin(self) -> None:
        with self._changed:
            self._until[get_ident()] = monotonic() + self._seconds
            if self._keeper != os.getpid():  # a thread does not live on in a worker that is forked
                self._keeper = os.getpid()
                Thread(target=self._keep_time, name="deadline", daemon=True).start()
            elif len(self._until) == 1:
                self._changed.notify()

    def _end(self) -> None:
        """From here on nothing is raised: the time is no longer kept, and what was to be raised is taken back."""
        with self._changed:
            self._until.pop(get_ident(), None)
        _raise_in(get_ident(), _NOTHING)

    def _keep_time(self) -> None:
        with self._changed:
            while True:
                now = monotonic()
                for thread in [each for each, until in self._until.items() if until <= now]:
                    del self._until[thread]
                    _raise_in(thread, _Expired)
                first = min(self._until.values(), default=None)
                self._changed.wait(None if first is None else first - now)
