"""What two versions are asked: every kind of question, and how many there are of it."""

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from openapi.example_requests import REQUESTS, examples
from service.shop_file import demo_shop
from tests.support.random_straps import random_strap
from tests.support.variations import variations

JSON, SVG, PNG, PDF = "application/json", "image/svg+xml", "image/png", "application/pdf"
PATTERNS = "/v1/patterns"
Change = dict[str, Any]
"""Of a shop file: its `way` in the file, and the `value` set there; without one, what is there is taken out."""


@dataclass(frozen=True, slots=True)
class Question:
    """One request, with a body where it is sent, of the demo shop or of one that differs from it."""

    path: str = PATTERNS
    body: Any = None
    accept: str = JSON
    shop: tuple[Change, ...] = ()

    @property
    def asked(self) -> dict[str, Any]:
        """What is told to the process that asks it."""
        sent = {} if self.body is None else {"body": self.body}
        return {"path": self.path, "accept": self.accept, "shop": list(self.shop), **sent}


Named = Iterator[tuple[str, Question]]
Kind = Callable[[int], Named]
"""Questions with a name each; so many of them where they are drawn at random."""


def of_examples(_count: int) -> Named:
    """Every example: its pattern, its drawings and pages, its quote."""
    views = {f"{view} drawing": (f"?view={view}", SVG) for view in ("pattern", "finished")}
    views |= {"cutting drawing": ("?view=cutter&kerf=0.2mm", SVG), "picture": ("?width_px=500", PNG)}
    views |= {"pages": ("?paper=a4", PDF), "finished picture": ("?view=finished", PNG)}
    for name, spec in examples().items():
        yield name, Question(body=spec)
        yield f"{name}, quote", quote_of(spec)
        for view, (query, accept) in views.items():
            yield f"{name}, {view}", Question(path=PATTERNS + query, body=spec, accept=accept)


def of_changed_examples(_count: int) -> Named:
    """Every example with every small change that a caller may make by mistake or try next."""
    for name, spec in sorted(examples().items()):
        for place, what, changed in variations(spec, ids(), "Spec"):
            yield f"{name}: {place or '/'} {what}", Question(body=changed)


def of_requests(_count: int) -> Named:
    """Every example of a quote, a cut plan and a work order, as it is and with every small change."""
    schemas = {"quotes": "QuoteRequest", "cut_plans": "CutPlanRequest", "work_orders": "WorkOrderRequest"}
    for file in sorted(REQUESTS.rglob("*.json")):
        path = "/v1/" + file.parent.name.replace("_", "-")
        document = json.loads(file.read_text(encoding="utf-8"))
        yield file.stem, Question(path=path, body=document)
        for place, what, changed in variations(document, ids(), schemas[file.parent.name]):
            yield f"{file.stem}: {place or '/'} {what}", Question(path=path, body=changed)


def of_odd_straps(count: int) -> Named:
    """Odd straps by seed."""
    for seed in range(count):
        yield f"odd strap {seed}", Question(body=random_strap(seed))


def of_odd_quotes(count: int) -> Named:
    """A quote for three of an odd strap."""
    for seed in range(count):
        yield f"quote of odd strap {seed}", quote_of(random_strap(seed), 3)


def of_words(_count: int) -> Named:
    """What is asked for in the words of a person: lengths, codes, and the whole shop."""
    for length in LENGTHS:
        for units in ("in", "mm"):
            yield f"a length of {length!r} in {units}", Question(body=_strap_of(length, units))
    for code in CODES:
        yield f"the code {code[:20]}", Question(path=f"{PATTERNS}/{code}.json")
    for path in ("/v1/shop", "/v1/shop?units=in", "/v1/designs"):
        yield path, Question(path=path)


def quote_of(spec: Any, quantity: int = 1) -> Question:
    """The quote for so many of a strap."""
    return Question(path="/v1/quotes", body={"lines": [{"ref": "A", "spec": spec, "quantity": quantity}]})


def ids() -> list[list[str]]:
    """Families of names of which any other may stand for one."""
    shop = demo_shop()
    families = (shop.leathers, shop.fasteners, shop.buckles, shop.ornaments, shop.round_punches, shop.designs)
    return [list(family) for family in families]


def _strap_of(length: object, units: str) -> dict[str, Any]:
    return {"construction": "open", "units": units, "size": {"finished_length": length}}


CODES = ("x", "x" * 8000, "eyJ9", "e30", "W10", "bnVsbA", "eyJhIjox", "e+30", "eyJjb25zdHJ1Y3Rpb24iOiJvcGVuIn0", "_-_-")
LENGTHS = (
    "", " ", "1", "12 in", "12in", "12 IN.", "-1 in", "\u22121 mm", "+400 mm", "1/0 in", "0/5 in", "12 1/2",
    "12-1/2 in", "12 - 1/2 in", "110/7 in", "1 1 1/2 in", ".5 in", "12. in", "4e2 mm", "401,5 mm", "400.0000001 mm",
    "37/3 in", "1202/3 mm", "24½ in", "½ in", "½½ in", "24 1 \u2044 2 in", "24 1/2\u2033", "24 1/2\u201d", "3 feet",
    "3 ft", "1 m", "30 cm", "30 inches", "30 inch", "400 millimetres", "3 qq", "in", "mm 3", "9" * 39, "9" * 40,
    "9" * 41, "100 m", "100.0000001 m", "nan", "inf", "0x10 mm", "٣ mm", "12\n in", "12\tin", 0, 12, -1, 10**9, 10**11,
    12.5, -0.5, 400.0000001, 1e-31, 1e9, 1e300,
)  # fmt: skip
"""Fractions and decimals in both units, in many words; and what is no length, or is beyond all bounds."""
