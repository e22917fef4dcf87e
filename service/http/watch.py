"""Every answer is timed, counted and logged, last of all that happens to it."""

from collections.abc import Collection
from time import perf_counter

from flask import Flask, g, request
from werkzeug.wrappers import Response

from service.http.logs import answers, trace_of
from service.http.metrics import CACHE, REQUEST_SECONDS, REQUESTS, STAGE_SECONDS
from service.http.stages import server_timing, stages_taken

_METHODS = frozenset(("GET", "HEAD", "POST", "OPTIONS"))


def register_watch(app: Flask, quiet: Collection[str]) -> None:
    """Watch every route but the quiet ones. Has to be registered before all else, so that it comes last."""

    def before() -> None:
        g.started = perf_counter()

    def after(response: Response) -> Response:
        seconds = perf_counter() - g.started
        _tell_stages(response, seconds)
        if request.endpoint not in quiet:
            _count(response, seconds)
            _log(response, seconds)
        return response

    app.before_request(before)
    app.after_request(after)


def _tell_stages(response: Response, seconds: float) -> None:
    stages = server_timing(stages_taken(), g.get("cache"))
    if stages:
        response.headers["Server-Timing"] = f"{stages}, total;dur={seconds * 1000:.2f}"


def _count(response: Response, seconds: float) -> None:
    route = request.endpoint or "none"
    method = request.method if request.method in _METHODS else "other"
    REQUESTS.labels(route, method, response.status_code).inc()
    REQUEST_SECONDS.labels(route).observe(seconds)
    for name, taken in stages_taken().items():
        STAGE_SECONDS.labels(name).observe(taken)
    if "cache" in g:
        CACHE.labels(g.cache).inc()


def _log(response: Response, seconds: float) -> None:
    answers.info(
        "answered",
        level="info",
        request_id=g.get("request_id"),
        trace_id=trace_of(request.headers.get("traceparent", "")),
        route=request.endpoint,
        method=request.method if request.method in _METHODS else "other",
        status=response.status_code,
        code=g.get("problem"),
        cache=g.get("cache"),
        bytes=response.content_length,
        ms=round(seconds * 1000, 2),
    )
