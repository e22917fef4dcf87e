"""What callers are told, word by word: refusals with their remedies, the shop, its designs, quotes, plans, lengths."""

import json

import pytest

from openapi.example_requests import REQUESTS
from service.shop_file import demo_shop
from service.strap.errors import LengthError
from service.strap.plane.lengths import exact_text, millimetres, parse_length, reading
from tests.comparing.designs import SAID
from tests.comparing.differing import unsealed
from tests.comparing.questions import CODES, LENGTHS
from tests.golden.kept import digest, hold, names_in, told
from tests.golden.refused import REFUSED
from tests.golden.test_core_told import FILES as CORE_FILES
from tests.golden.test_shop_file_told import FILES as SHOP_FILES
from tests.support.sections import sections


def read(document: dict) -> str:
    """An answer by sections, without what no reader looks at."""
    return sections(unsealed(document))


def outcome(answer) -> str:
    """What becomes of a request, in a few lines."""
    assert answer.status_code in (200, 404, 414, 422)
    return "given\n" if answer.status_code == 200 else told(answer)


def test_straps_are_refused_as_they_were(client):
    found = []
    for spec in REFUSED:
        answer = client.post("/v1/patterns", json=spec)
        assert answer.status_code == 422
        found.append(f"{json.dumps(spec, ensure_ascii=False)}\n{told(answer)}\n")
    hold("told/refusals.txt", "".join(found))


REQUESTED = {f"{path.parent.name}-{path.stem}": path for path in sorted(REQUESTS.rglob("*.json"))}


@pytest.mark.parametrize("name", REQUESTED)
def test_a_quote_or_plan_is_as_it_was(name, client):
    path = REQUESTED[name]
    answer = client.post(f"/v1/{path.parent.name.replace('_', '-')}", json=json.loads(path.read_text(encoding="utf-8")))
    assert answer.status_code == 200
    document = answer.json
    for strap in document.get("straps", ()):  # its pattern is told as that of any spec, the shop's digest nowhere
        strap["pattern"] = digest(json.dumps({**strap["pattern"], "shop": None}))
    hold(f"told/{name}.txt", read(document))


def test_the_shop_and_its_designs_are_as_they_were(client):
    places = ("/v1/shop", "/v1/shop?units=in", "/v1/designs")
    hold("told/shop.txt", "".join(f"######## {place}\n{read(client.get(place).json)}" for place in places))


@pytest.mark.parametrize("design", demo_shop().designs)
def test_a_design_and_what_is_said_of_its_choices_are_as_they_were(design, client):
    place = f"/v1/designs/{design}"
    found = [f"######## {place}{more}\n{read(client.get(place + more).json)}" for more in ("", "/choices")]
    for choice in demo_shop().designs[design].choices:
        for said in SAID:
            answer = client.get(f"{place}/pattern.json", query_string={choice.name: said})
            found.append(f"{choice.name}={said}: {outcome(answer)}")
    hold(f"told/design-{design}.txt", "".join(found))


def test_a_code_that_is_none_is_told_as_it_was(client):
    found = (f"{code[:40]}: {outcome(client.get(f'/v1/patterns/{code}.json'))}" for code in CODES)
    hold("told/codes.txt", "".join(found))


def read_as(value: object, units: str) -> str:
    try:
        length = parse_length(value, units)
    except LengthError as error:
        return error.reason
    return f"{length} nm: {exact_text(length, units)}, {reading(length, units)}, {millimetres(length)}"


def test_lengths_are_read_and_written_as_they_were():
    found = (f"{value!r} {units}: {read_as(value, units)}\n" for value in LENGTHS for units in ("in", "mm"))
    hold("told/lengths.txt", "".join(found))


FILES = {
    "codes",
    "lengths",
    "refusals",
    "shop",
    *CORE_FILES,
    *SHOP_FILES,
    *REQUESTED,
    *(f"design-{name}" for name in demo_shop().designs),
}


def test_nothing_told_is_left_over():
    assert names_in("told") == FILES
