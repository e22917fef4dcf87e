"""Probes and small answers while the heaviest allowed pictures are asked for: `tests/heavy flood`."""

import json
import statistics
import threading
import time

from tests.benchmarks._timing import line
from tests.load.figures import JSON
from tests.load.wrk import LENGTH, Figures, wrk
from tests.support.serving import Instance, ask, serving

SECONDS = 10
AIM_MS = 50
CONNECTIONS = 16
LARGEST = "view=finished&width_px=8000&height_px=6250"
"""50 million pixels, as many as are allowed, in full colour."""

HEAVIEST = {
    "construction": "three_piece",
    "size": {"body_length": LENGTH},
    "body": {"width": "4"},
    "ornaments": {"item": "bell_25", "count": 24},
    "between": {"item": "spot_10"},
    "border": {"item": "spot_6", "step": "1/2"},
}
"""Some 300 features, of another length each time."""


def probe(server: Instance, path: str, until: threading.Event) -> list[float]:
    """Milliseconds of each answer at a path, 20 a second, each on a connection of its own."""
    taken = []
    while not until.is_set():
        started = time.perf_counter()
        status = ask(server.port, path)[0]
        taken.append((time.perf_counter() - started) * 1000)
        if status != 200:
            raise RuntimeError(f"{path} answered {status}")
        time.sleep(0.05)
    return taken


def main() -> None:
    """Print how long probes and a kept picture take meanwhile; fail if probes take too long."""
    with serving() as server:
        small = json.loads(ask(server.port, "/v1/patterns", "POST", _small(), JSON)[2])["code"]
        for _ in range(8):  # until each worker keeps it
            ask(server.port, f"/v1/patterns/{small}.svg")
        for path in ("/health/live", f"/v1/patterns/{small}.svg"):
            probe(server, path, _soon())
        flood, taken = _flooded(server, ["/health/live", f"/v1/patterns/{small}.svg"])
    line(f"heaviest pictures asked for, {CONNECTIONS} connections", flood.per_second, "a second")
    line("of them made", (flood.requests - flood.refused) / SECONDS, "a second", "the others: 503 with Retry-After")
    worst = {name: statistics.quantiles(times, n=100)[98] for name, times in taken.items()}
    for (name, times), p99 in zip(taken.items(), worst.values(), strict=True):
        line(f"meanwhile {name[:20]}: p50", statistics.median(times), "ms")
        line(f"meanwhile {name[:20]}: p99", p99, "ms", f"aim: below {AIM_MS}")
    if worst["/health/live"] >= AIM_MS:
        raise SystemExit("probes took too long")


def _small() -> bytes:
    return json.dumps({"construction": "open", "size": {"body_length": "24"}}).encode()


def _soon() -> threading.Event:
    event = threading.Event()
    threading.Timer(0.5, event.set).start()
    return event


def _flooded(server: Instance, paths: list[str]) -> tuple[Figures, dict[str, list[float]]]:
    done = threading.Event()
    taken: dict[str, list[float]] = {}

    def watch(path: str) -> None:
        taken[path] = probe(server, path, done)

    watchers = [threading.Thread(target=watch, args=(path,)) for path in paths]
    for each in watchers:
        each.start()
    try:
        flood = wrk(
            server.port, f"/v1/patterns?{LARGEST}", seconds=SECONDS, connections=CONNECTIONS,
            body=json.dumps(HEAVIEST), accept="image/png", shortest=1220,
        )  # fmt: skip
    finally:
        done.set()
        for each in watchers:
            each.join()
    return flood, taken


if __name__ == "__main__":
    main()
