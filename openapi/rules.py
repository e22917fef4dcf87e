"""Writes `RULES.md` from the rules themselves: what each keeps, by which formula, and what its refusals are called."""

import textwrap
from pathlib import Path

from service.strap.model.rule import Code, Rule
from service.strap.rules.checks import RULES

DOCUMENT = Path(__file__).parent / "RULES.md"

_BEGINNING = """# The rules of the bench

Every pattern is measured by these, and its answer shows each under `checks`, with its tightest place. What is not
explained beside a formula is a figure of the shop's own, under `rules` in its file and in `/v1/shop`. Lengths are
measured flat, unless it says made up.
"""
_CODES = """
## What a rule's refusal is called

The `code` of an error of the problem `cannot_be_made`, with the rules that are told by it. What the shop does not have,
what has no meaning in a spec and what lies beyond the shop's limits is refused by other codes, before there is a
pattern to measure.

| code | meaning | rules |
| --- | --- | --- |
"""


def text() -> str:
    """The whole document."""
    return _BEGINNING + "".join(map(_section, RULES)) + _CODES + "".join(map(_row, _rules_by_code().items()))


def _section(rule: Rule) -> str:
    formula = rule.formula
    sign = "≥" if rule.sense == "least" else "≤"
    own = {rule.figure.name: rule.figure.meaning} if rule.figure else {}
    words = [f"`{name}` is {meaning}" for name, meaning in {**formula.terms, **own}.items()]
    told = f"{'; '.join(words)}. Source: {rule.source}." if words else f"Source: {rule.source}."
    return f"\n## `{rule.name}`\n\n`{formula.found} {sign} {formula.limit}`\n\n{textwrap.fill(told, 120)}\n"


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
