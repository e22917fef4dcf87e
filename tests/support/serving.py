"""The service as it is served: gunicorn with its own configuration, on loopback, stopped when done with."""

import http.client
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]


def free_port() -> int:
    """A port of loopback that nobody listens at."""
    with socket.socket() as held:
        held.bind(("127.0.0.1", 0))
        return held.getsockname()[1]


def program(name: str) -> str:
    """The path of a program. Raises `RuntimeError` with how to get it."""
    path = shutil.which(name) or shutil.which(name, path="/usr/sbin:/sbin")
    if path is None:
        raise RuntimeError(f"{name} is not here: apt-get install {name}")
    return path


class Instance:
    """One server of the service: a gunicorn master and its workers. What it says goes to the end of `log`."""

    def __init__(
        self, app: str = "service.wsgi:app", port: int | None = None, log: Path | None = None, **settings: object
    ) -> None:
        self.port = port or free_port()
        self._app, self._log = app, log or Path(os.devnull)
        self.start(**settings)

    def start(self, **settings: object) -> None:
        """Start it, at the same port as before, with the variables `STRAP_…` of these settings."""
        given = {f"STRAP_{name.upper()}": str(value) for name, value in settings.items()}
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("STRAP_", "PROMETHEUS_"))}
        with self._log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", self._app],
                cwd=ROOT, env=kept | given | {"STRAP_BIND": f"127.0.0.1:{self.port}"},
                stdout=log, stderr=log, start_new_session=True,
            )  # fmt: skip
        wait_for(self.port)
        ask(self.port, "/health/live")  # the port listens before there is a worker

    @property
    def workers(self) -> list[int]:
        """The processes that answer."""
        pid = self.process.pid
        return [int(each) for each in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]

    def core_seconds(self) -> float:
        """Processor time that the workers have used so far."""
        return sum(_core_seconds(pid) for pid in self.workers)

    def memory_mb(self) -> float:
        """Resident memory of the master and its workers, with what they share counted once (PSS)."""
        return sum(_pss_mb(pid) for pid in (self.process.pid, *self.workers))

    def stop(self) -> None:
        """Ask it to end, and wait until it has."""
        self.process.terminate()
        self.process.wait(120)

    def kill(self) -> None:
        """End the master and its workers at once, without a word to them."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(60)


@contextmanager
def serving(app: str = "service.wsgi:app", **settings: object) -> Iterator[Instance]:
    """One server while something is done with it."""
    instance = Instance(app, **settings)
    try:
        yield instance
    finally:
        instance.stop()


def wait_for(port: int, seconds: float = 120) -> None:
    """Wait until somebody listens at a port. Raises `RuntimeError` if nobody does."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    raise RuntimeError(f"nobody listens at port {port}")


def ask(
    port: int, path: str, method: str = "GET", body: bytes | None = None, headers: Mapping[str, str] | None = None
) -> tuple[int, dict[str, str], bytes]:
    """Status, headers (names in lower case) and content of one answer, on a connection of its own."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    try:
        connection.request(method, path, body, dict(headers or {}))
        answer = connection.getresponse()
        return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
    finally:
        connection.close()


def _core_seconds(pid: int) -> float:
    """User and system time, fields 14 and 15 of proc(5)'s stat."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _pss_mb(pid: int) -> float:
    rows = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    return next(int(row.split()[1]) / 1024 for row in rows if row.startswith("Pss:"))
