"""Straps of two ends by the thousand: `tests/heavy pairs [N [SEED]]`.

Draws odd straps of every pair of ends by seed, rulers, narrowing, with cut edges, edgings and keepers between, until N
of each are ones that the shop accepts, or ten times N are drawn.
What is accepted is sound by shapely, made by the bench walker and worn by the wearer; each remedy of what is refused is
sent again.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from multiprocessing import get_context

from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import apply
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.support.tapered import outlined_pair
from tests.support.two_ended import PAIRS
from tests.walker.hands import Botched
from tests.workshop.many_straps import wrong_with
from tests.workshop.test_walker import SHOP, answer_for

MOST = 50
SEED = 1_000
DRAWN = 10


def tried(work: tuple[tuple[str, str], int, int]) -> tuple[tuple[str, str], int, int, list[str]]:
    """Of one pair: how many were accepted, how many remedies were sent, and what went wrong."""
    pair, count, first = work
    made, remedies, wrong = 0, 0, []
    for seed in range(first, first + DRAWN * count):
        spec = read_spec(outlined_pair(*pair, seed), "in")
        try:
            judge(solve(spec, SHOP))
            made += 1
            wrong += [f"{pair} {seed}: {each}" for each in wrong_with(answer_for(spec))]
        except Refusal as refusal:
            found = list(_refused_again(spec, refusal))
            remedies += len(found)
            wrong += [f"{pair} {seed}: {each}" for each in found if each]
        except (AssertionError, Botched) as error:
            wrong.append(f"{pair} {seed}: {error!r}")
        if made == count:
            break
    return pair, made, remedies, wrong


def _refused_again(spec: Spec, refusal: Refusal) -> Iterator[str]:
    """For each remedy why it was refused, or nothing."""
    for remedy in find_remedies(spec, SHOP, refusal.faults):
        try:
            solve(apply(spec, remedy.changes), SHOP)
            yield ""
        except Refusal as again:
            yield f"{remedy.detail} {again}"


def main() -> None:
    """Print what came of it; fail where something went wrong."""
    reader = argparse.ArgumentParser(prog="tests/heavy pairs")
    reader.add_argument("count", nargs="?", type=int, default=MOST)
    reader.add_argument("seed", nargs="?", type=int, default=SEED)
    reader.add_argument("--jobs", type=int, default=2)
    asked = reader.parse_args()
    started, made, remedies, wrong = time.monotonic(), Counter[tuple[str, str]](), 0, []
    with get_context("spawn").Pool(asked.jobs) as pool:
        for pair, count, sent, faults in pool.imap_unordered(
            tried, [(pair, asked.count, asked.seed) for pair in PAIRS]
        ):
            made[pair] = count
            remedies += sent
            wrong += faults
    took = time.monotonic() - started
    print(f"{len(PAIRS)} pairs, {made.total()} straps made and worn in {took:.0f} s, {remedies} remedies sent again")
    print(f"fewest of a pair: {min(made.values())}, {min(made, key=made.__getitem__)}")
    print(*wrong[:100], sep="\n")
    if wrong or not all(made.values()):
        sys.exit(f"{len(wrong)} went wrong")


if __name__ == "__main__":
    main()
