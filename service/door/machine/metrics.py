"""What is counted, for Prometheus. `PROMETHEUS_MULTIPROC_DIR` has to be set before this is imported.

Labels are of our own making only: names of routes, codes of problems and faults. Nothing of a caller's.
"""

import os
import struct
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from fcntl import LOCK_EX, LOCK_NB, LOCK_SH, flock
from pathlib import Path

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest
from prometheus_client.mmap_dict import MmapedDict
from prometheus_client.multiprocess import MultiProcessCollector, mark_process_dead

REGISTRY = CollectorRegistry()

_SECONDS = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5)

REQUESTS = Counter("strap_requests", "Requests answered", ("route", "method", "status"), registry=REGISTRY)
REQUEST_SECONDS = Histogram(
    "strap_request_seconds",
    "Time from a request's head to its answer's",
    ("route",),
    buckets=_SECONDS,
    registry=REGISTRY,
)
STAGE_SECONDS = Histogram(
    "strap_stage_seconds", "Time of one stage of a request", ("stage",), buckets=_SECONDS, registry=REGISTRY
)
RUNNING = Gauge(
    "strap_renders_running", "Answers being made", ("lane",), multiprocess_mode="livesum", registry=REGISTRY
)
WAITING = Gauge(
    "strap_renders_waiting", "Answers waiting for their turn", ("lane",), multiprocess_mode="livesum", registry=REGISTRY
)
CACHE = Counter("strap_cache_lookups", "Answers looked up before they are made", ("result",), registry=REGISTRY)
HELD = Gauge("strap_cache_bytes", "Memory that kept answers take", multiprocess_mode="livesum", registry=REGISTRY)
REFUSALS = Counter("strap_refusals", "Problems answered", ("code",), registry=REGISTRY)
FAULTS = Counter("strap_faults", "Why straps cannot be made", ("code",), registry=REGISTRY)
LINES_LOST = Counter("strap_log_lines_lost", "Log lines that could not be written", registry=REGISTRY)
BUILD = Gauge(
    "strap_shop", "1, with the beginning of the shop file's digest", ("digest",),
    multiprocess_mode="livemax", registry=REGISTRY,
)  # fmt: skip

RELOAD_REFUSED = Gauge(
    "strap_reload_refused", "1 while an older shop and older keys are in force, since the last reload was refused",
    multiprocess_mode="livemax", registry=REGISTRY,
)  # fmt: skip

KEYS_REFUSED = Gauge(
    "strap_keys_refused", "1 while older keys are in force, since their file has changed and cannot be used",
    multiprocess_mode="livemax", registry=REGISTRY,
)  # fmt: skip

_FOLDER = "PROMETHEUS_MULTIPROC_DIR"


def exposition() -> bytes:
    """Everything counted, of all processes together, in Prometheus's text format."""
    if _FOLDER not in os.environ:
        return generate_latest(REGISTRY)
    together = CollectorRegistry()
    MultiProcessCollector(together)  # type: ignore[no-untyped-call] # prometheus-client has not typed it
    with _locked(Path(os.environ[_FOLDER]), LOCK_SH):
        return generate_latest(together)


def fold(pid: int) -> None:
    """Add up the counts of a process that has ended with those of all ended ones: each reload ends every worker.

    While somebody reads, or where a file cannot be read, they stay where they are: the server that calls this goes on.
    """
    folder = Path(os.environ[_FOLDER])
    with suppress(OSError, RuntimeError, ValueError, struct.error):
        mark_process_dead(pid)  # type: ignore[no-untyped-call] # prometheus-client has not typed it
        with _locked(folder, LOCK_EX | LOCK_NB):
            for kind in ("counter", "histogram"):
                _add_up(folder / f"{kind}_{pid}.db", folder / f"{kind}_ended.db")


@contextmanager
def _locked(folder: Path, how: int) -> Iterator[None]:
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        flock(descriptor, how)
        yield
    finally:
        os.close(descriptor)


def _add_up(file: Path, total: Path) -> None:
    if not file.exists():
        return
    added = list(MmapedDict.read_all_values_from_file(str(file)))  # type: ignore[no-untyped-call] # as below
    counts = MmapedDict(str(total))  # type: ignore[no-untyped-call] # prometheus-client has not typed it
    for key, value, _, _ in added:
        counts.write_value(key, counts.read_value(key)[0] + value, 0.0)  # type: ignore[no-untyped-call]
    counts.close()  # type: ignore[no-untyped-call]
    file.unlink()
