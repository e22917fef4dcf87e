"""A hundred callers who never finish their request, at either proxy and with none: `tests/heavy half_open`."""

import socket
import statistics
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager

from tests.benchmarks._timing import line
from tests.support.proxied import haproxy, nginx
from tests.support.serving import Instance, ask

HALF_OPEN = 100
SECONDS = 6
AIM_MS = 50
POST = b"POST /v1/patterns HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
BEGINNINGS = (
    b"",
    b"GET /health/live HTTP/1.1\r\nHost: a\r\nX-Slow: ",
    POST + b"Content-Length: 500\r\n\r\n{",
    POST + b"Transfer-Encoding: chunked\r\n\r\n1f4\r\n{",
)
Proxy = Callable[[Sequence[Instance]], AbstractContextManager[int]]


def times(port: int, path: str, seconds: float) -> list[float]:
    """Milliseconds of answers, one after the other, each on a connection of its own."""
    taken, until = [], time.monotonic() + seconds
    while time.monotonic() < until:
        started = time.perf_counter()
        if ask(port, path)[0] != 200:
            raise RuntimeError(f"{path} was not answered")
        taken.append((time.perf_counter() - started) * 1000)
        time.sleep(0.02)
    return taken


def drip(held: list[socket.socket], done: threading.Event) -> None:
    """A byte a second on every connection that takes one."""
    while not done.wait(1):
        for each in held:
            try:
                each.send(b"a")
            except OSError:
                continue


def tried(name: str, proxy: Proxy) -> float:
    """The slowest answer in a hundred, in milliseconds, while the half-open connections are held."""
    instances = [Instance(workers=1) for _ in range(2)]
    try:
        with proxy(instances) as port:
            time.sleep(3)
            quiet = times(port, "/health/live", 2)
            held = [socket.create_connection(("127.0.0.1", port), timeout=5) for _ in range(HALF_OPEN)]
            for n, each in enumerate(held):
                each.sendall(BEGINNINGS[n % len(BEGINNINGS)])
            done = threading.Event()
            dripping = threading.Thread(target=drip, args=(held, done))
            dripping.start()
            taken = times(port, "/health/live", SECONDS)
            done.set()
            dripping.join()
            for each in held:
                each.close()
    finally:
        for each in instances:
            each.stop()
    line(f"{name}: p50 before", statistics.median(quiet), "ms")
    line(f"{name}: p50 with {HALF_OPEN} half-open", statistics.median(taken), "ms")
    p99 = statistics.quantiles(taken, n=100)[98]
    line(f"{name}: p99 with {HALF_OPEN} half-open", p99, "ms", f"aim: below {AIM_MS}")
    return p99


@contextmanager
def bare(instances: Sequence[Instance]) -> Iterator[int]:
    """No proxy at all; gives the port of the first instance."""
    yield instances[0].port


def main() -> None:
    """Print the figures of both proxies and of none; fail where one is too slow."""
    worst = [tried("no proxy", bare), tried("HAProxy", haproxy), tried("nginx", nginx)]
    if max(worst) >= AIM_MS:
        raise SystemExit("others waited for the half-open")


if __name__ == "__main__":
    main()
