"""Counts that all workers of an instance share, in a file in memory that lives as long as their master.

SQLite does the work: one statement adds to a count, whole or not at all, and a worker that is killed leaves no lock
and no half-written count behind.
"""

import os
import sqlite3
import time
import weakref
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import unquote, urlsplit

from limits.storage import Storage

FOLDER = "PROMETHEUS_MULTIPROC_DIR"
_MADE = """CREATE TABLE IF NOT EXISTS counts (key TEXT PRIMARY KEY, count INTEGER, until REAL) WITHOUT ROWID"""
_ADD = """
INSERT INTO counts VALUES (:key, :amount, :now + :expiry) ON CONFLICT (key) DO UPDATE SET
  count = CASE WHEN until <= :now THEN :amount ELSE count + :amount END,
  until = CASE WHEN until <= :now THEN :now + :expiry ELSE until END
RETURNING count
"""
_WAIT_SECONDS = 1.0
_SWEEP_SECONDS = 60.0


def shared_place() -> str | None:
    """The URL of the counts of this instance; None where no master has made a folder for such."""
    folder = os.environ.get(FOLDER)
    return (Path(folder).absolute() / "rates.sqlite").as_uri() if folder else None


class SharedCounts(Storage):
    """A storage of fixed windows for `limits`, in a file. Raises `sqlite3.Error` where that cannot be used.

    Each process opens the file for itself, and so not before it is asked: a connection may not cross a fork.
    """

    STORAGE_SCHEME = ["file"]  # noqa: RUF012 # the library reads it of the class

    def __init__(self, uri: str, **options: Any) -> None:
        super().__init__(uri, **options)
        self._file, self._lock = unquote(urlsplit(uri).path), Lock()
        self._connection: sqlite3.Connection | None = None
        self._process = 0
        self._swept = 0.0

    @property
    def base_exceptions(self) -> type[Exception]:
        """What this raises where it cannot count."""
        return sqlite3.Error

    def incr(self, key: str, expiry: int, amount: int = 1) -> int:
        """The count of a key with `amount` more; it begins anew `expiry` seconds after its first."""
        now = time.time()
        with self._lock:
            connection = self._open()
            if now - self._swept > _SWEEP_SECONDS:
                self._swept = now
                connection.execute("DELETE FROM counts WHERE until <= ?", (now,))
            added = {"key": key, "amount": amount, "now": now, "expiry": expiry}
            (count,) = connection.execute(_ADD, added).fetchall()[0]
        return int(count)

    def get(self, key: str) -> int:
        """The count of a key; 0 where its time is over."""
        count, until = self._found(key)
        return count if until > time.time() else 0

    def get_expiry(self, key: str) -> float:
        """When the count of a key begins anew, in seconds since the epoch."""
        _, until = self._found(key)
        return max(until, time.time())

    def check(self) -> bool:
        """Whether the file can be used."""
        try:
            self._found("")
        except sqlite3.Error:
            return False
        return True

    def reset(self) -> int:
        """Forget every count; gives how many there were."""
        with self._lock:
            return self._open().execute("DELETE FROM counts").rowcount

    def clear(self, key: str) -> None:
        """Forget the count of a key."""
        with self._lock:
            self._open().execute("DELETE FROM counts WHERE key = ?", (key,))

    def _found(self, key: str) -> tuple[int, float]:
        with self._lock:
            rows = self._open().execute("SELECT count, until FROM counts WHERE key = ?", (key,)).fetchall()
        return rows[0] if rows else (0, 0.0)

    def _open(self) -> sqlite3.Connection:
        if self._connection is None or self._process != os.getpid():
            connection = sqlite3.connect(
                self._file, timeout=_WAIT_SECONDS, isolation_level=None, check_same_thread=False
            )
            weakref.finalize(self, connection.close)
            for statement in ("PRAGMA journal_mode = WAL", "PRAGMA synchronous = OFF", _MADE):
                connection.execute(statement)
            self._connection, self._process = connection, os.getpid()
        return self._connection
