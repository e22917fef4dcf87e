"""What is kept in memory between requests: within a budget, the least recently wanted goes first."""

import hashlib
from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass
from threading import Lock
from typing import Generic, TypeVar

from service.door.machine.metrics import HELD

Value = TypeVar("Value")

OVERHEAD = 600
"""Bytes that an entry costs beside its content: key with options, objects, its place in the order."""
LARGEST_SHARE = 8
"""An entry of more than one eighth of the budget is not kept: it would push out too many others."""


class LruCache(Generic[Value]):
    """Values by key, within a budget of bytes; threads may share it. A budget of 0 keeps nothing."""

    def __init__(self, budget: int) -> None:
        self._budget = budget
        self._held = 0
        self._entries: OrderedDict[Hashable, tuple[Value, int]] = OrderedDict()
        self._lock = Lock()

    @property
    def held(self) -> int:
        """Bytes held at the moment, each entry with its overhead."""
        return self._held

    def __len__(self) -> int:
        return len(self._entries)

    def get(self, key: Hashable) -> Value | None:
        """The value of a key, from now on the most recently wanted; None where there is none."""
        with self._lock:
            entry = self._entries.get(key)
            if entry is None:
                return None
            self._entries.move_to_end(key)
            return entry[0]

    def put(self, key: Hashable, value: Value, size: int) -> None:
        """Keep a value of so many bytes, and let go of the least recently wanted to stay within the budget."""
        cost = size + OVERHEAD
        if cost * LARGEST_SHARE > self._budget:
            return
        with self._lock:
            self._drop(self._entries.pop(key, None))
            self._entries[key] = (value, cost)
            self._held += cost
            while self._held > self._budget:
                self._drop(self._entries.popitem(last=False)[1])

    def _drop(self, entry: tuple[Value, int] | None) -> None:
        if entry is not None:
            self._held -= entry[1]


@dataclass(frozen=True, slots=True)
class Located:
    """What a request turned out to ask for: the tag of its answer, and the answer's own URL."""

    tag: str
    location: str


class AnswerCache(Generic[Value]):
    """Good answers by entity tag, and the tags of the requests that led to them; and what cannot be made.

    An eighth of the budget is for the requests, since one seen before need not be read again, and another for
    refusals. No other error is kept.
    """

    def __init__(self, budget: int) -> None:
        share = budget // LARGEST_SHARE
        self._requests: LruCache[Located] = LruCache(share)
        self._refusals: LruCache[Value] = LruCache(share)
        self._contents: LruCache[bytes] = LruCache(budget - 2 * share)

    @property
    def held(self) -> int:
        """Bytes held at the moment."""
        return self._requests.held + self._refusals.held + self._contents.held

    def located(self, key: Hashable) -> Located | None:
        """What a request of this key asked for, if it is known."""
        return self._requests.get(key)

    def content(self, tag: str) -> bytes | None:
        """The answer with this tag, if it is kept."""
        return self._contents.get(tag)

    def put(self, key: Hashable, located: Located, content: bytes) -> None:
        """Keep an answer and the way to it."""
        self._requests.put(key, located, len(located.location))
        self._contents.put(located.tag, content, len(content))
        HELD.set(self.held)

    def refusal(self, key: Hashable) -> Value | None:
        """Why a request of this key cannot be made, if that is known."""
        return self._refusals.get(key)

    def put_refusal(self, key: Hashable, refusal: Value, size: int) -> None:
        """Keep why a request cannot be made."""
        self._refusals.put(key, refusal, size)
        HELD.set(self.held)


def request_key(source: bytes, *more: Hashable) -> Hashable:
    """A short key for what a request says: its body or path, and how it wants the answer."""
    return (hashlib.sha256(source).digest(), *more)
