"""Writes the chapter on rules from the rules themselves, `RULES.md` and a figure of each: what it keeps, and how."""

import textwrap
from pathlib import Path

from openapi.figures.draw import figure
from service.shop_file import demo_shop
from service.strap.model.rule import Code
from service.strap.rules.checks import RULES
from service.workshop.rule_book import Entry, entries

DOCUMENT = Path(__file__).parent / "RULES.md"
FIGURES = Path(__file__).parent / "rules"

_BEGINNING = """# The rules of the bench

Every pattern is measured by these, and its answer shows each under `checks`, with its tightest place. Each figure is
drawn of a real pattern of the demo shop, with the wide lines round what is measured and a letter at each distance; the
words below it say what the letters are, and what came out there. Formulas have the shop's figures by their names, as
they stand under `rules` in its file and in `/v1/shop`. Lengths are measured flat, unless it says made up. A running
service shows this chapter at `/docs/rules`, with the figures of its own shop.
"""
_CODES = """
## What a rule's refusal is called

The `code` of an error of the problem `cannot_be_made`, with the rules that are told by it. What the shop does not have,
what has no meaning in a spec and what lies beyond the shop's limits is refused by other codes, before there is a
pattern to measure.

| code | meaning | rules |
| --- | --- | --- |
"""


def figures() -> dict[str, str]:
    """The figure of each rule as SVG, by its file's name."""
    return {f"{rule.name}.svg": figure(rule) for rule in RULES}


def text() -> str:
    """The whole document."""
    drawn = figures()
    sections = (_section(entry, drawn[f"{entry.name}.svg"]) for entry in entries(demo_shop()))
    return _BEGINNING + "".join(sections) + _CODES + "".join(map(_row, _rules_by_code().items()))


def write() -> None:
    """Write the chapter and its figures, and take away those of rules that are gone."""
    FIGURES.mkdir(exist_ok=True)
    drawn = figures()
    for path in FIGURES.glob("*.svg"):
        if path.name not in drawn:
            path.unlink()
    for name, content in drawn.items():
        (FIGURES / name).write_text(content, encoding="utf-8")
    DOCUMENT.write_text(text(), encoding="utf-8")


def _section(entry: Entry, drawn: str) -> str:
    said = drawn.partition('<desc id="desc">')[2].partition("</desc>")[0]
    lines = [
        f"## `{entry.name}`", "", f"![{entry.title}](rules/{entry.name}.svg)", "",
        textwrap.fill(f"*{said}*", 120), "", textwrap.fill(entry.meaning, 120), "", f"`{entry.formula}`", "",
        *(_item(f"`{name}` is {meaning}") for name, meaning in entry.terms),
        *(_item(f"in the demo shop `{name}` is {figure}") for name, figure in entry.figures),
        _item(f"it is mended by {'; or by '.join(entry.cures)}") if entry.cures else _item("nothing mends it"),
        _item(f"source: {entry.source}"), "",
    ]  # fmt: skip
    return "\n" + "\n".join(lines)


def _item(words: str) -> str:
    return textwrap.fill(words, 120, initial_indent="- ", subsequent_indent="  ")


def _rules_by_code() -> dict[Code, list[str]]:
    """The codes in order of their names, each with the rules that may be told by it."""
    found: dict[Code, list[str]] = {}
    for rule in RULES:
        for code in dict.fromkeys(blame.code for blame in rule.blames):
            found.setdefault(code, []).append(f"`{rule.name}`")
    return dict(sorted(found.items(), key=lambda entry: entry[0].name))


def _row(entry: tuple[Code, list[str]]) -> str:
    code, names = entry
    return f"| `{code.name}` | {code.meaning} | {', '.join(names)} |\n"
