"""What is allowed of a setting: each kind reads a text, or says in a sentence what it should have been."""

import os
import re
from dataclasses import dataclass
from pathlib import Path

from service.words import say

ANY_HOST = "*"


@dataclass(frozen=True, slots=True)
class WholeNumber:
    """What is allowed of a limit: a whole number of `unit` from `least` to `most`."""

    unit: str
    least: int
    most: int

    def read(self, text: str) -> int:
        """The number that a text says. Raises `ValueError` with a sentence."""
        number = int(text) if _WHOLE.fullmatch(text) else -1
        if not self.least <= number <= self.most:
            raise ValueError(say("{text!r} is not {allowed}", text=text[:40], allowed=self))
        return number

    def __str__(self) -> str:
        return say("a whole number from {least} to {most}", least=self.least, most=self.most)


@dataclass(frozen=True, slots=True)
class OneOf:
    """What is allowed of a way to go about something: one of a few words."""

    words: tuple[str, ...]
    unit: str = "word"

    def read(self, text: str) -> str:
        """The word as it stands. Raises `ValueError` with a sentence."""
        if text not in self.words:
            raise ValueError(say("{text!r} is not {allowed}", text=text[:40], allowed=self))
        return text

    def __str__(self) -> str:
        return say("one of {words}", words=", ".join(self.words))


@dataclass(frozen=True, slots=True)
class ExistingFile:
    """What is allowed of a file: that it is there."""

    unit: str = "path"

    def read(self, text: str) -> Path:
        """The path that a text says. Raises `ValueError` with a sentence."""
        path = Path(text)
        if not os.path.isfile(path):  # noqa: PTH113 # Path.is_file raises where a folder on the way may not be read
            raise ValueError(say("{text!r} is not {allowed}", text=text, allowed=self))
        return path

    def __str__(self) -> str:
        return "a file that is there"


@dataclass(frozen=True, slots=True)
class Address:
    """What is allowed of an address to listen at."""

    unit: str = "host:port"

    def read(self, text: str) -> str:
        """The address as it stands. Raises `ValueError` with a sentence."""
        port = _ADDRESS.fullmatch(text)
        if not text.startswith("unix:") and not (port and int(port[1]) <= 65_535):
            raise ValueError(say("{text!r} is not {allowed}", text=text, allowed=self))
        return text

    def __str__(self) -> str:
        return "host:port or unix:path"


def text_of(path: Path) -> str:
    """The content of a file. Raises `ValueError` where it cannot be read."""
    try:
        return path.read_text(encoding="utf-8", errors="replace")
    except OSError as error:
        raise ValueError(say("{path!r} cannot be read: {strerror}", path=str(path), strerror=error.strerror)) from error


@dataclass(frozen=True, slots=True)
class Origins:
    """What is allowed of the origins that may read answers: any, or some by name."""

    unit: str = "origins"

    def read(self, text: str) -> str:
        """The origins as they stand, apart by one blank. Raises `ValueError` with a sentence."""
        origins = text.split()
        if origins != ["*"] and not all(_ORIGIN.fullmatch(each) for each in origins):
            raise ValueError(say("{text!r} is not {allowed}", text=text[:80], allowed=self))
        return " ".join(origins)

    def __str__(self) -> str:
        return "`*`, or origins such as https://shop.example apart by blanks"


@dataclass(frozen=True, slots=True)
class Store:
    """What is allowed of the place where rates are counted."""

    unit: str = "URL"

    def read(self, text: str) -> str:
        """The URL as it stands. Raises `ValueError` without repeating it, for it may hold a password."""
        if text != "memory://" and not _STORE.fullmatch(text):
            raise ValueError(say("is not {allowed}", allowed=self))
        return text

    def __str__(self) -> str:
        return "memory:// or a redis:// URL"


@dataclass(frozen=True, slots=True)
class Site:
    """What is allowed of the address at which others reach the service."""

    unit: str = "URL"

    def read(self, text: str) -> str:
        """The address without a slash at its end. Raises `ValueError` with a sentence."""
        if not _SITE.fullmatch(text.rstrip("/")):
            raise ValueError(say("{text!r} is not {allowed}", text=text[:80], allowed=self))
        return text.rstrip("/")

    def __str__(self) -> str:
        return "an address such as https://straps.example or https://shop.example/straps"


@dataclass(frozen=True, slots=True)
class Forwarded:
    """What is allowed of what proxies are believed, beside who asks."""

    unit: str = "names"

    def read(self, text: str) -> tuple[str, ...]:
        """The names as they stand. Raises `ValueError` with a sentence."""
        names = text.lower().split()
        if not set(names) <= {"host", "prefix", "proto"}:
            raise ValueError(say("{text!r} is not {allowed}", text=text[:80], allowed=self))
        return tuple(names)

    def __str__(self) -> str:
        return "some of host, prefix, proto apart by blanks"


@dataclass(frozen=True, slots=True)
class HostNames:
    """What is allowed of the hosts that are answered for: some by name, or any."""

    unit: str = "hosts"

    def read(self, text: str) -> tuple[str, ...]:
        """The hosts in small letters. Raises `ValueError` with a sentence."""
        hosts = text.lower().split()
        if hosts != [ANY_HOST] and not all(_HOST.fullmatch(each) for each in hosts):
            raise ValueError(say("{text!r} is not {allowed}", text=text[:80], allowed=self))
        return tuple(hosts)

    def __str__(self) -> str:
        return "hosts such as straps.example or 192.0.2.7:8000 apart by blanks, or `*`"


_WHOLE = re.compile(r"[0-9]{1,12}")
_ADDRESS = re.compile(r"\S+:([0-9]{1,5})")
_STORE = re.compile(r"(redis|rediss|redis\+sentinel|redis\+unix)://\S+")
BASE_PATH = r"(/(?!\.{1,2}(/|$))[A-Za-z0-9._~-]+)*"
"""A path below which the service may lie: plain segments (RFC 3986, section 2.3), none of them a dot or two."""
_ORIGIN = re.compile(r"https?://[A-Za-z0-9.-]+(:[0-9]{1,5})?")
_HOST = re.compile(r"([a-z0-9.-]+|\[[0-9a-f:.]+\])(:[0-9]{1,5})?")
_SITE = re.compile(_ORIGIN.pattern + BASE_PATH)
