"""How gunicorn runs the service, whoever starts it: deploy/serve, the image or a unit file."""

import ctypes
import gc
import json
import os
import socket
import sys
import tempfile
from pathlib import Path
from typing import Any

import gunicorn.util

from service.settings import SettingsError, read_settings

try:
    _settings = read_settings()
except SettingsError as error:
    raise SystemExit(str(error)) from None

bind = _settings.bind

worker_class = "gthread"
workers = _settings.workers
threads = _settings.threads
preload_app = True

# A heavy picture may hold the interpreter for this long before a probe's thread gets it (Python's own: 5 ms).
sys.setswitchinterval(0.001)

# Large pictures take tens of megabytes for a moment. Left alone, glibc keeps them for each thread that ever made
# one; told so (mallopt(3): M_ARENA_MAX, M_MMAP_THRESHOLD), it gives them back.
_mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
if _mallopt is not None:
    _mallopt(-8, 2)
    _mallopt(-3, 1_048_576)

timeout = _settings.timeout
graceful_timeout = _settings.grace
keepalive = _settings.keep_alive
worker_connections = _settings.connections

# The app itself says 414, as a problem; gunicorn's own limit stands a little behind it.
limit_request_line = min(8190, _settings.url_max + 1000)
limit_request_fields = _settings.head_fields_max
limit_request_field_size = _settings.head_field_max

# Nothing here is steered while it runs, so there is no socket to guard.
control_socket_disable = True

# The workers' heartbeat is a file: on a slow disk a write to it can stall a healthy worker.
_memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
worker_tmp_dir = _memory


def _make_metrics_folder() -> None:
    """A clean folder for the workers' counts, named before prometheus_client is imported.

    When a hang-up makes gunicorn read this file again, the client is there and the workers' files are in use.
    """
    if "prometheus_client" in sys.modules:
        return
    if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
        os.environ["PROMETHEUS_MULTIPROC_DIR"] = tempfile.mkdtemp(prefix="strap-metrics-", dir=_memory)
    folder = Path(os.environ["PROMETHEUS_MULTIPROC_DIR"])
    folder.mkdir(parents=True, exist_ok=True)
    for left_over in folder.glob("*.db"):
        left_over.unlink()


_make_metrics_folder()

from service.http.logs import LOG_CONFIGURATION  # noqa: E402 # imports the metrics: after their folder is named

accesslog = None
logconfig_dict = LOG_CONFIGURATION


def _write_problem(client: socket.socket, status: int, reason: str, _detail: str) -> None:
    """Answer what gunicorn itself cannot read as a problem (RFC 9457): its own page repeats what was sent, as HTML."""
    problem = {"type": "about:blank", "title": reason, "status": status, "code": f"http_{status}"}
    content = json.dumps(problem | {"detail": "the request cannot be read"}).encode()
    head = (
        f"HTTP/1.1 {status} {reason}\r\nConnection: close\r\nContent-Type: application/problem+json\r\n"
        f"Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nContent-Length: {len(content)}\r\n\r\n"
    )
    gunicorn.util.write_nonblock(client, head.encode() + content)


gunicorn.util.write_error = _write_problem


def when_ready(_server: Any) -> None:
    """Leave what was loaded before the workers begin out of all collections: they share its memory, and save time."""
    gc.collect()
    gc.freeze()


def child_exit(_server: Any, worker: Any) -> None:
    """Take a worker that has ended out of what is told of the living."""
    from prometheus_client.multiprocess import mark_process_dead  # noqa: PLC0415 # its folder has to be named first

    mark_process_dead(worker.pid)


def on_exit(_server: Any) -> None:
    """Leave no folder behind."""
    folder = Path(os.environ["PROMETHEUS_MULTIPROC_DIR"])
    if folder.name.startswith("strap-metrics-"):
        for left_over in folder.glob("*.db"):
            left_over.unlink()
        folder.rmdir()
