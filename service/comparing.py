"""What another shop file would change, told at a desk: `python -m service.comparing NEW.toml [--shop NOW.toml]`."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

from service.desk.comparing import compare
from service.schemas.answers.comparison import (
    ComparedChoicesDocument,
    ComparedStrapDocument,
    ComparisonDocument,
    PairsDocument,
)
from service.schemas.comparison import ComparisonAsked, ComparisonError
from service.shop_file import ShopFileError, demo_shop, load_shop
from service.words import say

_MOST_TOLD = 4
"""Figures, and lengths, that are told of one strap; the answer over HTTP has them all."""


def main(arguments: list[str] | None = None) -> int:
    """Print what would change. 0 where every strap stays the same, 1 where not, 2 where nothing can be compared."""
    asked = _reader().parse_args(arguments)
    try:
        shop = load_shop(asked.shop) if asked.shop else demo_shop()
        codes = tuple(asked.codes.read_text(encoding="utf-8").split()) if asked.codes else ()
        told = compare(ComparisonAsked(shop_file="", codes=codes), shop, load_shop(asked.new))
    except (ShopFileError, OSError) as error:
        print(error, file=sys.stderr)  # noqa: T201 # whoever starts it by hand reads it here
        return 2
    except ComparisonError as error:
        for fault in error.faults:
            print(f"{'.'.join(fault.path)}: {fault.detail}", file=sys.stderr)  # noqa: T201 # as above
        return 2
    print(*lines(told), sep="\n")  # noqa: T201 # as above
    return 1 if _moves(told) else 0


def _reader() -> argparse.ArgumentParser:
    reader = argparse.ArgumentParser(prog="python -m service.comparing", description=__doc__)
    reader.add_argument("new", type=Path, help="the other shop file, its pictures beside it")
    reader.add_argument("--shop", type=Path, help="the shop file as it is now; without one the demo shop")
    reader.add_argument("--codes", type=Path, help="a file of kept codes and seals, one a line, instead of the designs")
    return reader


def _moves(told: ComparisonDocument) -> bool:
    """Whether anything is made, chosen or charged otherwise."""
    counts = told["counts"]
    straps = counts["changed"] + counts["gone"] + counts["new"] + counts["dearer"] + counts["cheaper"]
    choices = (each["choices"] for each in told["straps"] if "choices" in each)
    return bool(straps) or any(each["lost"] or each["gained"] for each in choices)


def lines(told: ComparisonDocument) -> Iterator[str]:
    """What would change, a line for each thing; first how much of everything."""
    counts = told["counts"]
    told_counts = (
        "{straps} straps: {same} the same, {changed} another pattern, {gone} not made any more, {new} newly made, "
        "{never} made by neither; {dearer} dearer, {cheaper} cheaper."
    )
    yield say(told_counts, straps=len(told["straps"]), **counts)
    currencies = (told["currency"], told["other_currency"])
    for strap in told["straps"]:
        for line in _of_strap(strap, *currencies):
            yield f"{_name(strap)}: {line}"


def _name(strap: ComparedStrapDocument) -> str:
    name = strap.get("design") or strap.get("code", "")[:24] + "…"
    return f"{name} {strap['size']}" if "size" in strap else name


def _of_strap(strap: ComparedStrapDocument, now: str, then: str) -> Iterator[str]:
    if strap["outcome"] == "gone":
        yield from (say("not made any more: {why}", why=fault["detail"]) for fault in strap["errors"])
    if strap["outcome"] == "new":
        yield say("can be made, and cannot now")
    if strap["outcome"] == "changed":
        yield say("another pattern")
        yield from _first([figure["detail"] for figure in strap["moved"]])
    if "choices" in strap:
        yield from _of_choices(strap["choices"])
    price = strap.get("price")
    if price and price["from"] and price["to"] and (price["from"], now) != (price["to"], then):
        before, after = f"{price['from']} {now}", f"{price['to']} {then}"
        yield say("{before} now, {after} by the other file", before=before, after=after)


def _of_choices(choices: ComparedChoicesDocument) -> Iterator[str]:
    offered = choices["offered"]
    if choices["lost"]:
        told = "{count} of {offered} pairs of length and count are lost"
        yield say(told, count=choices["lost"], offered=offered)
        yield from _first([_pair(each) for each in choices["lost_at"]])
    if choices["gained"]:
        told = "{count} of {offered} pairs of length and count are gained"
        yield say(told, count=choices["gained"], offered=offered)
        yield from _first([_pair(each) for each in choices["gained_at"]])


def _pair(pair: PairsDocument) -> str:
    """A length, and its counts where the design has any."""
    spans = ", ".join(f"{least}-{most}" if most > least else str(least) for least, most in pair["counts"])
    return f"  {pair['length']}" if spans == "0" else f"  {pair['length']}: {spans}"


def _first(told: list[str]) -> Iterator[str]:
    yield from told[:_MOST_TOLD]
    if len(told) > _MOST_TOLD:
        yield say("  and {more} more", more=len(told) - _MOST_TOLD)


if __name__ == "__main__":
    raise SystemExit(main())
