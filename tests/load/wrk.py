"""wrk, the load generator, as the trials use it: bounded in time, on loopback."""

import re
import subprocess
import tempfile
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from tests.support.serving import program

_UNITS = {"us": 0.001, "ms": 1.0, "s": 1000.0, "m": 60_000.0}

LENGTH = "LENGTH"
"""Stands in a body for a length in millimetres, another one in each request."""

_RANGE = 9000
_SCRIPT = """
local body, n = [==[{body}]==], {first}
request = function()
  n = n + 1
  local length = {shortest} + (n % {range}) / 10 + math.floor(n / {range}) / 1000
  return wrk.format({method!r}, {path!r}, {{{headers}}}, (body:gsub("LENGTH", string.format("%.3f mm", length))))
end
"""
_numbers = count(0, 1_000_000)


@dataclass(frozen=True, slots=True)
class Figures:
    """What wrk saw. Latencies in milliseconds; `refused` are answers outside 2xx and 3xx."""

    per_second: float
    p50_ms: float
    p99_ms: float
    refused: int
    socket_errors: int
    requests: int


def wrk(
    port: int,
    path: str,
    *,
    seconds: float = 5,
    connections: int = 4,
    body: str = "",
    accept: str | None = None,
    if_none_match: str = "",
    shortest: int = 500,
) -> Figures:
    """Ask for a path again and again; with a body, by POST.

    `LENGTH` in the body becomes another length each time, from `shortest` to 900 mm more, and never twice.
    """
    headers = ['["Content-Type"]="application/json"'] if body else []
    headers += [f'["Accept"]="{accept}"'] if accept else []
    headers += [f'["If-None-Match"]=[=[{if_none_match}]=]'] if if_none_match else []
    script = _SCRIPT.format(
        body=body,
        first=next(_numbers),
        range=_RANGE,
        shortest=shortest,
        method="POST" if body else "GET",
        path=path,
        headers=", ".join(headers),
    )
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "requests.lua"
        file.write_text(script, encoding="utf-8")
        command = [
            program("wrk"), "--latency", "-t1", f"-c{connections}", f"-d{seconds}s", "--timeout", "20s",
            "-s", str(file), f"http://127.0.0.1:{port}",
        ]  # fmt: skip
        done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=seconds + 60)
    return _read(done.stdout)


def _read(said: str) -> Figures:
    def number(pattern: str, default: str | None = None) -> str:
        found = re.search(pattern, said)
        if found is None and default is None:
            raise RuntimeError(f"wrk did not say {pattern}:\n{said}")
        return found[1] if found else str(default)

    def milliseconds(percent: str) -> float:
        value, unit = re.search(rf"{percent}%\s+([0-9.]+)(us|ms|s|m)", said).groups()
        return float(value) * _UNITS[unit]

    errors = re.search(r"Socket errors: connect (\d+), read (\d+), write (\d+), timeout (\d+)", said)
    return Figures(
        per_second=float(number(r"Requests/sec:\s+([0-9.]+)")),
        p50_ms=milliseconds("50"),
        p99_ms=milliseconds("99"),
        refused=int(number(r"Non-2xx or 3xx responses: (\d+)", "0")),
        socket_errors=sum(map(int, errors.groups())) if errors else 0,
        requests=int(number(r"(\d+) requests in")),
    )
