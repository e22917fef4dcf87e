"""What is counted, for Prometheus. `PROMETHEUS_MULTIPROC_DIR` has to be set before this is imported.

Labels are of our own making only: names of routes, codes of problems and faults. Nothing of a caller's.
"""

import os

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest
from prometheus_client.multiprocess import MultiProcessCollector

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


def exposition() -> bytes:
    """Everything counted, of all processes together, in Prometheus's text format."""
    if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
        return generate_latest(REGISTRY)
    together = CollectorRegistry()
    MultiProcessCollector(together)  # type: ignore[no-untyped-call] # prometheus-client has not typed it
    return generate_latest(together)
