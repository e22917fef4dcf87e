"""Codes: a spec as a piece of a URL, base64url (RFC 4648, section 5, no padding) of its canonical JSON."""

import re
from base64 import urlsafe_b64decode, urlsafe_b64encode

from service.schemas.json_text import JsonError, read_json
from service.schemas.spec import canonical_json
from service.shop.shop import Units
from service.strap.errors import StrapError
from service.strap.model.spec import Spec
from service.words import say

LONGEST_CODE = 16_000
"""Characters; more than any URL carries."""

_CODE = re.compile(r"[A-Za-z0-9_-]+")


class CodeError(StrapError, ValueError):
    """A text that is no code of this service. `reason` is a sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def code_of(spec: Spec, default_units: Units) -> str:
    """The code of a spec: the same for all specs that mean the same."""
    return urlsafe_b64encode(canonical_json(spec, default_units)).rstrip(b"=").decode()


def document_of(code: str) -> object:
    """The JSON document inside a code, canonical or not. Raises `CodeError` where there is none."""
    if len(code) > LONGEST_CODE or len(code) % 4 == 1 or not _CODE.fullmatch(code):
        raise CodeError(say("it is not base64url without padding (RFC 4648, section 5)"))
    try:
        return read_json(urlsafe_b64decode(code + "=" * (-len(code) % 4)))
    except JsonError as error:
        raise CodeError(say("what it encodes cannot be read: {reason}", reason=error.reason)) from error
