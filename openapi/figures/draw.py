"""The figure of a rule as SVG."""

from openapi.figures.seen import Seen
from openapi.figures.sketch import Sketch, on_paper
from openapi.figures.table import FIGURES
from service.forms.svg import svg
from service.strap.model.rule import Rule
from service.strap.plane.lengths import MM, reading


def seen_of(rule: Rule) -> Seen:
    """The measure that the rule's figure shows."""
    return FIGURES[rule].example.seen(rule.name)


def sketch_of(rule: Rule) -> Sketch:
    """What is drawn of it."""
    return FIGURES[rule].draw(seen_of(rule))


def figure(rule: Rule) -> str:
    """The rule's figure, with its letters explained and its figures said."""
    found = seen_of(rule).measured
    named = rule.name.replace("_", " ")
    sense = "the least" if rule.sense == "least" else "the most"
    said = f"{named}: here {_both(found.value)}; in the demo shop {_both(found.limit)} is {sense}."
    return svg(on_paper(sketch_of(rule), f"What is measured for {named}", said))


def _both(length: int) -> str:
    if abs(length) < MM // 20:
        return "0 mm"
    inches = reading(length, "in")
    return reading(length, "mm") if inches == "≈ 0 in" else f"{reading(length, 'mm')} ({inches})"
