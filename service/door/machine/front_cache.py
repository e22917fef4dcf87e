"""Kept pictures, given before the framework looks at the request: what an embedded picture costs is this.

Only for the plainest request: GET of a URL whose suffix says the form, at a known host, without a condition or a
key. All else goes on to the app, and what it answers to such a request is remembered here: its headers, and the tag
by which its content is kept. Not used where an answer depends on who asks: by rate, or by origin.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from time import perf_counter
from typing import Any

from service.door.hosts import is_known
from service.door.machine.answer_cache import LARGEST_SHARE, AnswerCache, LruCache
from service.door.machine.request_id import REQUEST_ID, request_id
from service.door.machine.telemetry import AnswerRecord, record

CACHED = "strap.cached"
"""The member of a WSGI environment in which the app says: this good answer is kept, by this tag, for this route."""

_MORE = frozenset(("HTTP_IF_NONE_MATCH", "HTTP_AUTHORIZATION"))
_OF_ONE_REQUEST = frozenset((REQUEST_ID.lower(), "server-timing"))

Environment = dict[str, Any]
Start = Callable[..., Any]
Application = Callable[[Environment, Start], Iterable[bytes]]


@dataclass(frozen=True, slots=True)
class ReadyAnswer:
    """The answer to one URL, but for its content and what belongs to one request alone."""

    tag: str
    route: str
    headers: tuple[tuple[str, str], ...]


class FrontCache:
    """A WSGI application before another."""

    def __init__(self, app: Application, answers: AnswerCache[Any], budget: int, hosts: frozenset[str]) -> None:
        self._app, self._answers, self._hosts = app, answers, hosts
        self._ready: LruCache[ReadyAnswer] = LruCache(budget // LARGEST_SHARE)

    def __call__(self, environ: Environment, start: Start) -> Iterable[bytes]:
        """Answer from memory, or by the app."""
        started = perf_counter()
        url = _url(environ) if is_known(environ.get("HTTP_HOST", ""), self._hosts) else None
        if url is None:
            return self._app(environ, start)
        ready = self._ready.get(url)
        content = self._answers.content(ready.tag) if ready else None
        if ready is None or content is None:
            return self._app(environ, self._remembering(url, environ, start))
        return _given(ready, content, environ, start, started)

    def _remembering(self, url: str, environ: Environment, start: Start) -> Start:
        def remember(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:
            cached = environ.get(CACHED)
            if cached and status.startswith("200 "):
                lasting = tuple(each for each in headers if each[0].lower() not in _OF_ONE_REQUEST)
                size = len(url) + sum(len(name) + len(value) for name, value in lasting)
                tag, route = cached
                self._ready.put(url, ReadyAnswer(tag, route, lasting), size)
            return start(status, headers, *more)

        return remember


def _given(ready: ReadyAnswer, content: bytes, environ: Environment, start: Start, started: float) -> Iterable[bytes]:
    asked = request_id(environ.get("HTTP_X_REQUEST_ID", ""))
    seconds = perf_counter() - started
    timing = f"cache;desc=hit, total;dur={seconds * 1000:.2f}"
    start("200 OK", [*ready.headers, (REQUEST_ID, asked), ("Server-Timing", timing)])
    record(
        AnswerRecord(
            route=ready.route,
            method="GET",
            status=200,
            seconds=seconds,
            size=len(content),
            request_id=asked,
            traceparent=environ.get("HTTP_TRACEPARENT", ""),
            cache="hit",
        )
    )
    return (content,)


def _url(environ: Environment) -> str | None:
    """Base path, path and query of a request that may be answered here."""
    if environ["REQUEST_METHOD"] != "GET" or not _MORE.isdisjoint(environ):
        return None
    path: str = environ["PATH_INFO"]
    if "." not in path[path.rfind("/") :]:
        return None
    return f"{environ['SCRIPT_NAME']}{path}?{environ['QUERY_STRING']}"
