"""Resident memory of a worker over 5,000 mixed requests: after warm-up it must not grow.

The memory for answers made before is set so small that it is full at the end of the warm-up: what it may take is a
limit of its own, and what grows beside it is what is looked for.
"""

import http.client
import json
import random
from pathlib import Path

from tests.benchmarks._timing import line
from tests.benchmarks.http import SPEC, Server

REQUESTS = 5000
WARM_UP = 1000


def resident_mb(pid: int) -> float:
    """Megabytes of resident memory of a process."""
    status = Path(f"/proc/{pid}/status").read_text()
    return next(int(row.split()[1]) / 1024 for row in status.splitlines() if row.startswith("VmRSS"))


def ask(connection: http.client.HTTPConnection, dice: random.Random) -> None:
    """One request: JSON, SVG, a small PNG, or a refusal."""
    spec = {**SPEC, "size": {"body_length": str(dice.randint(14, 60))}}
    spec["ornaments"] = {"item": dice.choice(["bell_25", "bell_30"]), "count": dice.randint(2, 12)}
    accept = dice.choices(["application/json", "image/svg+xml", "image/png"], [6, 3, 1])[0]
    path = "/v1/patterns?width_px=400" if accept == "image/png" else "/v1/patterns"
    connection.request("POST", path, json.dumps(spec), {"Content-Type": "application/json", "Accept": accept})
    answer = connection.getresponse()
    answer.read()
    if answer.status not in (200, 422):
        raise RuntimeError(f"answered {answer.status}")


def main() -> None:
    """Print megabytes after warm-up and at the end."""
    dice = random.Random(7)
    server = Server("service.wsgi:app", 8473, STRAP_KEPT_BYTES=str(4 * 2**20))
    try:
        connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
        for _ in range(WARM_UP):
            ask(connection, dice)
        pid = server.pid_of_worker()
        warm = resident_mb(pid)
        for _ in range(REQUESTS - WARM_UP):
            ask(connection, dice)
        end = resident_mb(pid)
    finally:
        server.stop()
    line(f"resident after {WARM_UP} requests", warm, "MB")
    line(f"resident after {REQUESTS} requests", end, "MB")
    line("growth", end - warm, "MB", "aim: none")


if __name__ == "__main__":
    main()
