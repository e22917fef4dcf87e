"""Orders as CSV, well meant and hostile; and what both forms of orders share."""

import csv
import json
import random
from collections.abc import Callable
from io import StringIO
from typing import Any

from service.schemas.exports import MORE, OWN
from service.shop.designs import Options
from service.shop_file import demo_shop
from tests.attacks.doors import spoiled
from tests.attacks.judging import LIMIT_MS, LINE_MS, Request

COLUMNS = (*OWN, *MORE, "length", "bells", "spots", "bell", "leather", "width")
_WRONG = (
    "",
    "=1",
    "A" * 99,
    "no_such",
    "x" * 500,
    "0",
    "-1",
    "1e3",
    "9" * 40,
    "yes",
    "|",
    "M|M",
    "eyJ9",
    "\u202e",
    "½",
)


def chosen_text(dice: random.Random, choice: Any) -> str:
    """What a choice is set to: offered, at the edge, or neither."""
    if dice.random() < 0.05:
        return dice.choice(("", "0", "-1", "1e3", "9 in" * 9, "½", "x" * 300, "12 in\u0000"))
    offer = choice.offer
    if isinstance(offer, Options):
        value: Any = dice.choice(list(offer))
    else:
        value = dice.choice((offer.least, offer.most, dice.choice(list(offer)), dice.choice(list(offer))))
    return f"{value / 1e6} mm" if choice.is_length and isinstance(value, int) else str(value)


def distinct(lines: Any) -> int:
    """How many lines are not the same but for their ref."""
    listed = lines if isinstance(lines, list) else []
    own = ({**line, "ref": ""} if isinstance(line, dict) else line for line in listed)
    return len({json.dumps(each, sort_keys=True) for each in own})


def a_table(dice: random.Random) -> Request:
    """Orders as CSV, in our columns or a storefront's, well meant or spoiled."""
    export = demo_shop().exports["web_shop"] if dice.random() < 0.3 else None
    columns = export.columns if export else {name: name for name in COLUMNS}
    designs = list((export.values["design"] if export else demo_shop().designs).values())
    design = dice.choice(designs) if export is None else demo_shop().designs[dice.choice(designs)]
    is_well_meant = dice.random() < 0.7
    own = [each.name for each in design.choices if each.name in columns]
    names = own if is_well_meant else dice.sample(list(columns), dice.randint(1, len(columns)))
    kept = {name: _cells(dice, name, design, 0.002 if is_well_meant else 0.1) for name in ("ref", "design", *names)}
    lines = [{columns[name]: make() for name, make in kept.items()} for _ in range(dice.choice((1, 1, 2, 5, 20, 201)))]
    path = dice.choice(("/v1/quotes", "/v1/quotes", "/v1/work-orders"))
    spoiling = None if is_well_meant or dice.random() < 0.5 else dice
    return tabled(path + ("?columns=web_shop" if export else ""), {"lines": lines}, spoiling)


def _cells(dice: random.Random, name: str, design: Any, ill: float) -> Callable[[], str]:
    """What makes the cells of a column, wrong with the chance `ill`."""
    offered = {each.name: each for each in design.choices}
    good = {
        "ref": lambda: f"A{dice.randrange(10**9)}",
        "design": lambda: design.name,
        "quantity": lambda: dice.choice(("", "1", "3")),
        "pair": lambda: dice.choice(("", "", "true", "false")),
        "sizes": lambda: dice.choice(("", "", "", "S", "S|M")),
        "code": lambda: "",
    }
    usual = good.get(name, lambda: chosen_text(dice, offered[name]) if name in offered else "")
    return lambda: dice.choice(_WRONG) if dice.random() < ill else usual()


def tabled(path: str, document: Any, spoiling: random.Random | None = None) -> Request:
    """Orders as CSV: what their pointers lead into, written as a table. What is spoiled has no remedies."""
    columns = list(dict.fromkeys(name for line in document["lines"] for name in line))
    out = StringIO()
    csv.DictWriter(out, columns).writeheader()
    csv.DictWriter(out, columns, restval="").writerows(document["lines"])
    text = spoiled(spoiling, out.getvalue()) if spoiling else out.getvalue()
    return Request(
        door="raw" if spoiling else "table",
        path=path,
        method="POST",
        body=text.encode("utf-8", "surrogatepass"),
        headers={"Content-Type": "text/csv", "Accept": "application/json"},
        limit_ms=LIMIT_MS + LINE_MS * distinct(document["lines"]) * (1 if path.startswith("/v1/quotes") else 4),
        document=document,
        again=None if spoiling else lambda mended: tabled(path, mended),
    )
