"""What callers are told, word by word: the shop, its designs, quotes and plans, and what becomes of small changes.

`./tests/run --accept` renews the golden files in `told/`. A strap that can be made is kept as a digest of its whole
pattern; one that cannot is kept with its faults and remedies as they are read.
"""

import hashlib
import json
import tomllib
from collections import defaultdict
from decimal import Decimal
from pathlib import Path

import pytest
from marshmallow import ValidationError

from openapi.build import REQUESTS, examples
from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop_file import DEMO, demo_shop, dotted
from tests.golden.review import ACCEPT, Difference, pretty, write_review
from tests.golden.variations import changed, leaves, variations
from tests.schemas.test_shop_file import SPOILED

HERE = Path(__file__).parent
TOLD = HERE / "told"
SHOP = demo_shop()
IDS = [
    list(family)
    for family in (SHOP.leathers, SHOP.fasteners, SHOP.buckles, SHOP.ornaments, SHOP.round_punches, SHOP.designs)
]
WIDE = {"shortest_one_piece", "shortest_open", "shortest_three_piece", "parade_harness_strap"}
"""Examples that members are added to as well."""


def compare(name: str, part: str, found: object) -> None:
    """Hold what was found against that part of what is kept, or keep it."""
    path = TOLD / f"{name}.json"
    whole = json.loads(path.read_bytes()) if path.exists() else {}
    if ACCEPT:
        TOLD.mkdir(exist_ok=True)
        path.write_bytes(pretty(whole | {part: found}))
    elif whole.get(part) != json.loads(json.dumps(found)):
        texts = [pretty(each) for each in (whole.get(part), found)]
        page = write_review(HERE / f"review-{name}.html", [Difference(f"{name} {part}", ".json", *texts)])
        pytest.fail(f"differs: look at {page}, then tests/run --accept")


def outcome(answer) -> object:
    """What an answer says, in short."""
    assert answer.status_code in (200, 404, 414, 422)
    if answer.status_code == 200:
        document = {name: value for name, value in answer.json.items() if name not in ("code", "spec")}
        return "made " + hashlib.sha256(json.dumps(document, sort_keys=True).encode()).hexdigest()[:12]
    errors = [
        f"{each['pointer'] if 'pointer' in each else each['parameter']} {each['code']}: {each['detail']}"
        for each in answer.json.get("errors", ())
    ]
    remedies = [f"{each['detail']} {json.dumps(each['changes'])}" for each in answer.json.get("remedies", ())]
    return [answer.json["code"], answer.json["detail"], *errors, *remedies]


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


STRAPS = json.loads((HERE / "straps.json").read_text(encoding="utf-8"))
"""Straps of every kind that can be made, and one or two for each way and place of being refused."""
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


WRONG = (
    True,
    0,
    -1,
    Decimal("0.5"),
    Decimal("1e9"),
    "",
    "x",
    "3 qq",
    "-1 in",
    "0",
    "900 in",
    "1/0 in",
    [],
    ["x", "x"],
    {},
    {"x": 1},
)
"""What any key of the shop file may be set to by mistake."""


@pytest.mark.parametrize("number", range(len(WRONG)))
def test_every_mistake_in_a_shop_file_is_told_as_it_was(number):
    data = tomllib.loads(DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
    for path, _ in list(leaves(data)):
        data = changed(data, path, WRONG[number])
    compare(f"shop_file-{number:02}", "mistakes", mistakes(data))


@pytest.mark.parametrize("number", range(len(SPOILED)))
def test_one_mistake_in_a_shop_file_is_told_as_it_was(number):
    old, new, _ = SPOILED[number]
    text = DEMO.read_text(encoding="utf-8").replace(old, new, 1)
    compare("shop_file-spoiled", new, mistakes(tomllib.loads(text, parse_float=Decimal)))


def mistakes(data) -> dict[str, str]:
    try:
        SHOP_SCHEMA.load(data)
    except ValidationError as error:
        return {dotted(fault.path): f"{fault.code}: {fault.detail}" for fault in faults_of(error.messages, SHOP_SCHEMA)}
    return {}


def test_nothing_told_is_left_over():
    wanted = {
        "codes",
        "shop",
        "shop_file-spoiled",
        *STRAPS,
        *REQUESTED,
        *(f"changed-{name}" for name in (*examples(), *REQUESTED)),
    }
    wanted |= {f"design-{name}" for name in SHOP.designs} | {f"shop_file-{number:02}" for number in range(len(WRONG))}
    assert {path.stem for path in TOLD.glob("*")} == wanted
