"""POST /v1/patterns against a bare Flask route that echoes the same body, on the same server.

Twice: the same strap again, which the service keeps, and another strap each time, which it has to make.
"""

import http.client
import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from itertools import count, repeat
from pathlib import Path

from tests.benchmarks._timing import line

ROOT = Path(__file__).parents[2]
SPEC = {
    "construction": "three_piece",
    "size": {"body_length": "20"},
    "body": {"width": "2 1/2"},
    "ornaments": {"item": "bell_30", "count": 5},
    "between": {"item": "spot_10"},
    "border": {"item": "spot_6"},
}
"""A strap of about 60 features."""
SECONDS = 2.0
ROUNDS = 5


class Server:
    """gunicorn with the service's own configuration, on one worker so that the client has a core."""

    def __init__(self, app: str, port: int, **settings: str) -> None:
        self.port = port
        self._process = subprocess.Popen(
            [sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "--workers", "1",
             "--bind", f"127.0.0.1:{port}", "--access-logfile", "/dev/null", app],
            cwd=ROOT, env={**os.environ, "STRAP_BIND": f"127.0.0.1:{port}", **settings},
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._wait()

    def _wait(self) -> None:
        for _ in range(100):
            try:
                http.client.HTTPConnection("127.0.0.1", self.port, timeout=1).connect()
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise RuntimeError("the server did not start")

    def pid_of_worker(self) -> int:
        """The process that answers."""
        children = Path(f"/proc/{self._process.pid}/task/{self._process.pid}/children").read_text()
        return int(children.split()[0])

    def stop(self) -> None:
        """End the server."""
        self._process.terminate()
        self._process.wait(10)


def same_again() -> Iterator[bytes]:
    """The body of one strap, again and again."""
    return repeat(json.dumps(SPEC).encode())


def another_each_time() -> Iterator[bytes]:
    """Bodies of straps that differ by a tenth of a millimetre in their length, 500 mm and up."""
    for tenths in count(5000):
        yield json.dumps(SPEC | {"size": {"body_length": f"{tenths / 10} mm"}}).encode()


def per_second(port: int, path: str, bodies: Iterator[bytes]) -> float:
    """Requests a second over one kept-alive connection."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    done, started = 0, time.perf_counter()
    while time.perf_counter() - started < SECONDS:
        connection.request("POST", path, next(bodies), {"Content-Type": "application/json"})
        answer = connection.getresponse()
        answer.read()
        if answer.status != 200:
            raise RuntimeError(f"{path} answered {answer.status}")
        done += 1
    return done / (time.perf_counter() - started)


def main() -> None:
    """Print requests a second of each, and the ratios."""
    ours, bare = Server("service.wsgi:app", 8471), Server("tests.benchmarks._echo:app", 8472)
    try:
        other = another_each_time()
        rounds = [
            (
                per_second(ours.port, "/v1/patterns", same_again()),
                per_second(ours.port, "/v1/patterns", other),
                per_second(bare.port, "/echo", same_again()),
            )
            for _ in range(ROUNDS)
        ]
    finally:
        ours.stop()
        bare.stop()
    line("POST /v1/patterns, 60 features, JSON: same strap again", statistics.median(r[0] for r in rounds), "a second")
    line("the same: another strap each time", statistics.median(r[1] for r in rounds), "a second")
    line("a bare Flask route that echoes the body", statistics.median(r[2] for r in rounds), "a second")
    share = statistics.median(same / bare for same, _, bare in rounds)
    line("same strap again: share of the bare route's", share, "x", "aim: at least 0.3")
    share = statistics.median(another / bare for _, another, bare in rounds)
    line("another strap each time: share of the bare route's", share, "x", "aim: at least 0.3")


if __name__ == "__main__":
    main()
