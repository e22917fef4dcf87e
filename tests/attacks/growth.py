"""Whether work grows no faster than its input, counted or timed.

`tests/run` counts the lines of Python that run: the same number each time, whatever else the machine does. What
happens inside a library or a regular expression is no line, so `tests/heavy linear` takes the same inputs up to 1 MB
by processor time. A test that has nothing to count is marked `timed` and is run there alone.
"""

import gc
import heapq
import math
import os
import sys
import time
from collections.abc import Callable, Iterable
from typing import Any

IS_TIMED = "TIMED" in os.environ
SIZES = tuple(4**power for power in range(5, 11 if IS_TIMED else 8))
"""From 1 KB on, each four times the one before it: to 1 MB by time, to 16 KB by lines."""
STEEPEST = 1.5
"""Exponent of growth that passes: linear work has 1, quadratic work 2, and noise falls short of the middle."""
_LEAST = 0.0005 if IS_TIMED else 200
"""Seconds, or lines, below which two figures are not compared."""
_REPEATS = 3
_ROUNDS = 3
_LONG_S = 0.5
_HOPELESS = 32
"""Work that takes so many times as much for an input four times as long is tried no further."""


def assert_linear(work: Callable[[Any], object], make: Callable[[int], Any], sizes: tuple[int, ...] = SIZES) -> None:
    """Fail where an input sixteen times as long takes sixty-four times as much, or worse, each time that it is tried.

    Compared are sizes sixteen times apart, so that what any input costs hides nothing of what a long one does.
    """
    gc.freeze()  # what was there before is not the input's: a collection would look at all of it
    try:
        taken: dict[int, float] = {}
        for size in sizes:
            taken[size] = _measured(work, make(size))
            for factor, most in ((16, 16**STEEPEST), (4, _HOPELESS)):
                _compare(taken, work, make, (size // factor, size), most)
    finally:
        gc.unfreeze()


def _compare(
    taken: dict[int, float],
    work: Callable[[Any], object],
    make: Callable[[int], Any],
    sizes: tuple[int, int],
    most: float,
) -> None:
    """Fail where the figures of two sizes are too far apart, and are so again when both are taken anew."""
    before, size = sizes
    for _ in range(_ROUNDS):
        if taken.get(before, 0) < _LEAST or taken[size] < taken[before] * most:
            return
        taken |= {each: _measured(work, make(each)) for each in sizes}
    raise AssertionError(_told(taken, size, before))


def assert_all_linear(
    work: Callable[[Any], object], makes: Iterable[Callable[[int], Any]], sizes: tuple[int, ...] = SIZES
) -> None:
    """The same for many kinds of input, of which the slowest are tried: what is quadratic at 4 KB leads by far."""
    for make in heapq.nlargest(3, makes, key=lambda make: _measured(work, make(SIZES[1]))):
        assert_linear(work, make, sizes)


def _seconds(work: Callable[[Any], object], given: object) -> float:
    """Processor time of this thread, the least of several tries: what else the machine does can only add to it."""
    tries: list[float] = []
    while len(tries) < _REPEATS and sum(tries) < _LONG_S:
        started = time.thread_time()
        work(given)
        tries.append(time.thread_time() - started)
    return min(tries)


def lines_run(work: Callable[[Any], object], given: object) -> float:
    """Lines of Python that this thread runs, in whatever file."""
    count = 0

    def trace(_frame: Any, _event: str, _argument: Any) -> Any:
        nonlocal count
        count += 1
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        work(given)
    finally:
        sys.settrace(before)
    return count


_measured = _seconds if IS_TIMED else lines_run


def _told(taken: dict[int, float], size: int, before: int) -> str:
    exponent = math.log(taken[size] / taken[before], size / before)
    figures = ", ".join(f"{size} B {1000 * each:.2f} ms" if IS_TIMED else f"{size} B {each:.0f} lines" for size, each in
                        taken.items())  # fmt: skip
    return f"the work grows with the length to the power of {exponent:.2f}: {figures}"
