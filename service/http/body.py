"""Reading a request's body: JSON, declared as JSON, in no content coding, within the limit."""

from flask import Request
from werkzeug.exceptions import BadRequest, HTTPException, RequestEntityTooLarge
from werkzeug.http import parse_options_header

from service.http.errors import WrongEncoding, WrongMediaType
from service.schemas.json_text import read_json
from service.schemas.mistakes import shown

_JSON = "application/json"


def json_body(request: Request, longest: int) -> object:
    """The JSON value in the body, of at most `longest` bytes. Raises what `json_text` raises, and `JsonError`."""
    return read_json(json_text(request, longest))


def json_text(request: Request, longest: int) -> bytes:
    """The body, declared as JSON and of at most `longest` bytes, not yet read.

    Raises `WrongMediaType`, `WrongEncoding`, and werkzeug's `RequestEntityTooLarge`.
    """
    _refuse_coding(request.headers.get("Content-Encoding", ""))
    _refuse_other_types(request.headers.get("Content-Type", ""))
    # werkzeug cuts a chunked body off at its limit in silence; a limit one byte beyond ours shows it.
    request.max_content_length = longest + 1
    content = _received(request)
    if len(content) > longest:
        raise RequestEntityTooLarge(f"a body has at most {longest} bytes")
    return content


def _received(request: Request) -> bytes:
    try:
        return request.get_data(cache=False)
    except HTTPException:
        raise
    except Exception as error:  # each server has its own errors for a body in broken chunks
        raise BadRequest("the body breaks off, or its chunks cannot be read") from error


def _refuse_coding(coding: str) -> None:
    if coding.strip().lower() not in ("", "identity"):
        detail = f"a body in Content-Encoding {shown(coding)} is not read here; send it as it is"
        raise WrongEncoding(detail, Accept_Encoding="identity")


def _refuse_other_types(declared: str) -> None:
    media_type, parameters = parse_options_header(declared)
    charset = parameters.pop("charset", "utf-8")
    if media_type.lower() != _JSON or charset.lower() != "utf-8" or parameters:
        found = f"not as {shown(declared)}" if declared else "and none is declared"
        raise WrongMediaType(f"the body has to be sent as Content-Type {_JSON}, {found}", Accept=_JSON)
