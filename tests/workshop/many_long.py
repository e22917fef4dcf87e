"""Straps longer than their leather by the thousand: `tests/heavy long [N [SEED]]`.

Draws odd long straps by seed, N in all. What is accepted is sound by shapely, its laps with it, made by the bench
walker and worn by the wearer; each remedy of what is refused is sent again.
"""

import argparse
import sys
import time
from collections import Counter
from multiprocessing import get_context

from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.strap.test_splices import judge_laps, judge_loops
from tests.support.long_straps import LONG_SHOP, long_strap
from tests.workshop.many_straps import wrong_with
from tests.workshop.test_walker import answer_for

MOST = 5_000
SEED = 10_000
CHUNK = 50


def tried(first: int) -> tuple[Counter[str], list[str]]:
    """What became of the straps of one chunk, and what went wrong."""
    seen, wrong = Counter[str](), []
    for seed in range(first, first + CHUNK):
        spec = read_spec(long_strap(seed), "in")
        try:
            pattern = solve(spec, LONG_SHOP)
            judge_laps(pattern, LONG_SHOP)
            judge_loops(pattern, LONG_SHOP)
            seen["made"] += 1
            wrong += [f"seed {seed}: {each}" for each in wrong_with(answer_for(spec, LONG_SHOP))]
        except AssertionError as error:
            wrong.append(f"seed {seed}: {error!r}")
        except Refusal as refusal:
            remedies = find_remedies(spec, LONG_SHOP, refusal.faults)
            seen["refused"] += 1
            seen["without a remedy"] += not remedies
            for remedy in remedies:
                seen["remedies"] += 1
                try:
                    solve(apply(spec, remedy.changes), LONG_SHOP)
                except Refusal as again:
                    wrong.append(f"seed {seed}: {remedy.detail} {again}")
    return seen, wrong


def main() -> None:
    """Print what came of it; fail where something went wrong."""
    reader = argparse.ArgumentParser(prog="tests/heavy long")
    reader.add_argument("count", nargs="?", type=int, default=MOST)
    reader.add_argument("seed", nargs="?", type=int, default=SEED)
    reader.add_argument("--jobs", type=int, default=2)
    asked = reader.parse_args()
    started, seen, wrong = time.monotonic(), Counter[str](), []
    with get_context("spawn").Pool(asked.jobs) as pool:
        for found, faults in pool.imap_unordered(tried, range(asked.seed, asked.seed + asked.count, CHUNK)):
            seen += found
            wrong += faults
    told = ", ".join(f"{count} {what}" for what, count in seen.items())
    print(f"{asked.count} long straps in {time.monotonic() - started:.0f} s: {told}")
    print(*wrong[:100], sep="\n")
    if wrong or not seen["made"]:
        sys.exit(f"{len(wrong)} went wrong")


if __name__ == "__main__":
    main()
