"""A million inputs at the doors that read what a caller wrote: `tests/heavy million`.

No error but a door's own, and no input slower than 50 ms of processor time. What fails is printed and repeated
by its seed.
"""

import random
import sys
import time
from collections.abc import Callable, Iterator

from tests.attacks.doors import SLOW_S, codes, jsons, lengths, seconds, try_code, try_json, try_length
from tests.benchmarks._timing import line

SEED = 20
PLAN: tuple[tuple[str, Callable[..., None], Callable[[random.Random], Iterator[object]], int], ...] = (
    ("lengths", try_length, lengths, 600_000),
    ("codes", try_code, codes, 250_000),
    ("JSON texts, read as specs", try_json, jsons, 150_000),
)


def main() -> None:
    """Print the slowest input of each door; fail where one is too slow or raises what it may not."""
    seed = int(sys.argv[1]) if len(sys.argv) > 1 else SEED
    worst = 0.0
    for name, door, inputs, count in PLAN:
        started = time.perf_counter()
        slowest = max(
            (_tried(door, given), n) for n, given in zip(range(count), inputs(random.Random(seed)), strict=False)
        )
        worst = max(worst, slowest[0])
        line(f"{count} {name}: slowest", slowest[0] * 1000, "ms", f"aim: below {SLOW_S * 1000:.0f}")
        line(f"{count} {name}: all", time.perf_counter() - started, "s")
    if worst >= SLOW_S:
        raise SystemExit("an input is too slow")


def _tried(door: Callable[..., None], given: object) -> float:
    try:
        return seconds(door, given)
    except Exception:
        sys.stderr.write(f"at {given!r}\n")
        raise


if __name__ == "__main__":
    main()
