"""How gunicorn runs the service, whoever starts it: deploy/serve, the image or a unit file.

A hang-up (SIGHUP) makes gunicorn read this file again, with all that is imported still in its place.
"""

import atexit
import ctypes
import gc
import json
import os
import resource
import shutil
import socket
import sys
from pathlib import Path
from typing import Any

import gunicorn.util

from service.server.counts_folder import make_folder, sweep_folders
from service.server.listening import require_place
from service.settings import SettingsError, settings_at_start

_is_reload = "prometheus_client" in sys.modules

try:
    _settings = settings_at_start()
    if not _is_reload:
        require_place(_settings.bind)
except SettingsError as error:
    print(error, file=sys.stderr)  # noqa: T201 # whoever starts a process by hand reads it here
    raise SystemExit(os.EX_CONFIG) from None

bind = _settings.bind

worker_class = "service.server.worker.PatientWorker"
workers = _settings.workers
threads = _settings.threads
preload_app = True

# A heavy picture may hold the interpreter for this long before a probe's thread gets it (Python's own: 5 ms).
sys.setswitchinterval(0.001)

# A strap is made of some thousands of objects, with hardly a cycle among them. To look for cycles after every 700 that
# are left, as Python does of its own, takes a twentieth of the time of a request.
gc.set_threshold(20_000)

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

# Every connection is a file, and 1024 of them are all that many systems give unless asked.
_soft, _hard = resource.getrlimit(resource.RLIMIT_NOFILE)
_wanted = _settings.connections + 200
if _soft != resource.RLIM_INFINITY and _soft < _wanted:
    _most = _wanted if _hard == resource.RLIM_INFINITY else min(_wanted, _hard)
    resource.setrlimit(resource.RLIMIT_NOFILE, (max(_soft, _most), _hard))

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

    At a reload the client is there, and the workers' files are in use. What was killed before left its folder behind.
    """
    if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
        sweep_folders(_memory)
        made, _lock = make_folder(_memory)  # the lock is let go of by the end of the process alone
        os.environ["PROMETHEUS_MULTIPROC_DIR"] = str(made)
        atexit.register(_remove_metrics_folder, os.getpid())
    folder = Path(os.environ["PROMETHEUS_MULTIPROC_DIR"])
    folder.mkdir(parents=True, exist_ok=True)
    for left_over in (*folder.glob("*.db"), *folder.glob("rates.sqlite*")):
        left_over.unlink()


def _remove_metrics_folder(master: int) -> None:
    """Leave no folder behind, however the master ends; its workers come by here as well."""
    if os.getpid() == master:
        shutil.rmtree(os.environ["PROMETHEUS_MULTIPROC_DIR"], ignore_errors=True)


if not _is_reload:
    _make_metrics_folder()

from service.door.machine.logs import LOG_CONFIGURATION  # noqa: E402 # imports the metrics: after their folder is named

accesslog = None
logconfig_dict = LOG_CONFIGURATION


def _write_problem(client: socket.socket, status: int, reason: str, _detail: str) -> None:
    """Answer what gunicorn itself cannot read as a problem (RFC 9457): its own page repeats what was sent, as HTML."""
    problem = {"type": "about:blank", "title": reason, "status": status, "code": f"http_{status}"}
    detail = "the request's head did not come in time" if status == 408 else "the request cannot be read"
    content = json.dumps(problem | {"detail": detail}).encode()
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
    from service.door.machine.metrics import fold  # noqa: PLC0415 # its folder has to be named first

    fold(worker.pid)
