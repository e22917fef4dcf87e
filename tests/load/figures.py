"""Requests a second and memory of one worker, by kind of answer: `tests/heavy load`.

wrk asks over loopback, on the machine's other core; each figure is the middle of three short runs.
"""

import json
import os
import statistics
from collections.abc import Callable
from functools import partial

from tests.benchmarks._timing import line
from tests.benchmarks.http import SPEC
from tests.load.wrk import LENGTH, Figures, wrk
from tests.support.serving import Instance, ask, serving

ROUNDS = 3
SECONDS = 3
JSON = {"Content-Type": "application/json"}
KEPT_AIM = 0.8


ANOTHER = json.dumps(SPEC | {"size": {"body_length": LENGTH}})
"""A strap of about 60 features, of another length each time."""


def main() -> None:
    """Print the figures of every kind of answer."""
    with serving(workers=1, kept_bytes=8_000_000) as server:
        idle = server.memory_mb()
        code = json.loads(ask(server.port, "/v1/patterns", "POST", json.dumps(SPEC).encode(), JSON)[2])["code"]
        _made(server)
        after = server.memory_mb()
        kept = _kept(server, code)
        size = len(ask(server.port, f"/v1/patterns/{code}.svg")[2])
    _compare(kept, size)
    line("memory, one worker and its master, idle", idle, "MB")
    line("memory after the runs of made answers", after, "MB", "with 8 MB for kept answers")


def _made(server: Instance) -> None:
    """Answers that have to be made: another strap each time."""
    kinds = (
        ("JSON", "/v1/patterns", "application/json", 4),
        ("SVG", "/v1/patterns", "image/svg+xml", 4),
        ("PNG 600 pixels wide", "/v1/patterns?width_px=600", "image/png", 4),
        ("PNG at 150 dpi, about 10 megapixels", "/v1/patterns", "image/png", 2),
    )
    for name, path, accept, connections in kinds:
        ask_for = partial(wrk, server.port, path, seconds=SECONDS, connections=connections, body=ANOTHER, accept=accept)
        _tell(f"made: {name}", ask_for)


def _kept(server: Instance, code: str) -> float:
    """Answers from memory. Returns requests a second of the picture."""
    _tell("kept: JSON by POST", lambda: wrk(server.port, "/v1/patterns", seconds=SECONDS, body=json.dumps(SPEC)))
    _tell("kept: PNG by its URL", lambda: wrk(server.port, f"/v1/patterns/{code}.png?width_px=600", seconds=SECONDS))
    _tell("/health/live", lambda: wrk(server.port, "/health/live", seconds=SECONDS))
    return _tell("kept: SVG by its URL", lambda: wrk(server.port, f"/v1/patterns/{code}.svg", seconds=SECONDS))


def _compare(kept: float, size: int) -> None:
    os.environ["STATIC_BYTES"] = str(size)
    with serving("tests.load._static:app", workers=1) as bare:
        static = _tell(f"static Flask reply of {size} bytes", lambda: wrk(bare.port, "/static", seconds=SECONDS))
    line("kept picture: share of the static reply's", kept / static, "x", f"aim: at least {KEPT_AIM}")


def _tell(name: str, run: Callable[[], Figures]) -> float:
    runs = [run() for _ in range(ROUNDS)]
    if any(each.refused or each.socket_errors for each in runs):
        raise RuntimeError(f"{name}: not every answer was good: {runs}")
    middle = statistics.median(each.per_second for each in runs)
    p99 = statistics.median(each.p99_ms for each in runs)
    line(name, middle, "a second", f"p99 {p99:.1f} ms")
    return middle


if __name__ == "__main__":
    main()
