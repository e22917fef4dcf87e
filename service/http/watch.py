"""Every answer is timed, counted and logged, last of all that happens to it."""

from collections.abc import Collection
from functools import lru_cache
from time import perf_counter

from flask import Flask, g, request
from prometheus_client import Counter, Histogram
from werkzeug.wrappers import Response

from service.http.logs import answers, trace_of
from service.http.metrics import CACHE, REQUEST_SECONDS, REQUESTS, STAGE_SECONDS
from service.http.stages import STAGES, Stage, server_timing, stages_taken

_METHODS = frozenset(("GET", "HEAD", "POST", "OPTIONS"))


def register_watch(app: Flask, quiet: Collection[str]) -> None:
    """Watch every route but the quiet ones. Has to be registered before all else, so that it comes last."""

    def before() -> None:
        g.started = perf_counter()

    def after(response: Response) -> Response:
        seconds = perf_counter() - g.started
        taken, route = stages_taken(), request.endpoint
        cache: str | None = g.get("cache")
        if taken:
            told = server_timing(taken, cache)
            response.headers.add("Server-Timing", f"{told}, total;dur={seconds * 1000:.2f}")
        if route not in quiet:
            method = request.method if request.method in _METHODS else "other"
            _count(route or "none", method, response.status_code, seconds)
            _count_stages(taken, cache)
            _log(response, method, cache, seconds)
        return response

    app.before_request(before)
    app.after_request(after)


def _count(route: str, method: str, status: int, seconds: float) -> None:
    requests, histogram = _counters(route, method, status)
    requests.inc()
    histogram.observe(seconds)


@lru_cache(maxsize=1024)
def _counters(route: str, method: str, status: int) -> tuple[Counter, Histogram]:
    """Looked up once: there are only so many routes, methods and statuses, none of a caller's making."""
    return REQUESTS.labels(route, method, status), REQUEST_SECONDS.labels(route)


def _count_stages(taken: dict[Stage, float], cache: str | None) -> None:
    """The look-up itself takes microseconds, so how often it finds something is counted, not how long it takes."""
    for name, seconds in taken.items():
        if name != "cache":
            _STAGES[name].observe(seconds)
    if cache is not None:
        _LOOK_UPS[cache].inc()


_STAGES = {name: STAGE_SECONDS.labels(name) for name in STAGES if name != "cache"}
_LOOK_UPS = {result: CACHE.labels(result) for result in ("hit", "miss")}


def _log(response: Response, method: str, cache: str | None, seconds: float) -> None:
    answers.info(
        "answered",
        level="info",
        request_id=g.get("request_id"),
        trace_id=trace_of(request.environ.get("HTTP_TRACEPARENT", "")),
        route=request.endpoint,
        method=method,
        status=response.status_code,
        code=g.get("problem"),
        cache=cache,
        bytes=response.content_length,
        ms=round(seconds * 1000, 2),
    )
