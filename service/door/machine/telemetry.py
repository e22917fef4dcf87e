"""Every answer is timed, counted and logged, last of all that happens to it."""

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from time import perf_counter

from flask import Flask, g, request
from prometheus_client import Counter, Histogram
from werkzeug.wrappers import Response

from service.door.machine.logs import answers, trace_of
from service.door.machine.metrics import CACHE, REQUEST_SECONDS, REQUESTS, STAGE_SECONDS
from service.door.machine.stages import STAGES, Stage, server_timing, stages_taken

_METHODS = frozenset(("GET", "HEAD", "POST", "OPTIONS"))


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerRecord:
    """What is counted and logged of one answer. `route` is None where there is none at the path."""

    route: str | None
    method: str
    status: int
    seconds: float
    size: int | None
    request_id: str | None
    traceparent: str
    cache: str | None = None
    code: str | None = None


def register_telemetry(app: Flask, quiet: Collection[str]) -> None:
    """Watch every route but the quiet ones. Has to be registered before all else, so that it comes last."""

    def before() -> None:
        g.started = perf_counter()

    def after(response: Response) -> Response:
        seconds = perf_counter() - g.started
        taken, cache = stages_taken(), g.get("cache")
        if taken:
            timing = filter(None, (server_timing(taken, cache), f"total;dur={seconds * 1000:.2f}"))
            response.headers.add("Server-Timing", ", ".join(timing))
        if request.endpoint not in quiet:
            _count_stages(taken)
            record(_of(response, seconds, cache))
        return response

    app.before_request(before)
    app.after_request(after)


def _of(response: Response, seconds: float, cache: str | None) -> AnswerRecord:
    return AnswerRecord(
        route=request.endpoint,
        method=request.method if request.method in _METHODS else "other",
        status=response.status_code,
        seconds=seconds,
        size=response.content_length,
        request_id=g.get("request_id"),
        traceparent=request.environ.get("HTTP_TRACEPARENT", ""),
        cache=cache,
        code=g.get("problem"),
    )


def record(answer: AnswerRecord) -> None:
    """Count and log one answer."""
    requests, histogram = _counters(answer.route or "none", answer.method, answer.status)
    requests.inc()
    histogram.observe(answer.seconds)
    if answer.cache is not None:
        _LOOK_UPS[answer.cache].inc()
    answers.info(
        "answered",
        level="info",
        request_id=answer.request_id,
        trace_id=trace_of(answer.traceparent),
        route=answer.route,
        method=answer.method,
        status=answer.status,
        code=answer.code,
        cache=answer.cache,
        bytes=answer.size,
        ms=round(answer.seconds * 1000, 2),
    )


@lru_cache(maxsize=1024)
def _counters(route: str, method: str, status: int) -> tuple[Counter, Histogram]:
    """Looked up once: there are only so many routes, methods and statuses, none of a caller's making."""
    return REQUESTS.labels(route, method, status), REQUEST_SECONDS.labels(route)


def _count_stages(taken: dict[Stage, float]) -> None:
    """A look-up takes microseconds, so how often it finds something is counted, not how long it takes."""
    for name, seconds in taken.items():
        if name != "cache":
            _STAGES[name].observe(seconds)


_STAGES = {name: STAGE_SECONDS.labels(name) for name in STAGES if name != "cache"}
_LOOK_UPS = {result: CACHE.labels(result) for result in ("hit", "miss")}
