"""How gunicorn runs the service, whoever starts it: deploy/serve, the image or a unit file.

A hang-up (SIGHUP) makes gunicorn read this file again, with all that is imported still in its place.
"""

import atexit
import ctypes
import gc
import json
import os
import shutil
import socket
import sys
import tempfile
from pathlib import Path
from typing import Any

import gunicorn.util

from service.settings import SettingsError, settings_at_start

try:
    _settings = settings_at_start()
except SettingsError as error:
    print(error, file=sys.stderr)  # noqa: T201 # whoever starts a process by hand reads it here
    raise SystemExit(os.EX_CONFIG) from None

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

# No header says who asks, by which scheme or at which prefix: the app alone reads X-Forwarded-For, and only as
# STRAP_PROXIES allows. Left alone, gunicorn believes SCRIPT_NAME and others of whoever asks from this machine.
forwarded_allow_ips = ""
forwarder_headers = ""
secure_scheme_headers: dict[str, str] = {}
header_map = "drop"

# Nothing here is steered while it runs, so there is no socket to guard.
control_socket_disable = True

# The workers' heartbeat is a file: on a slow disk a write to it can stall a healthy worker.
_memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
worker_tmp_dir = _memory


def _make_metrics_folder() -> None:
    """A clean folder for the workers' counts, named before prometheus_client is imported.

    At a reload the client is there, and the workers' files are in use.
    """
    if "prometheus_client" in sys.modules:
        return
    if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
        os.environ["PROMETHEUS_MULTIPROC_DIR"] = tempfile.mkdtemp(prefix="strap-metrics-", dir=_memory)
        atexit.register(_remove_metrics_folder, os.getpid())
    folder = Path(os.environ["PROMETHEUS_MULTIPROC_DIR"])
    folder.mkdir(parents=True, exist_ok=True)
    for left_over in folder.glob("*.db"):
        left_over.unlink()


def _remove_metrics_folder(master: int) -> None:
    """Leave no folder behind, however the master ends; its workers come by here as well."""
    if os.getpid() == master:
        shutil.rmtree(os.environ["PROMETHEUS_MULTIPROC_DIR"], ignore_errors=True)


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


def on_reload(server: Any) -> None:
    """Give the workers that are about to begin the shop and the keys as they are now."""
    from service.reloading import reloaded  # noqa: PLC0415 # loads the whole service: the app does that first

    gc.unfreeze()
    server.app.callable = reloaded(server.app.callable)
    gc.collect()
    gc.freeze()


def child_exit(_server: Any, worker: Any) -> None:
    """Take a worker that has ended out of what is told of the living."""
    from service.http.metrics import fold  # noqa: PLC0415 # its folder has to be named first

    fold(worker.pid)
