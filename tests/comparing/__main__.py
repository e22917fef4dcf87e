"""Compares this tree with a commit; see tests/compare."""

import argparse
import json
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from openapi.example_requests import examples
from service.shop_file import demo_shop
from tests.comparing.differing import Answer, differs
from tests.comparing.versions import ROOT, answers_of, tree_at
from tests.golden.random_straps import random_strap
from tests.golden.review import Difference, pretty, write_review

_JSON, _SVG = "application/json", "image/svg+xml"
_NAMED = 8
"""So many names are printed of each kind of difference."""


def asked_for(straps: int) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every request, with a name for it."""
    for name, spec in examples().items():
        yield name, {"path": "/v1/patterns", "accept": _JSON, "spec": spec}
    for name in demo_shop().designs:
        yield f"{name} as offered", {"path": f"/v1/designs/{name}/pattern.json", "accept": _JSON}
        yield f"choices of {name}", {"path": f"/v1/designs/{name}/choices", "accept": _JSON}
    for seed in range(straps):
        yield f"odd strap {seed}", {"path": "/v1/patterns", "accept": _JSON, "spec": random_strap(seed)}


def main() -> int:
    """Ask both, print what differs, and write the page; 1 where anything does."""
    options = _options()
    named = dict(asked_for(options.straps))
    with tree_at(options.revision) as before:
        pairs = list(zip(*(answers_of(tree, named.values()) for tree in (before, ROOT)), strict=True))
        found = {name: kinds for name, pair in zip(named, pairs, strict=True) if (kinds := differs(*pair))}
        _print(found, len(named), options.revision)
        if found:
            shown = list(found)[: options.shown]
            drawn = [named[name] for name in shown if "spec" in named[name]]
            pictures = dict(zip(map(json.dumps, drawn), _drawn(before, drawn), strict=True))
            page = _page(options.page, shown, dict(zip(named, pairs, strict=True)), named, pictures)
            print(f"Before and after: {page}")
    return bool(found)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="tests/compare")
    parser.add_argument("revision", nargs="?", default="HEAD")
    parser.add_argument("--straps", type=int, default=1000)
    parser.add_argument("--shown", type=int, default=40)
    parser.add_argument("--page", type=Path, default=ROOT / "build" / "compared.html")
    return parser.parse_args()


def _print(found: dict[str, tuple[str, ...]], asked: int, revision: str) -> None:
    print(f"{len(found)} of {asked} answers are not what they were at {revision}.")
    names: dict[str, list[str]] = defaultdict(list)
    for name, kinds in found.items():
        for kind in kinds:
            names[kind].append(name)
    for kind, count in Counter({kind: len(each) for kind, each in names.items()}).most_common():
        more = f" and {count - _NAMED} more" if count > _NAMED else ""
        print(f"  {kind}: {count} ({', '.join(names[kind][:_NAMED])}{more})")


def _drawn(before: Path, asked: list[dict[str, Any]]) -> list[tuple[Answer, Answer]]:
    """The working drawings of both versions; a refusal is none."""
    wanted = [each | {"accept": _SVG} for each in asked]
    return list(zip(*(answers_of(tree, wanted) for tree in (before, ROOT)), strict=True))


def _page(
    page: Path,
    shown: list[str],
    pairs: dict[str, tuple[Answer, Answer]],
    named: dict[str, dict[str, Any]],
    pictures: dict[str, tuple[Answer, Answer]],
) -> Path:
    differences = []
    for name in shown:
        differences.append(Difference(name, ".json", *(pretty(each.document) for each in pairs[name])))
        drawings = pictures.get(json.dumps(named[name]), ())
        texts = [each.body.encode() if each.is_made else b"" for each in drawings]
        if any(texts) and texts[0] != texts[1]:
            differences.append(Difference(name, ".svg", *texts))
    page.parent.mkdir(parents=True, exist_ok=True)
    return write_review(page, differences)


if __name__ == "__main__":
    sys.exit(main())
