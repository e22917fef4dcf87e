"""Hostile requests by the hundred thousand: `tests/heavy hostile [N [SEED]] [--jobs J]`.

None may be answered with 500, take longer than it may, or be given a remedy that is then refused. What fails is
printed with its seed: `tests/heavy hostile 1 SEED` repeats it.
"""

import argparse
import math
import os
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from multiprocessing import get_context
from typing import Any

from service.desk.pipeline import read
from service.shop_file import demo_shop
from service.strap.solve import solve
from tests.attacks.hostile_requests import Goods, goods_of, request_of
from tests.attacks.hostile_specs import EXAMPLES
from tests.attacks.judging import Request, Verdict, a_client, judge

MOST = 200_000
SEED = 1_000_000
CHUNK = 250
PROGRESS = 10_000
_FINE = math.log(1.02)
"""Times are counted in steps of 2 %, so that memory does not grow with their number."""


class Tally:
    """What came of many requests, in memory that does not grow with them."""

    def __init__(self) -> None:
        self.statuses: Counter[tuple[str, int]] = Counter()
        self.times: defaultdict[tuple[str, str], Counter[int]] = defaultdict(Counter)
        self.slowest: dict[tuple[str, str], tuple[float, int]] = {}
        self.drawn: defaultdict[str, list[float]] = defaultdict(_pair)
        self.remedies: Counter[str] = Counter()
        self.failures: list[tuple[int, str]] = []
        self.known: list[float] = []
        """Now and then the time of one known strap, which tells how busy the machine was."""

    def add(self, seed: int, request: Request, verdict: Verdict) -> None:
        """Count one request."""
        kind = (request.door, "good" if verdict.status < 400 else "refused")
        self.statuses[request.door, verdict.status] += 1
        self.times[kind][round(math.log(max(verdict.ms, 0.01)) / _FINE)] += 1
        self.slowest[kind] = max(self.slowest.get(kind, (0.0, 0)), (verdict.ms, seed))
        self.remedies[request.door] += verdict.remedies
        self.failures += [(seed, f"{request.door}: {each}") for each in verdict.wrong]
        if request.limit_ms is None and verdict.status == 200:
            self.drawn[request.door][0] += verdict.ms
            self.drawn[request.door][1] += verdict.size

    def merge(self, other: "Tally") -> None:
        """Add what another counted."""
        self.statuses += other.statuses
        self.remedies += other.remedies
        self.failures += other.failures
        self.known += other.known
        for kind, times in other.times.items():
            self.times[kind] += times
            self.slowest[kind] = max(self.slowest.get(kind, (0.0, 0)), other.slowest[kind])
        for door, (ms, size) in other.drawn.items():
            self.drawn[door][0] += ms
            self.drawn[door][1] += size

    def quantile(self, kind: tuple[str, str], share: float) -> float:
        """The milliseconds that this share of requests stays below, to 2 %."""
        left = share * self.times[kind].total()
        for step, count in sorted(self.times[kind].items()):
            left -= count
            if left <= 0:
                return math.exp(step * _FINE)
        return 0.0


_CLIENT: Any = None
_GOODS: Goods | None = None


def _begin(*, loud: bool) -> None:
    """Make this process's own service; what it logs is thrown away unless one request is looked at."""
    global _CLIENT, _GOODS  # noqa: PLW0603 - a process of the pool has no other place of its own
    if not loud:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    _CLIENT = a_client()
    _GOODS = goods_of(_CLIENT)


def _chunk(seeds: range) -> tuple[int, Any]:
    tally = Tally()
    tally.known.append(calibration_ms(5))
    for seed in seeds:
        request = request_of(seed, _GOODS)
        tally.add(seed, request, judge(_CLIENT, request))
    return len(seeds), tally


def _pair() -> list[float]:
    return [0.0, 0.0]


def run(count: int, first: int, jobs: int) -> Tally:
    """Send so many requests by so many processes, and tell how far it is."""
    chunks = [range(at, min(at + CHUNK, first + count)) for at in range(first, first + count, CHUNK)]
    total = Tally()
    done, started = 0, time.monotonic()
    with get_context("spawn").Pool(jobs, _begin_loudly if count == 1 else _begin_quietly) as pool:
        for size, tally in pool.imap_unordered(_chunk, chunks):
            for seed, why in tally.failures:
                print(f"seed {seed}: {why}", file=sys.stderr, flush=True)
            total.merge(tally)
            if (done + size) // PROGRESS > done // PROGRESS:
                print(f"{done + size} of {count} in {time.monotonic() - started:.0f} s", file=sys.stderr, flush=True)
            done += size
    return total


def _begin_loudly() -> None:
    _begin(loud=True)


def _begin_quietly() -> None:
    _begin(loud=False)


def calibration_ms(times: int) -> float:
    """Processor time to solve one known strap on this machine now: what other times are held against."""
    shop = demo_shop()
    spec, _ = read(EXAMPLES["parade_harness_strap"], shop)
    started = time.process_time()
    for _ in range(times):
        solve(spec, shop)
    return (time.process_time() - started) * 1000 / times


def lines(tally: Tally) -> Iterator[str]:
    """The summary."""
    known = sorted(tally.known)
    yield f"solving the parade harness strap: {known[0]:.2f} to {known[-1]:.2f} ms, mostly {known[len(known) // 2]:.2f}"
    yield f"{'door':<10} {'':<8} {'count':>7} {'p50':>8} {'p99':>8} {'slowest':>9} ms  seed of the slowest"
    for kind in sorted(tally.times):
        slowest, seed = tally.slowest[kind]
        middle, last = tally.quantile(kind, 0.5), tally.quantile(kind, 0.99)
        count = tally.times[kind].total()
        yield f"{kind[0]:<10} {kind[1]:<8} {count:>7} {middle:>8.2f} {last:>8.2f} {slowest:>9.1f}     {seed}"
    for door in sorted({door for door, _ in tally.statuses}):
        told = ", ".join(f"{status}: {count}" for (at, status), count in sorted(tally.statuses.items()) if at == door)
        yield f"{door:<10} {told}; remedies tried: {tally.remedies[door]}"
    units = {"png": ("ns a pixel", 1e6), "pdf": ("ms a page", 1.0)}
    for door, (ms, size) in sorted(tally.drawn.items()):
        unit, scale = units.get(door, ("us a kilobyte", 1e6))
        yield f"{door:<10} {ms / max(size, 1) * scale:.1f} {unit}"


def main() -> None:
    """Print what came of it; fail where anything did."""
    reader = argparse.ArgumentParser(prog="tests/heavy hostile")
    reader.add_argument("count", nargs="?", type=int, default=MOST)
    reader.add_argument("seed", nargs="?", type=int, default=SEED)
    reader.add_argument("--jobs", type=int, default=2)
    asked = reader.parse_args()
    tally = run(asked.count, asked.seed, min(asked.jobs, asked.count))
    print(*lines(tally), sep="\n")
    for seed, why in sorted(tally.failures)[:100]:
        print(f"seed {seed}: {why}")
    if tally.failures:
        raise SystemExit(f"{len(tally.failures)} failures")


if __name__ == "__main__":
    main()
