"""Compares this tree with a commit; see tests/compare."""

import argparse
import sys
from collections import defaultdict
from pathlib import Path
from zlib import crc32

from tests.comparing.batches import of_batches
from tests.comparing.designs import of_designs
from tests.comparing.differing import Answer, differs
from tests.comparing.page import Found, chosen, write_page
from tests.comparing.questions import (
    Kind,
    Named,
    Question,
    of_changed_examples,
    of_examples,
    of_odd_quotes,
    of_odd_straps,
    of_requests,
    of_words,
)
from tests.comparing.shops import of_another_shop, of_mistakes, of_poor_shops, of_strict_shops
from tests.comparing.versions import ROOT, answers_of_both, tree_at

KINDS: dict[str, Kind] = {
    "examples": of_examples,
    "designs": of_designs,
    "odd_straps": of_odd_straps,
    "odd_quotes": of_odd_quotes,
    "changed_examples": of_changed_examples,
    "requests": of_requests,
    "batches": of_batches,
    "words": of_words,
    "another_shop": of_another_shop,
    "strict_shops": of_strict_shops,
    "poor_shops": of_poor_shops,
    "mistakes": of_mistakes,
}
_ALL = 1000
"""With so many odd straps or more, every question of the other kinds is asked; with fewer as large a share of these."""
_WHOLE = ("examples", "odd_straps", "odd_quotes", "batches", "another_shop", "words")
"""Kinds that are few, or drawn to the number that is wanted."""
_NAMED = 8
"""So many names are printed of each kind of difference."""


def main() -> int:
    """Ask both, print what differs, and write the page; 1 where anything does."""
    options = _options()
    asked = [(kind, *each) for kind in options.kinds for each in questions(kind, options.straps)]
    with tree_at(options.revision) as before:
        found = _compared(asked, before)
        print(f"{len(found)} of {len(asked)} answers are not what they were at {options.revision}.")
        _print(found)
        if found:
            page = write_page(options.page, chosen(found, options.shown), before)
            print(f"Before and after: {page}")
    return bool(found)


def questions(kind: str, straps: int) -> Named:
    """What is asked of a kind, the same at every call: a share of it is drawn by the names."""
    for name, question in dict(KINDS[kind](straps)).items():
        if kind in _WHOLE or crc32(name.encode()) % _ALL < straps:
            yield name, question


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="tests/compare")
    parser.add_argument("revision", nargs="?", default="HEAD")
    parser.add_argument("--straps", type=int, default=1000)
    parser.add_argument("--kinds", nargs="+", choices=KINDS, default=list(KINDS))
    parser.add_argument("--shown", type=int, default=40)
    parser.add_argument("--page", type=Path, default=ROOT / "build" / "compared.html")
    return parser.parse_args()


def _compared(asked: list[tuple[str, str, Question]], before: Path) -> list[Found]:
    """Those whose answers differ."""
    pairs: list[tuple[Answer, Answer]] = answers_of_both(before, [question.asked for _, _, question in asked])
    every = (Found(*each, *pair, differs(*pair)) for each, pair in zip(asked, pairs, strict=True))
    return [each for each in every if each.kinds]


def _print(found: list[Found]) -> None:
    names: dict[tuple[str, str], list[str]] = defaultdict(list)
    for each in found:
        for what in each.kinds:
            names[each.kind, what].append(each.name)
    for (kind, what), every in sorted(names.items(), key=lambda each: (-len(each[1]), each[0])):
        more = f" and {len(every) - _NAMED} more" if len(every) > _NAMED else ""
        print(f"  {kind}, {what}: {len(every)} ({'; '.join(every[:_NAMED])}{more})")


if __name__ == "__main__":
    sys.exit(main())
