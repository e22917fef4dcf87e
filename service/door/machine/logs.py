"""One JSON line for each answer and for each thing that the server says, on standard output.

A line never holds a path, a query, a body, an address or a header of the caller's but a checked request id and
trace id: a path has the spec in it. Nor does it hold the words of an exception, which may repeat any of these. JSON
escapes line breaks, so no text can forge a line.
"""

import logging
import os
import re
import sys
import traceback
from logging.config import dictConfig
from typing import Any

import orjson
import structlog
from structlog.types import EventDict

from service.door.machine.metrics import LINES_LOST

_STANDARD_OUTPUT = 1
_TRACEPARENT = re.compile(r"([0-9a-f]{2})-([0-9a-f]{32})-([0-9a-f]{16})-[0-9a-f]{2}(-.*)?")
_TELLING = re.compile(r"(Invalid request) from ip=.*|(Error handling request) .*", re.DOTALL)


def trace_of(traceparent: str) -> str | None:
    """The trace id of a `traceparent` header; None where it is not one (W3C Trace Context, section 3.2)."""
    parts = _TRACEPARENT.fullmatch(traceparent)
    if parts is None or parts[1] == "ff" or (parts[1] == "00" and parts[4]):
        return None
    return parts[2] if parts[2].strip("0") and parts[3].strip("0") else None


class LineWriter:
    """Writes each line in one call. A line that cannot be written is counted and lost: no answer waits for a disk."""

    def __init__(self, descriptor: int = _STANDARD_OUTPUT) -> None:
        self._descriptor = descriptor

    def msg(self, line: bytes) -> None:
        """Write one line."""
        try:
            os.write(self._descriptor, line + b"\n")
        except OSError:
            LINES_LOST.inc()

    debug = info = warning = error = critical = msg


class LineHandler(logging.Handler):
    """Takes what the standard library's loggers say."""

    def __init__(self) -> None:
        super().__init__()
        self._writer = LineWriter()

    def emit(self, record: logging.LogRecord) -> None:
        """Write one record as one line."""
        self._writer.msg(self.format(record).encode(errors="replace"))


def _harmless(_logger: object, _method: str, event: EventDict) -> EventDict:
    """Cut off what gunicorn repeats of a request that it cannot read."""
    repeats = _TELLING.match(str(event["event"]))
    return {**event, "event": repeats[1] or repeats[2]} if repeats else event


def _where(_logger: object, _method: str, event: EventDict) -> EventDict:
    """Tell of an exception what it is and where it came from, never its words: they may be a caller's."""
    raised = event.pop("exc_info", None)
    error = sys.exc_info()[1] if raised is True else raised[1] if isinstance(raised, tuple) else raised
    return {**event, "exception": _origin(error)} if isinstance(error, BaseException) else event


def _origin(error: BaseException) -> str:
    """An exception's class and the lines of code that it went through; those of its cause or context before it."""
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    lines = "".join(traceback.format_tb(error.__traceback__))
    return (_origin(before) + "\n" if before else "") + f"{lines}{type(error).__qualname__}"


def _without_none(_logger: object, _method: str, event: EventDict) -> EventDict:
    """Leave out what there is nothing to say of."""
    return {name: value for name, value in event.items() if value is not None}


def _text(_logger: object, _method: str, event: EventDict) -> str:
    return _line(_logger, _method, event).decode()


def _line(_logger: object, _method: str, event: EventDict) -> bytes:
    return orjson.dumps(event, default=str)


_SHARED: list[Any] = [
    structlog.stdlib.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
]

_FORMATTER = {
    "()": structlog.stdlib.ProcessorFormatter,
    "foreign_pre_chain": [
        *_SHARED,
        structlog.stdlib.add_logger_name,
        structlog.stdlib.ExtraAdder(allow=("mistakes", "shop", "digest", "keys", "holder", "until")),
        _harmless,
        _where,
        _without_none,
    ],
    "processors": [structlog.stdlib.ProcessorFormatter.remove_processors_meta, _text],
}

LOG_CONFIGURATION: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": _FORMATTER},
    "handlers": {"line": {"class": "service.door.machine.logs.LineHandler", "formatter": "line", "level": "INFO"}},
    "root": {"level": "WARNING", "handlers": ["line"]},
    "loggers": {
        "gunicorn.error": {"level": "INFO", "handlers": ["line"], "propagate": False},
        "service.keys": {"level": "INFO"},
        "service.reloading": {"level": "INFO"},
    },
}
"""For the standard library's loggers: gunicorn's own, and every library's warnings.

Nothing below INFO is written, whatever a logger's level: there gunicorn tells the path of every request.
"""

answers = structlog.wrap_logger(
    LineWriter(),
    processors=[_without_none, structlog.processors.TimeStamper(fmt="iso", utc=True), _line],
    wrapper_class=structlog.BoundLogger,
).bind()
"""One line for each answer."""


def configure_logs() -> None:
    """Make everything that is said in this process one JSON line."""
    dictConfig(LOG_CONFIGURATION)
