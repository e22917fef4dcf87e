"""Requests a second and memory of one worker, by kind of answer: `tests/heavy load`.

wrk asks over loopback, on the machine's other core. `a second` is what came by the clock; `a core-second` is
requests by the processor time that the worker used, which a machine busy with other things changes little.
Each figure is the middle of a few short runs.
"""

import json
import os
import statistics
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from tests.benchmarks._timing import line
from tests.benchmarks.http import SPEC
from tests.load.wrk import LENGTH, Figures, wrk
from tests.support.serving import Instance, ask, serving

ROUNDS = 3
SECONDS = 4
JSON = {"Content-Type": "application/json"}
KEPT_AIM = 0.8
PATIENT = {"wait_ms": 20_000, "kept_bytes": 8_000_000}
ANOTHER = json.dumps(SPEC | {"size": {"body_length": LENGTH}})
"""A strap of about 60 features, of another length each time."""
MADE = (
    ("JSON", "", "application/json", 4),
    ("SVG", "", "image/svg+xml", 4),
    ("SVG, finished look", "?view=finished", "image/svg+xml", 4),
    ("PNG 600 pixels wide", "?width_px=600", "image/png", 4),
    ("PNG 2400 pixels wide", "?width_px=2400", "image/png", 2),
    ("PDF", "", "application/pdf", 2),
)


@dataclass(frozen=True, slots=True)
class Kind:
    """What one kind of answer costs."""

    per_second: float
    per_core_second: float
    p99_ms: float


def measured(server: Instance, ask_for: Callable[[], Figures]) -> Kind:
    """The middle of a few runs. Raises `RuntimeError` where an answer was not good."""
    runs = []
    for _ in range(ROUNDS):
        before = server.core_seconds()
        figures = ask_for()
        if figures.refused or figures.socket_errors:
            raise RuntimeError(f"not every answer was good: {figures}")
        per_core = figures.requests / (server.core_seconds() - before)
        runs.append(Kind(figures.per_second, per_core, figures.p99_ms))
    return Kind(
        statistics.median(each.per_second for each in runs),
        statistics.median(each.per_core_second for each in runs),
        statistics.median(each.p99_ms for each in runs),
    )


def tell(name: str, kind: Kind) -> None:
    """Print the figures of one kind of answer."""
    by_clock = f"{kind.per_second:.0f} a second, p99 {kind.p99_ms:.1f} ms"
    line(name, kind.per_core_second, "a core-second", by_clock)


def main() -> None:
    """Print the figures of every kind of answer."""
    with serving(workers=1, **PATIENT) as server:
        idle = server.memory_mb()
        for name, query, accept, connections in MADE:
            ask_for = partial(wrk, server.port, "/v1/patterns" + query, connections=connections, accept=accept)
            tell(f"made: {name}", measured(server, partial(ask_for, seconds=SECONDS, body=ANOTHER)))
        after = server.memory_mb()
        kept, size = _kept(server)
    _compare(kept, size)
    line("memory, one worker and its master, idle", idle, "MB")
    line("memory after the made answers", after, "MB", f"with {PATIENT['kept_bytes'] // 1_000_000} MB for kept answers")


def _kept(server: Instance) -> tuple[Kind, int]:
    """Answers from memory. Returns the picture's figures and its size in bytes."""
    code = json.loads(ask(server.port, "/v1/patterns", "POST", json.dumps(SPEC).encode(), JSON)[2])["code"]
    _, headers, picture = ask(server.port, f"/v1/patterns/{code}.svg")
    kinds = {
        "kept: JSON by POST": {"path": "/v1/patterns", "body": json.dumps(SPEC)},
        "kept: PNG by its URL": {"path": f"/v1/patterns/{code}.png?width_px=600"},
        "304: SVG by its URL": {"path": f"/v1/patterns/{code}.svg", "if_none_match": headers["etag"]},
        "/health/live": {"path": "/health/live"},
        "kept: SVG by its URL": {"path": f"/v1/patterns/{code}.svg"},
    }
    for name, asked in kinds.items():
        kind = measured(server, partial(wrk, server.port, seconds=SECONDS, **asked))
        tell(name, kind)
    return kind, len(picture)


def _compare(kept: Kind, size: int) -> None:
    os.environ["STATIC_BYTES"] = str(size)
    with serving("tests.load._static:app", workers=1) as bare:
        static = measured(bare, partial(wrk, bare.port, "/static", seconds=SECONDS))
    tell(f"static Flask reply of {size} bytes", static)
    share = kept.per_core_second / static.per_core_second
    line("kept picture: share of the static reply's", share, "x", f"aim: at least {KEPT_AIM}")


if __name__ == "__main__":
    main()
