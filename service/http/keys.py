"""API keys of the reckoning paths: only their SHA-256 is known here, compared in constant time, never logged."""

import hashlib
import hmac
from collections.abc import Iterable

from flask import Request

from service.http.errors import NoKey

_SCHEME = "bearer"


def require_key(request: Request, digests: Iterable[bytes]) -> None:
    """Pass a request whose `Authorization: Bearer KEY` is one of the keys (RFC 6750, section 2.1). Raises `NoKey`."""
    scheme, _, key = request.headers.get("Authorization", "").partition(" ")
    found = hashlib.sha256(key.strip().encode()).digest()
    # Every digest is compared, so that the time says nothing of which one it was.
    known = [hmac.compare_digest(found, digest) for digest in digests]
    if scheme.lower() != _SCHEME or not any(known):
        raise NoKey
