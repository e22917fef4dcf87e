"""API keys: what things cost is for those who hold one, once any are given out.

Only their SHA-256 is known here, compared in constant time, never logged.
"""

import hashlib
import hmac
from collections.abc import Iterable

from flask import Request

from service.http.errors import NoKey
from service.http.service import Service

_SCHEME = "bearer"


def holds_key(service: Service, request: Request) -> bool:
    """Whether the caller may see and set what things cost: who shows a key, or anybody while no keys are given out.

    Raises `NoKey` for a key that is not known: who means to show one is not answered as if there were none.
    """
    digests = service.settings.keys_file
    if not digests:
        return True
    if "Authorization" not in request.headers:
        return False
    require_key(request, digests)
    return True


def require_key(request: Request, digests: Iterable[bytes]) -> None:
    """Pass a request whose `Authorization: Bearer KEY` is one of the keys (RFC 6750, section 2.1). Raises `NoKey`."""
    scheme, _, key = request.headers.get("Authorization", "").partition(" ")
    found = hashlib.sha256(key.strip().encode()).digest()
    # Every digest is compared, so that the time says nothing of which one it was.
    known = [hmac.compare_digest(found, digest) for digest in digests]
    if scheme.lower() != _SCHEME or not any(known):
        raise NoKey("that API key is not known here")
