"""The file of API keys: a line for each, its SHA-256, perhaps the day it ends, and its holder's name."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from service.allowed import ExistingFile, text_of
from service.words import say

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_LINE = re.compile(r"(?P<digest>[0-9A-Fa-f]{64})(?: +until=(?P<until>\S*))?(?: +(?P<holder>.*))?")


@dataclass(frozen=True, slots=True)
class Key:
    """One API key, by its SHA-256. `until` is the first moment at which it is none any more; None: it has no end."""

    digest: bytes
    until: datetime | None = None
    holder: str = ""

    def is_over(self, now: datetime) -> bool:
        """Whether its time is over."""
        return self.until is not None and now >= self.until


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys of a file, as it was when it was read."""

    keys: tuple[Key, ...]
    path: Path | None = None
    """Where they are read again; None where they were never read."""
    version: tuple[int, ...] | None = None
    """What tells that state of the file from another."""


@dataclass(frozen=True, slots=True)
class KeysFile:
    """What is allowed of the file of API keys: it is there, and each of its lines is a key's."""

    unit: str = "path"

    def read(self, text: str) -> Keys:
        """The keys that are in a file. Raises `ValueError`, which repeats no line."""
        path = ExistingFile().read(text)
        version = version_of(path)
        lines = text_of(path).splitlines()
        said = {n: line.strip() for n, line in enumerate(lines, 1) if line.strip() and not line.startswith("#")}
        keys = {n: _key(line) for n, line in said.items()}
        wrong = [str(n) for n, key in keys.items() if key is None]
        if wrong or not said:
            why = say("see line {lines}", lines=", ".join(wrong[:5])) if wrong else "none is in it"
            raise ValueError(say("{text!r} is not {allowed}: {why}", text=text, allowed=self, why=why))
        return Keys(tuple(key for key in keys.values() if key), path, version)

    def __str__(self) -> str:
        return (
            "a file of lines, each the SHA-256 of a key, `until=` a date (ISO 8601) if it ends, and its holder's name"
        )


def version_of(path: Path) -> tuple[int, ...] | None:
    """What tells one state of a file from another; None where it is not there."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns


def _key(line: str) -> Key | None:
    """The key of a line; None where it is none."""
    parts = _LINE.fullmatch(line)
    try:
        until = _end(parts["until"]) if parts and parts["until"] is not None else None
    except (ValueError, OverflowError):
        return None
    return Key(bytes.fromhex(parts["digest"]), until, parts["holder"] or "") if parts else None


def _end(text: str) -> datetime:
    """The end of a day (UTC) or a moment with its offset, both of ISO 8601. Raises `ValueError` or `OverflowError`."""
    if _DAY.fullmatch(text):
        return datetime.combine(date.fromisoformat(text) + timedelta(days=1), time(), UTC)
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError("a moment has to say its offset from UTC")
    return moment.astimezone(UTC)
