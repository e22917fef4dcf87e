"""Entity tags and conditional requests (RFC 9110, sections 8.8.3 and 13.1.2)."""

import hashlib
from base64 import urlsafe_b64encode
from functools import cache
from pathlib import Path

from flask import Request, Response

_PACKAGE = Path(__file__).parents[1]


@cache
def engine_digest() -> bytes:
    """A digest of everything in this package that shapes an answer: its own source and data files.

    Taken once: a reload takes new shops, but goes on with the code that was loaded at the start.
    """
    digest = hashlib.sha256()
    for path in sorted(_PACKAGE.rglob("*")):
        if path.is_file() and path.suffix != ".pyc":
            digest.update(path.relative_to(_PACKAGE).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.digest()


def entity_tag(*parts: bytes) -> str:
    """A strong tag, without its quotes, over parts of any length."""
    digest = hashlib.sha256()
    for part in parts:
        digest.update(len(part).to_bytes(8, "big") + part)
    return urlsafe_b64encode(digest.digest()[:18]).decode()


def names_tag(request: Request, tag: str) -> bool:
    """Whether `If-None-Match` of a GET or HEAD names this very tag, weakly compared; `*` does not name it."""
    if "HTTP_IF_NONE_MATCH" not in request.environ:
        return False
    given = request.if_none_match
    return not given.star_tag and _reads(request) and given.contains_weak(tag)


def settle(request: Request, response: Response, tag: str) -> Response:
    """Give the answer its tag, and make it 304 where the caller has this already (or, by `*`, any at all)."""
    response.headers.add("ETag", f'"{tag}"')
    if "HTTP_IF_NONE_MATCH" in request.environ and _reads(request) and request.if_none_match.contains_weak(tag):
        return not_modified(response)
    return response


def not_modified(response: Response) -> Response:
    """The answer without its content: the caller has it."""
    response.status_code = 304
    response.set_data(b"")
    for name in ("Content-Type", "Content-Length"):
        response.headers.pop(name, None)
    return response


def _reads(request: Request) -> bool:
    return request.method in ("GET", "HEAD")
