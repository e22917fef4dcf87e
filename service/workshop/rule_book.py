"""What a shop's book says of each rule of the bench: all but its drawing. Everything follows from the rule itself."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from service.shop.figures import figures_of
from service.shop.shop import Rules, Shop
from service.strap.model.rule import Rule
from service.strap.plane.lengths import reading
from service.strap.remedies.cure_words import CURE_WORDS
from service.strap.rules.checks import RULES
from service.words import say

_FIGURES = figures_of(Rules)
_NAME = re.compile(r"[a-z_]+")


@dataclass(frozen=True, slots=True)
class Entry:
    """A rule as the book has it.

    `terms` are names of the formula with what each is, `figures` those of the shop's figures with what they are here.
    """

    name: str
    title: str
    meaning: str
    formula: str
    terms: tuple[tuple[str, str], ...]
    figures: tuple[tuple[str, str], ...]
    cures: tuple[str, ...]
    codes: tuple[str, ...]
    source: str


def entries(shop: Shop) -> tuple[Entry, ...]:
    """Every rule of the bench, with the figures of this shop."""
    return tuple(_entry(rule, shop) for rule in RULES)


def title_of(name: str) -> str:
    """A rule's name as it is said: `edge web`."""
    return name.replace("_", " ")


def _entry(rule: Rule, shop: Shop) -> Entry:
    formula, sign = rule.formula, "≥" if rule.sense == "least" else "≤"
    own = {rule.figure.name: say(rule.figure.meaning)} if rule.figure else {}
    terms = {**{name: say(meaning) for name, meaning in formula.terms.items()}, **own}
    cures = dict.fromkeys(say(CURE_WORDS[blame.cure]) for blame in rule.blames if blame.cure)
    return Entry(
        name=rule.name,
        title=title_of(rule.name),
        meaning=say(rule.meaning),
        formula=f"{formula.found} {sign} {formula.limit}",
        terms=tuple(terms.items()),
        figures=tuple(_figures(rule, shop)),
        cures=tuple(cures),
        codes=tuple(dict.fromkeys(blame.code.name for blame in rule.blames)),
        source=say(rule.source),
    )


def _figures(rule: Rule, shop: Shop) -> Iterator[tuple[str, str]]:
    """The shop's figures in a formula: in inches and in millimetres, and what is otherwise in a job in millimetres."""
    usual, metric = shop.rules.in_units("in"), shop.rules.in_units("mm")
    names = _NAME.findall(f"{rule.formula.found} {rule.formula.limit}")
    for name in dict.fromkeys(names):
        if rule.figure and name == rule.figure.name:
            yield name, _both(usual.of(rule.figure))
        elif name in _FIGURES:
            figure, other = getattr(usual, name), getattr(metric, name)
            yield name, _told(figure) if figure == other else _two(figure, other)


def _told(figure: int | Decimal) -> str:
    return str(figure) if isinstance(figure, Decimal) else _both(figure)


def _two(figure: int, metric: int) -> str:
    return say("{usual}; in a job in millimetres {metric}", usual=reading(figure, "in"), metric=reading(metric, "mm"))


def _both(length: int) -> str:
    return say("{metric} ({inches})", metric=reading(length, "mm"), inches=reading(length, "in"))
