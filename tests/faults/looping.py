"""An ordinary caller beside three who loop on permitted heavy work: `tests/heavy looping`.

Each caller has an address of its own (all of 127.0.0.0/8 is loopback: RFC 1122, section 3.2.1.3). A looper keeps eight
requests for the dearest pictures going, of both lanes, and asks again at once where it is refused; the ordinary caller
asks for another strap four times a second.
"""

import http.client
import json
import statistics
import threading
import time
from collections.abc import Sequence
from itertools import count

from tests.benchmarks._timing import line
from tests.load.figures import JSON
from tests.load.flood import HEAVIEST
from tests.support.serving import Instance, serving

SECONDS = 20
LOOPERS, AT_ONCE = 3, 8
AIM_MS = 1000
ORDINARY = {"construction": "open", "size": {"body_length": "24"}}
SMALL = ("/v1/patterns?view=finished&width_px=1200", "image/png")
LARGE = ("/v1/patterns?view=finished&width_px=4000", "image/png")
_lengths = count(1)


def another(spec: dict[str, object], first_mm: int) -> bytes:
    """The spec with a length that nobody asked for before."""
    length = f"{first_mm + next(_lengths) / 100:.2f} mm"
    return json.dumps(spec | {"size": {"body_length": length}}).encode()


def asked(server: Instance, caller: int, target: tuple[str, str], body: bytes) -> int:
    """The status that the caller 127.0.0.N is answered."""
    path, form = target
    connection = http.client.HTTPConnection("127.0.0.1", server.port, 60, source_address=(f"127.0.0.{caller}", 0))
    try:
        connection.request("POST", path, body, JSON | {"Accept": form})
        answer = connection.getresponse()
        answer.read()
        return answer.status
    finally:
        connection.close()


def loop(server: Instance, caller: int, target: tuple[str, str], done: threading.Event, told: list[int]) -> None:
    """Ask for heavy pictures until all is done."""
    while not done.is_set():
        told.append(asked(server, caller, target, another(HEAVIEST, 1220)))
        if told[-1] == 503:
            time.sleep(0.02)  # or the loopers' own refusals would take all of this machine


def ordinary(server: Instance) -> tuple[list[float], int]:
    """Milliseconds of each answer to the ordinary caller, and how many were refused."""
    taken, refused, until = [], 0, time.monotonic() + SECONDS
    while time.monotonic() < until:
        started = time.perf_counter()
        refused += asked(server, 2, ("/v1/patterns", "image/svg+xml"), another(ORDINARY, 500)) != 200
        taken.append((time.perf_counter() - started) * 1000)
        time.sleep(0.25)
    return taken, refused


def beside_loopers(server: Instance) -> tuple[list[float], int, list[int]]:
    """The same beside the loopers, and what these were answered."""
    done, told = threading.Event(), []
    loopers = [
        threading.Thread(target=loop, args=(server, 10 + n // AT_ONCE, (SMALL, LARGE)[n % 2], done, told))
        for n in range(LOOPERS * AT_ONCE)
    ]
    for each in loopers:
        each.start()
    time.sleep(2)
    try:
        return *ordinary(server), told
    finally:
        done.set()
        for each in loopers:
            each.join()


def p99(taken: Sequence[float]) -> float:
    """The slowest in a hundred."""
    return statistics.quantiles(taken, n=100)[98]


def main() -> None:
    """Print the figures; fail where the ordinary caller is refused or waits too long."""
    with serving() as server:
        ordinary_alone, _ = ordinary(server)
        beside, refused, told = beside_loopers(server)
    for name, taken in (("alone", ordinary_alone), (f"beside {LOOPERS} loopers", beside)):
        line(f"an ordinary caller {name}: p50", statistics.median(taken), "ms")
        line(f"an ordinary caller {name}: p99", p99(taken), "ms", f"aim: below {AIM_MS}")
    line("refused to the ordinary caller", refused, f"of {len(beside)}", "aim: none")
    line("made for the loopers", told.count(200), f"of {len(told)}", "the others: 503 with Retry-After")
    if refused or p99(beside) >= AIM_MS:
        raise SystemExit("loopers kept an ordinary caller waiting")


if __name__ == "__main__":
    main()
