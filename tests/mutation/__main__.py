"""`./tests/mutate`: how many small changes of the code some check would notice, and which none does."""

import argparse
import json
import os
import random
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.mutation.fresh import end_of, make_copy
from tests.mutation.mutants import ROOT, Mutant, generate, noticed_by_types, sources
from tests.mutation.session import BY_GOLDEN, NEVER_EXECUTED, SURVIVED, Plugin

TESTS = ["tests/strap", "tests/workshop", "tests/schemas", "tests/golden", "tests/desk"]
BY_TYPES = "noticed by mypy"
MISSED = (SURVIVED, NEVER_EXECUTED)
RESULTS = ROOT / ".venv" / "mutants.json"


def main() -> int:
    """Print a line for each survivor as it is found, and a score for each package at the end."""
    options = _options()
    os.environ.setdefault("HYPOTHESIS_PROFILE", "mutants")
    mutants = generate(sources(options.paths))
    typed = noticed_by_types()
    ends = {mutant.id: BY_TYPES for mutant in mutants if (mutant.path, mutant.marked) in typed}
    left = [mutant for mutant in mutants if mutant.id not in ends]
    print(f"{len(mutants)} mutants, of which mypy notices {len(ends)}", flush=True)
    by_id = {mutant.id: mutant.difference for mutant in mutants}
    if options.again:
        kept = json.loads(Path(options.again).read_text(encoding="utf-8"))
        same = [each for each in kept if by_id.get(each["id"]) == each["difference"]]
        survivors = {each["id"] for each in same if each["end"] in MISSED}
        ends |= {each["id"]: each["end"] for each in same if each["id"] not in survivors}
        left = [mutant for mutant in left if mutant.id in survivors]
    if options.share < 1:
        left = random.Random(1).sample(left, round(len(left) * options.share))
    random.Random(2).shuffle(left)
    started = time.monotonic()

    def tell(mutant: Mutant, how: str, seconds: float) -> None:
        ends[mutant.id] = how
        if how in MISSED:
            print(f"\n{how} ({seconds:.1f} s): {mutant.id}\n{mutant.difference}", flush=True)
        done = len(ends) - len(mutants) + len(left)
        if done % 100 == 0:
            _keep(options.results, ends, by_id)
            print(f"-- {len(ends)} of {len(mutants)} after {time.monotonic() - started:.0f} s", flush=True)

    plugin = Plugin(left, options.workers, options.longest, options.budget, tell)
    arguments = [
        "-p",
        "no:xdist",
        "-p",
        "no:cacheprovider",
        "-p",
        "no:terminal",
        "-m",
        "not slow and not timed",
        *(options.tests or TESTS),
    ]
    code = pytest.main(arguments, plugins=[plugin])
    _try_afresh([mutant for mutant in left if ends.get(mutant.id) == NEVER_EXECUTED], tell)
    _keep(options.results, ends, by_id)
    _print_scores(mutants, ends)
    return int(code)


def _try_afresh(mutants: list[Mutant], tell: Callable[[Mutant, str, float], None]) -> None:
    """What no test executes has its effect before, at import: try the schemas' tests once more on each."""
    make_copy()
    for mutant in mutants:
        if mutant.path.startswith("service/schemas"):
            started = time.monotonic()
            tell(mutant, end_of(mutant), time.monotonic() - started)


def _keep(results: str, ends: dict[str, str], by_id: dict[str, str]) -> None:
    kept = [{"id": name, "end": end, "difference": by_id[name]} for name, end in sorted(ends.items())]
    Path(results).write_text(json.dumps(kept, indent=1, ensure_ascii=False), encoding="utf-8")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="tests/mutate", description=__doc__)
    parser.add_argument("paths", nargs="*", help="modules or packages, e.g. service/strap/plane; all three if none")
    parser.add_argument("--workers", type=int, default=os.cpu_count())
    parser.add_argument("--longest", type=float, default=0.6, help="leave out tests that take longer, in seconds")
    parser.add_argument("--budget", type=float, default=8.0, help="seconds of tests on one mutant")
    parser.add_argument("--again", help="try only those that survived by this file of results")
    parser.add_argument("--tests", action="append", help="run only the tests of this file or folder; may be repeated")
    parser.add_argument("--share", type=float, default=1.0, help="try a share only, drawn with a fixed seed")
    parser.add_argument("--results", default=RESULTS, help="where all ends are written, as JSON")
    return parser.parse_args()


def _print_scores(mutants: list[Mutant], ends: dict[str, str]) -> None:
    """Shares noticed: by mypy, of what mypy lets pass by tests and by claims alone, and by mypy and tests of all."""
    print(f"\n{'':<10}{'mutants':>9}{'by mypy':>9}{'tried':>7}{'by tests':>10}{'by claims':>11}{'by both':>9}")
    for package in ("strap", "workshop", "schemas"):
        count = Counter(ends.get(mutant.id) for mutant in mutants if mutant.path.split("/")[1] == package)
        total, typed = count.total(), count[BY_TYPES]
        tried = total - typed - count[None]
        if tried:
            share = 1 - sum(count[how] for how in MISSED) / tried
            claimed = share - count[BY_GOLDEN] / tried
            both = (typed + share * (total - typed)) / total
            print(f"{package:<10}{total:>9}{typed / total:>9.1%}{tried:>7}{share:>10.1%}{claimed:>11.1%}{both:>9.1%}")


if __name__ == "__main__":
    sys.exit(main())
