"""Mixed requests for a while at about half the peak: memory flat after warm-up, no error: `tests/heavy soak 1800`."""

import http.client
import json
import random
import sys
import time

from tests.benchmarks._timing import line
from tests.benchmarks.http import SPEC
from tests.load.figures import JSON
from tests.support.serving import Instance, serving

WARM_UP = 0.3
"""Share of the time in which memory may grow: until each worker has met every kind of answer and its cache is full."""
PEAK_SECONDS = 4
KEPT_BYTES = 4_000_000
"""Small, so that it is full long before the warm-up ends."""
MOST_GROWTH_MB = 8
FORMS = (("application/json", ""), ("image/svg+xml", ""), ("image/png", "?width_px=600"), ("application/pdf", ""))


class Caller:
    """One caller on one connection, who draws lots for what to ask."""

    def __init__(self, port: int, seed: int) -> None:
        self._dice = random.Random(seed)
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        self.asked = 0

    def ask(self) -> None:
        """One request: mostly a new strap, now and then one again, a refusal, a probe, a broken body."""
        accept, query = self._dice.choices(FORMS, (6, 4, 2, 1))[0]
        body: bytes = json.dumps(self._spec()).encode()
        if self._dice.random() < 0.02:
            body = body[: self._dice.randrange(len(body))]
        self._connection.request("POST", "/v1/patterns" + query, body, JSON | {"Accept": accept})
        answer = self._connection.getresponse()
        answer.read()
        self.asked += 1
        if answer.status not in (200, 400, 422):
            raise RuntimeError(f"answered {answer.status} to {body!r}")

    def _spec(self) -> dict[str, object]:
        dice = self._dice
        length = dice.choice(("20 in", f"{dice.randint(4000, 14000) / 10} mm"))
        row = {"item": dice.choice(("bell_25", "bell_30")), "count": dice.randint(2, 12)}
        return SPEC | {"size": {"body_length": length}, "ornaments": row}


def peak(caller: Caller) -> float:
    """Requests a second, one after the other without a pause."""
    before, started = caller.asked, time.perf_counter()
    while time.perf_counter() - started < PEAK_SECONDS:
        caller.ask()
    return (caller.asked - before) / (time.perf_counter() - started)


def soak(server: Instance, caller: Caller, seconds: float) -> list[tuple[float, float]]:
    """Ask at half the peak for so many seconds. Returns (second, memory in MB) of each fiftieth of the time."""
    pause = 1 / (peak(caller) / 2)
    started = time.monotonic()
    seen, next_look, due = [], 0.0, started
    while (now := time.monotonic()) - started < seconds:
        if now - started >= next_look:
            seen.append((now - started, server.memory_mb()))
            next_look += seconds / 50
        caller.ask()
        due = max(due + pause, time.monotonic() - 1)
        time.sleep(max(0.0, due - time.monotonic()))
    return [*seen, (seconds, server.memory_mb())]


def main() -> None:
    """Print memory after warm-up and at the end; fail where it grew or a request failed."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 1800.0
    with serving(workers=2, kept_bytes=KEPT_BYTES) as server:
        caller = Caller(server.port, 7)
        seen = soak(server, caller, seconds)
    warm = [memory for second, memory in seen if second >= seconds * WARM_UP]
    third = max(1, len(warm) // 3)
    early, late = sum(warm[:third]) / third, sum(warm[-third:]) / third
    line(f"requests in {seconds:.0f} s, none failed", caller.asked, "")
    line("memory at the start", seen[0][1], "MB")
    line("memory after warm-up, first third", early, "MB")
    line("memory at the end, last third", late, "MB")
    line("growth after warm-up", late - early, "MB", f"aim: below {MOST_GROWTH_MB}")
    if late - early >= MOST_GROWTH_MB:
        raise SystemExit("memory grows")


if __name__ == "__main__":
    main()
