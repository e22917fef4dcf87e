"""How good cut plans are, and how quickly: 200 pieces in 12 widths, 50 seeds, two seconds each."""

import random
import time
from collections.abc import Sequence
from dataclasses import dataclass

from service.shop_file import demo_shop
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.model import CutPlan, Habits, Stock, Wanted
from service.workshop.cut_plan.plan import plan_cuts
from tests.benchmarks._timing import line

INCH = 25_400_000
LEATHER = "harness_8_9"
LIMIT_S = 2.0
STOCKS = {
    "one size of hide": ((84, 24, 30),),
    "three sizes of hide": ((84, 24, 3), (72, 20, 20), (40, 11, 5)),
}


@dataclass(frozen=True, slots=True)
class Share:
    """Of so many seeds: proven optimal, within one hide of the bound, and the slowest and middle times."""

    stock: str
    seeds: int
    proven: float
    within_one_hide: float
    gap: float
    """Greatest area used over its bound, less 1."""
    slowest_s: float
    middle_s: float


def cut_plan_shares(seeds: int = 50) -> list[Share]:
    """The figures for each stock."""
    return [_share(name, stock, seeds) for name, stock in STOCKS.items()]


def _share(name: str, stock: Sequence[tuple[int, int, int]], seeds: int) -> Share:
    entries = [
        Stock(id=f"s{n}", leather=LEATHER, length=length * INCH, width=width * INCH, count=count)
        for n, (length, width, count) in enumerate(stock)
    ]
    largest = max(entry.length * entry.width for entry in entries)
    plans, seconds = [], []
    for seed in range(seeds):
        started = time.monotonic()
        plans.append(_plan(_batch(seed), entries, started))
        seconds.append(time.monotonic() - started)
    near = [plan.used.area - plan.lower_bound.area <= largest and not plan.missing for plan in plans]
    return Share(
        stock=name,
        seeds=seeds,
        proven=sum(plan.proven for plan in plans) / seeds,
        within_one_hide=sum(near) / seeds,
        gap=max(plan.used.area / plan.lower_bound.area - 1 for plan in plans),
        slowest_s=max(seconds),
        middle_s=sorted(seconds)[seeds // 2],
    )


def _plan(wanted: Sequence[Wanted], stock: Sequence[Stock], started: float) -> CutPlan:
    habits = Habits(kerf=0, offcut_length=6 * INCH, offcut_width=INCH // 2)
    effort = Effort(lambda: LIMIT_S - (time.monotonic() - started))
    return plan_cuts(wanted, stock, habits, demo_shop().leathers, effort)


def _batch(seed: int) -> list[Wanted]:
    """200 pieces of 12 widths between 1/2 and 3 in, and up to 60 lengths between 4 and 35 in."""
    chance = random.Random(seed)
    widths = [INCH // 2 + INCH // 8 * n for n in chance.sample(range(20), 12)]
    lengths = [chance.randrange(16, 140) * INCH // 4 for _ in range(60)]
    return [
        Wanted(
            ref="bench",
            copy=n,
            piece="piece",
            leather=LEATHER,
            length=chance.choice(lengths),
            width=chance.choice(widths),
        )
        for n in range(1, 201)
    ]


def main() -> None:
    """Print the figures for each stock."""
    for share in cut_plan_shares():
        line(f"{share.stock}: proven optimal", share.proven * 100, "% of seeds")
        line(
            f"{share.stock}: within one hide of the bound",
            share.within_one_hide * 100,
            "% of seeds",
            "aim: at least 90",
        )
        line(f"{share.stock}: greatest area over its bound", share.gap * 100, "%")
        line(f"{share.stock}: middle time", share.middle_s * 1000, "ms")
        line(f"{share.stock}: slowest", share.slowest_s * 1000, "ms", f"limit: {LIMIT_S * 1000:.0f}")


if __name__ == "__main__":
    main()
