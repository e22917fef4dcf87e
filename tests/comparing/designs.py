"""Questions of the shop's designs: what is offered of each, at the corners of what may be chosen and beside it."""

from collections.abc import Iterator
from itertools import product
from typing import Any
from urllib.parse import urlencode

from tests.comparing.questions import Named, Question
from tests.comparing.shops import DATA

SAID = ("", "x", "0", "-1", "7", "15in", "380mm", "1e9", "15 1/2 in", "bell_25", "harness_8_9", "true")
"""What may be said of any choice."""


def of_designs(_count: int) -> Named:
    """Each design, its choices, pattern and price: as offered, at every corner, and with each choice set wrong."""
    for name, design in DATA["designs"].items():
        yield name, Question(path=f"/v1/designs/{name}")
        wrong = ({choice: said} for choice in design["choices"] for said in SAID)
        every = {urlencode(chosen): chosen for chosen in ({}, *corners(design["choices"]), *wrong)}
        for query, chosen in every.items():
            told = " ".join(f"{choice}={said}" for choice, said in chosen.items()) or "as it is offered"
            for what in ("choices", "pattern.json", "price"):
                yield f"{name}, {what}, {told}", Question(path=f"/v1/designs/{name}/{what}" + f"?{query}" * bool(query))


def corners(choices: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The least, usual and greatest of all ranges in every combination, with each value of each other choice."""
    ranges = {name: [each["from"], each["default"], each["to"]] for name, each in choices.items() if "from" in each}
    values = [{name: each["value"]} for name in choices for each in choices[name].get("values", ())]
    for other, size in product([{}, *values], product(*ranges.values())):
        yield other | dict(zip(ranges, size, strict=True))
