"""Reading a request's body: JSON, declared as JSON, in no content coding, within the limit, and in time."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager

from flask import Request
from werkzeug.exceptions import BadRequest, HTTPException, RequestEntityTooLarge
from werkzeug.http import parse_options_header

from service.door.errors import BodyLate, TookTooLong, WrongEncoding, WrongMediaType
from service.door.machine.deadline import Deadline
from service.schemas.mistakes import shown
from service.words import say

_JSON = "application/json"


def json_text(request: Request, longest: int, within: Deadline) -> bytes:
    """The body, declared as JSON and of at most `longest` bytes, not yet read.

    Raises `WrongMediaType`, `WrongEncoding`, `BodyLate`, and werkzeug's `RequestEntityTooLarge`.
    """
    _refuse_coding(request.headers.get("Content-Encoding", ""))
    _refuse_other_types(request.headers.get("Content-Type", ""))
    # werkzeug cuts a chunked body off at its limit in silence; a limit one byte beyond ours shows it.
    request.max_content_length = longest + 1
    content = _received(request, within)
    if len(content) > longest:
        raise RequestEntityTooLarge(say("a body has at most {longest} bytes", longest=longest))
    return content


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


def _refuse_other_types(declared: str) -> None:
    if declared == _JSON:
        return
    media_type, parameters = parse_options_header(declared)
    charset = parameters.pop("charset", "utf-8")
    if media_type.lower() != _JSON or charset.lower() != "utf-8" or parameters:
        found = say("not as {declared}", declared=shown(declared)) if declared else "and none is declared"
        raise WrongMediaType(
            say("the body has to be sent as Content-Type {media_type}, {found}", media_type=_JSON, found=found),
            Accept=_JSON,
        )
