"""What callers are told, word by word: the shop, its designs, quotes and plans, and what becomes of small changes.

`./tests/run --accept` renews the golden files in `told/`. A strap that can be made is kept as a digest of its whole
pattern; one that cannot is kept with its faults and remedies as they are read.
"""

import json
from collections import defaultdict

import pytest

from openapi.example_requests import REQUESTS, examples
from service.shop_file import demo_shop
from tests.golden.telling import STRAPS, compare, outcome
from tests.support.variations import variations

SHOP = demo_shop()
IDS = [
    list(family)
    for family in (SHOP.leathers, SHOP.fasteners, SHOP.buckles, SHOP.ornaments, SHOP.round_punches, SHOP.designs)
]
WIDE = {"shortest_one_piece", "shortest_open", "shortest_three_piece", "parade_harness_strap"}
"""Examples that members are added to as well."""


def by_member(document: dict, schema: str) -> dict[str, list[tuple[str, dict]]]:
    """Every small change of a document with its name, by the member of the document that it is in."""
    found = defaultdict(list)
    for place, what, changed_so in variations(document, IDS, schema):
        found[place.split("/")[1] if place else "itself"].append((f"{place or '/'} {what}", changed_so))
    return found


CHANGED_EXAMPLES = {
    (name, member): changes
    for name, spec in sorted(examples().items())
    for member, changes in by_member(spec, "Spec" if name in WIDE else "").items()
}


@pytest.mark.parametrize(("name", "member"), CHANGED_EXAMPLES)
def test_what_becomes_of_a_changed_example(name, member, client):
    changes = CHANGED_EXAMPLES[name, member]
    found = {what: outcome(client.post("/v1/patterns", json=document)) for what, document in changes}
    compare(f"changed-{name}", member, found)


GROUPS = [(kind, first) for kind, straps in STRAPS.items() for first in range(0, len(straps), 3)]


@pytest.mark.parametrize(("kind", "first"), GROUPS)
def test_a_strap_is_made_or_refused_as_it_was(kind, first, client):
    group = enumerate(STRAPS[kind][first : first + 3], first)
    found = {f"{number:03}": outcome(client.post("/v1/patterns", json=spec)) for number, spec in group}
    assert all(isinstance(each, str) == (kind == "made") for each in found.values())
    compare(kind, f"from {first:03}", found)


REQUESTED = {f"{path.parent.name}-{path.stem}": path for path in sorted(REQUESTS.rglob("*.json"))}


def asked(name: str) -> dict:
    return json.loads(REQUESTED[name].read_text(encoding="utf-8"))


def address(name: str) -> str:
    return "/v1/" + name.partition("-")[0].replace("_", "-")


def schema_of(name: str) -> str:
    return "QuoteRequest" if name.startswith("quotes") else "CutPlanRequest"


CHANGED_REQUESTS = {
    (name, member): changes for name in REQUESTED for member, changes in by_member(asked(name), schema_of(name)).items()
}


@pytest.mark.parametrize("name", REQUESTED)
def test_a_quote_or_plan_is_as_it_was(name, client):
    compare(name, "answer", client.post(address(name), json=asked(name)).json)


@pytest.mark.parametrize(("name", "member"), CHANGED_REQUESTS)
def test_what_becomes_of_a_changed_request(name, member, client):
    changes = CHANGED_REQUESTS[name, member]
    found = {what: outcome(client.post(address(name), json=document)) for what, document in changes}
    compare(f"changed-{name}", member, found)


@pytest.mark.parametrize("place", ["/v1/shop", "/v1/shop?units=in", "/v1/designs"])
def test_the_shop_and_its_designs_are_as_they_were(place, client):
    compare("shop", place, client.get(place).json)


SAID = ("", "x", "0", "-1", "7", "15in", "380mm", "1e9", "15 1/2 in", "bell_25", "harness_8_9", "true")


@pytest.mark.parametrize("design", SHOP.designs)
@pytest.mark.parametrize("rest", ["", "/choices", "/pattern"])
def test_a_design_and_its_choices_are_as_they_were(design, rest, client):
    place = f"/v1/designs/{design}{rest}"
    found = {place: outcome(client.get(place)) if rest == "/pattern" else client.get(place).json}
    for choice in SHOP.designs[design].choices if rest else ():
        for said in SAID:
            found[f"{choice.name}={said}"] = outcome(client.get(place, query_string={choice.name: said}))
    compare(f"design-{design}", rest or "/", found)


CODES = ("x", "x" * 8000, "eyJ9", "e30", "W10", "bnVsbA", "eyJhIjox", "e+30", "eyJjb25zdHJ1Y3Rpb24iOiJvcGVuIn0", "_-_-")


def test_a_code_that_is_none_is_told_as_it_was(client):
    compare("codes", "answers", {code[:40]: outcome(client.get(f"/v1/patterns/{code}.json")) for code in CODES})


FILES = {
    "codes",
    "shop",
    *STRAPS,
    *REQUESTED,
    *(f"changed-{name}" for name in (*examples(), *REQUESTED)),
    *(f"design-{name}" for name in SHOP.designs),
}
