"""API keys: what things cost is for those who hold one, once any are given out.

Only their SHA-256 is known here, compared in constant time, never logged.
"""

import base64
import binascii
import hashlib
import hmac
import logging
import time
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from flask import Request

from service.door.errors import NoKey
from service.door.machine.metrics import KEYS_REFUSED
from service.door.machine.rates import Guesses, caller
from service.keys_file import Key, Keys, KeysFile, version_of
from service.words import say

_LOG = logging.getLogger("service.keys")
_LOOK_SECONDS = 1.0
_WARN_BEFORE = timedelta(days=14)
_AGAIN = timedelta(days=1)


class KeyRing:
    """The keys in force: those of the file as it is now, looked at again when somebody shows a key.

    A file that cannot be used changes nothing, as at a reload, and the log says so once.
    """

    def __init__(self, keys: Keys | None, tries: int) -> None:
        self._keys, self.guesses = keys, Guesses(tries)
        self._seen = keys.version if keys else None
        self._looked = time.monotonic()
        self._warned: datetime | None = None

    @property
    def is_there(self) -> bool:
        """Whether any keys were given out, be their time over or not."""
        return self._keys is not None

    def now(self) -> tuple[Key, ...]:
        """The keys in force."""
        if time.monotonic() - self._looked > _LOOK_SECONDS:
            self._looked = time.monotonic()
            self._read_again()
            self._warn_again()
        return self._keys.keys if self._keys else ()

    def warn_of_ends(self, now: datetime) -> None:
        """Say in the log which keys end within two weeks, or have ended."""
        self._warned = now
        for key in self._keys.keys if self._keys else ():
            if key.until is not None and key.until - now <= _WARN_BEFORE:
                state = "has ended" if key.is_over(now) else "is about to end"
                _LOG.warning("an API key %s", state, extra={"holder": key.holder, "until": key.until.isoformat()})

    def _warn_again(self) -> None:
        now = datetime.now(UTC)
        if self._warned is None or now - self._warned > _AGAIN:
            self.warn_of_ends(now)

    def _read_again(self) -> None:
        if self._keys is None or self._keys.path is None:
            return
        seen = version_of(self._keys.path)
        if seen == self._seen:
            return
        self._seen = seen
        try:
            self._keys = KeysFile().read(str(self._keys.path))
        except ValueError as error:
            extra = {"mistakes": (str(error),)}
            KEYS_REFUSED.set(1)
            sentence = "the keys file has changed and cannot be used: keys stay as they were"
            _LOG.error(sentence, extra=extra)
        else:
            self._warned = None
            KEYS_REFUSED.set(0)
            _LOG.info("the keys file has changed and was read", extra={"keys": len(self._keys.keys)})


def holds_key(ring: KeyRing, request: Request, *, by_password: bool = False) -> bool:
    """Whether the caller may see and set what things cost: who shows a key, or anybody while no keys are given out.

    Raises `NoKey` for a key that is not known, and `TooOften` for any after too many of those: who means to show one
    is not answered as if there were none. `by_password` it may be the password of HTTP's Basic scheme too.
    """
    if not ring.is_there:
        return True
    if "Authorization" not in request.headers:
        return False
    ring.guesses.require_patience(caller())
    require_key(request, ring.now(), ring.guesses, by_password=by_password)
    return True


def require_key(request: Request, keys: Iterable[Key], guesses: Guesses, *, by_password: bool = False) -> None:
    """Pass a request whose `Authorization: Bearer KEY` is one of the keys (RFC 6750, section 2.1). Raises `NoKey`."""
    shown = _shown(request.headers.get("Authorization", ""), by_password=by_password)
    digest = hashlib.sha256(shown.encode()).digest()
    # Every digest is compared, so that the time says nothing of which one it was.
    found = [key for key in keys if hmac.compare_digest(digest, key.digest)]
    if not shown or not found:
        guesses.count(caller())
        raise NoKey("that API key is not known here")
    ended = [key.until for key in found if key.is_over(datetime.now(UTC))]
    if len(ended) == len(found):
        latest = max(each for each in ended if each)
        raise NoKey(say("that API key ended at {latest:%Y-%m-%dT%H:%MZ}; ask for another one", latest=latest))


def _shown(header: str, *, by_password: bool) -> str:
    """The key that a header shows; empty where it shows none in a scheme that counts."""
    scheme, _, rest = header.partition(" ")
    if scheme.lower() == "bearer":
        return rest.strip()
    if scheme.lower() != "basic" or not by_password:
        return ""
    try:
        name_and_password = base64.b64decode(rest.strip(), validate=True).decode()
    except (binascii.Error, ValueError):
        return ""
    return name_and_password.partition(":")[2]
