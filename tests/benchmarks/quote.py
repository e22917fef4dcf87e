"""A quote of 100 lines against one pattern, over HTTP; neither has been asked for before."""

import http.client
import json
import statistics
import time
from itertools import count

from tests.benchmarks._timing import line
from tests.benchmarks.http import SPEC, Server

LINES = 100
ROUNDS = 15


def spec(tenths: int) -> dict[str, object]:
    """A strap whose body is so many tenths of a millimetre long."""
    return SPEC | {"size": {"body_length": f"{tenths / 10} mm"}}


def milliseconds(connection: http.client.HTTPConnection, path: str, body: object) -> float:
    """How long the answer takes."""
    content = json.dumps(body)
    started = time.perf_counter()
    connection.request("POST", path, content, {"Content-Type": "application/json"})
    answer = connection.getresponse()
    answer.read()
    taken = (time.perf_counter() - started) * 1000
    if answer.status != 200:
        raise RuntimeError(f"{path} answered {answer.status}")
    return taken


def main() -> None:
    """Print milliseconds of one pattern and of the quotes, and the ratios."""
    server, lengths = Server("service.wsgi:app", 8474), count(4000)
    different = (1, 5, LINES)
    taken: dict[int, list[float]] = {kinds: [] for kinds in (0, *different)}
    try:
        connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
        for _ in range(ROUNDS):
            taken[0].append(milliseconds(connection, "/v1/patterns", spec(next(lengths))))
            for kinds in different:
                straps = [spec(next(lengths)) for _ in range(kinds)]
                lines = [{"ref": str(n), "spec": straps[n % kinds], "quantity": 2} for n in range(LINES)]
                taken[kinds].append(milliseconds(connection, "/v1/quotes", {"lines": lines}))
    finally:
        server.stop()
    one = statistics.median(taken[0])
    line("one pattern, 60 features", one, "ms")
    for kinds in different:
        middle = statistics.median(taken[kinds])
        line(f"a quote of {LINES} lines of {kinds} different straps", middle, "ms")
        line("the same: times one pattern", middle / one, "x", "aim: at most 50")


if __name__ == "__main__":
    main()
