"""Reading a request's body: declared as what its route reads, in no content coding, within the limit, and in time."""

import socket
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

from flask import Request
from werkzeug.exceptions import BadRequest, HTTPException, RequestEntityTooLarge
from werkzeug.http import parse_options_header

from service.door.errors import BodyLate, TookTooLong, WrongEncoding, WrongMediaType
from service.door.machine.deadline import Deadline
from service.schemas.mistakes import shown
from service.words import say, say_list

JSON_TYPE = "application/json"
CSV_TYPE = "text/csv"
TOML_TYPE = "application/toml"
_PARAMETERS: Mapping[str, Mapping[str, str]] = {
    JSON_TYPE: {"charset": "utf-8"},
    CSV_TYPE: {"charset": "utf-8", "header": "present"},
    TOML_TYPE: {"charset": "utf-8"},
}
"""Parameters that may stand behind a media type: they change nothing (RFC 4180, section 3, for CSV)."""


@dataclass(frozen=True, slots=True)
class Body:
    """What was posted: not yet read, of one of the media types that its route reads."""

    media_type: str
    content: bytes


NO_BODY = Body("", b"")


def body_of(request: Request, types: tuple[str, ...], longest: int, within: Deadline) -> Body:
    """The body, declared as one of these types and of at most `longest` bytes, not yet read.

    Raises `WrongMediaType`, `WrongEncoding`, `BodyLate`, and werkzeug's `RequestEntityTooLarge`.
    """
    _refuse_coding(request.headers.get("Content-Encoding", ""))
    media_type = _declared_type(request.headers.get("Content-Type", ""), types)
    # werkzeug cuts a chunked body off at its limit in silence; a limit one byte beyond ours shows it.
    request.max_content_length = longest + 1
    content = _received(request, within)
    if len(content) > longest:
        raise RequestEntityTooLarge(say("a body has at most {longest} bytes", longest=longest))
    return Body(media_type, content)


def _received(request: Request, within: Deadline) -> bytes:
    connection: socket.socket | None = request.environ.get("gunicorn.socket")  # another server has none
    try:
        with _patience(connection, within.seconds):
            return within.run(request.get_data)
    except (TookTooLong, HTTPException) as error:
        if isinstance(error, TookTooLong) or isinstance(error.__context__, TimeoutError):
            raise _given_up(connection, within) from error
        raise
    except Exception as error:  # each server has its own errors for a body in broken chunks
        raise BadRequest("the body breaks off, or its chunks cannot be read") from error


@contextmanager
def _patience(connection: socket.socket | None, seconds: float) -> Iterator[None]:
    """Wait for no more than so long for the next bytes."""
    if connection is None:
        yield
        return
    before = connection.gettimeout()
    connection.settimeout(seconds)
    try:
        yield
    finally:
        connection.settimeout(before)


def _given_up(connection: socket.socket | None, within: Deadline) -> BodyLate:
    """What is told of a body that is late; what may still come of it is not waited for."""
    if connection is not None:
        connection.shutdown(socket.SHUT_RD)
    return BodyLate(within.seconds)


def _refuse_coding(coding: str) -> None:
    if coding.strip().lower() not in ("", "identity"):
        detail = say("a body in Content-Encoding {coding} is not read here; send it as it is", coding=shown(coding))
        raise WrongEncoding(detail, Accept_Encoding="identity")


def _declared_type(declared: str, types: tuple[str, ...]) -> str:
    """Which of the types a header declares. Raises `WrongMediaType`."""
    if declared in types:
        return declared
    media_type, parameters = parse_options_header(declared)
    media_type = media_type.lower()
    harmless = _PARAMETERS[media_type] if media_type in types else {}
    if media_type in types and all(harmless.get(name) == value.lower() for name, value in parameters.items()):
        return media_type
    found = say("not as {declared}", declared=shown(declared)) if declared else "and none is declared"
    listed = say_list(types, "{most} or {last}")
    raise WrongMediaType(
        say("the body has to be sent as Content-Type {media_type}, {found}", media_type=listed, found=found),
        Accept=", ".join(types),
    )
