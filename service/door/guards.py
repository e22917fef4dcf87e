"""What every request meets and every answer carries: request id, host, URL limit, OPTIONS, CORS, security."""

from collections.abc import Collection

from flask import Flask, Response, g, request
from werkzeug.datastructures import Headers
from werkzeug.exceptions import NotFound
from werkzeug.wrappers import Response as BaseResponse

from service.door.errors import UrlTooLong
from service.door.hosts import known_hosts, require_known
from service.door.machine.request_id import REQUEST_ID, request_id
from service.settings import Settings
from service.words import say

SECURITY_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "cross-origin",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
}
"""Of every answer; a route may set its own policy instead."""

_EXPOSED = ("ETag", "Content-Location", REQUEST_ID, "Retry-After", "Server-Timing")

_ALLOWED = ("Accept", "Authorization", "Content-Type", "If-None-Match", "traceparent", REQUEST_ID)

_PREFLIGHT_HEADERS = {
    "Access-Control-Allow-Headers": ", ".join(_ALLOWED),
    "Access-Control-Max-Age": "86400",
}


def register_guards(app: Flask, settings: Settings, quiet: Collection[str]) -> None:
    """Put the guards before and after every route of the app. The quiet ones are asked for under any host."""
    hosts = known_hosts(settings)

    def before() -> Response | None:
        g.request_id, g.url_max = request_id(request.headers.get(REQUEST_ID, "")), settings.url_max
        _refuse_double_slash()
        if request.endpoint not in quiet:
            require_known(request.environ.get("HTTP_HOST", ""), hosts)
        _refuse_long_url(settings.url_max)
        if request.method == "OPTIONS" and request.url_rule is not None:
            return _options()
        return None

    def after(response: BaseResponse) -> BaseResponse:
        headers = response.headers
        present = {name.lower() for name, _ in headers}
        for name, value in SECURITY_HEADERS.items():
            if name.lower() not in present:
                headers.add(name, value)
        _share(headers, settings.cors_origins)
        headers.add(REQUEST_ID, g.request_id)
        return response

    app.before_request(before)
    app.after_request(after)


def _share(headers: Headers, origins: str) -> None:
    """Let scripts of the allowed origins read the answer; never with credentials. By `*` nothing varies by origin."""
    if origins != "*":
        headers.add("Vary", "Origin")
        if request.headers.get("Origin", "") not in origins.split():
            return
    allowed = "*" if origins == "*" else request.headers["Origin"]
    headers.add("Access-Control-Allow-Origin", allowed)
    headers.add("Access-Control-Expose-Headers", ", ".join(_EXPOSED))
    headers.add("Timing-Allow-Origin", allowed)


def _refuse_double_slash() -> None:
    """The router takes any number of slashes at a path's beginning for one; a proxy's rules about paths do not."""
    if request.environ.get("PATH_INFO", "").startswith("//"):
        raise NotFound


def _refuse_long_url(most: int) -> None:
    length = len(request.environ.get("RAW_URI") or request.full_path.rstrip("?"))
    if length > most:
        raise UrlTooLong(
            say(
                "a path with its query has at most {most} characters, not {length}; send the spec by POST",
                most=most,
                length=length,
            )
        )


def _options() -> Response:
    """The answer to OPTIONS and to a browser's preflight: what this path takes."""
    methods = ", ".join(sorted(request.url_rule.methods or ())) if request.url_rule else ""
    response = Response(status=204, headers={"Allow": methods, **_PREFLIGHT_HEADERS})
    response.headers["Access-Control-Allow-Methods"] = methods
    response.headers.pop("Content-Type", None)
    return response
