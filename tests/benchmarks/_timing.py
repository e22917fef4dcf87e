"""Timing shared by the benchmarks: the middle of several rounds, taken in turn so that noise falls on all alike."""

import statistics
import time
from collections.abc import Callable


def side_by_side(rounds: int, repeats: int, **jobs: Callable[[], object]) -> dict[str, float]:
    """Median milliseconds of one call of each job, over `rounds` in which the jobs take turns."""
    taken: dict[str, list[float]] = {name: [] for name in jobs}
    for _ in range(rounds):
        for name, job in jobs.items():
            started = time.perf_counter()
            for _ in range(repeats):
                job()
            taken[name].append((time.perf_counter() - started) / repeats * 1000)
    return {name: statistics.median(times) for name, times in taken.items()}


def line(what: str, value: float, unit: str, aim: str = "") -> None:
    """Print one figure."""
    print(f"{what:<58} {value:>10.3f} {unit:<14} {aim}".rstrip())
