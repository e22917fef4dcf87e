"""Straps by the thousand, made and worn: `tests/heavy straps [N [SEED]]`.

Draws odd straps by seed until N of each construction are ones that the shop accepts. Each is made by the bench walker
and closed by the wearer; what cannot be made or worn as told is printed with its seed.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from multiprocessing import get_context
from typing import Any

from tests.support.random_straps import random_strap
from tests.support.wearer import assert_worn_as_told
from tests.walker.bench import Bench
from tests.walker.hands import Botched
from tests.workshop.test_walker import CONSTRUCTIONS, SHOP, answer_or_none

MOST = 5_000
SEED = 500_000
CHUNK = 250


def wrong_with(answer: dict[str, Any]) -> Iterator[str]:
    """What the walker and the wearer have against a strap."""
    try:
        Bench(answer).make()
    except Botched as botched:
        yield str(botched)
    try:
        assert_worn_as_told(answer, SHOP)
    except AssertionError as told_wrong:
        yield f"worn otherwise than told: {told_wrong}"


def tried(first: int) -> tuple[int, list[tuple[str, int, list[str]]]]:
    """What came of the straps of one chunk that were accepted: construction, seed and what is wrong."""
    found = []
    for seed in range(first, first + CHUNK):
        document = random_strap(seed)
        answer = answer_or_none(document)
        if answer is not None:
            found.append((document["construction"], seed, list(wrong_with(answer))))
    return first, found


def run(count: int, first: int, jobs: int) -> tuple[Counter[str], list[str]]:
    """How many of each construction were made and worn, and everything that went wrong."""
    made, wrong = Counter[str](dict.fromkeys(CONSTRUCTIONS, 0)), []
    chunks = range(first, first + 40 * (count + CHUNK), CHUNK)
    with get_context("spawn").Pool(jobs) as pool:
        for _, found in pool.imap(tried, chunks):
            for construction, seed, faults in found:
                made[construction] += 1
                wrong += [f"seed {seed}: {fault}" for fault in faults]
            if min(made.values()) >= count:
                break
    return made, wrong


def main() -> None:
    """Print what came of it; fail where a strap cannot be made, or too few were drawn."""
    reader = argparse.ArgumentParser(prog="tests/heavy straps")
    reader.add_argument("count", nargs="?", type=int, default=MOST)
    reader.add_argument("seed", nargs="?", type=int, default=SEED)
    reader.add_argument("--jobs", type=int, default=2)
    asked = reader.parse_args()
    started = time.monotonic()
    made, wrong = run(asked.count, asked.seed, asked.jobs)
    told = ", ".join(f"{construction}: {number}" for construction, number in made.items())
    print(f"made and worn in {time.monotonic() - started:.0f} s, {told}")
    print(*wrong[:100], sep="\n")
    if wrong or min(made.values()) < asked.count:
        sys.exit(f"{len(wrong)} went wrong; {min(made.values())} of each construction, {asked.count} wanted")


if __name__ == "__main__":
    main()
