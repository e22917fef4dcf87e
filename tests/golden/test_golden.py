"""Every example as a maker reads it: pieces, checks, hardware, steps, cautions, price; and a small picture.

Texts of which no reader sees a difference (drawings, codes, seals) are kept as digests. What of a drawing became
otherwise is shown by `tests/compare`. PNG is compared by pixels, since bytes differ between versions of cairo.
"""

import pytest

from openapi.example_requests import examples
from tests.golden.kept import digest, hold, names_in, told
from tests.support.sections import sections

MADE = [name for name in sorted(examples()) if not name.startswith("refused")]
UNREAD = ("code", "sealed")
VIEWS = ("view=pattern", "view=finished", "view=worn", "view=cutter&kerf=0.2mm")


def pattern_of(client, name: str) -> dict:
    answer = client.post("/v1/patterns", json=examples()[name])
    assert answer.status_code == 200
    return answer.json


def digests(client, spec: dict, document: dict) -> dict[str, str]:
    """Of each drawing, of the code and of the seal."""
    found = {name: digest(document[name]) for name in UNREAD}
    for view in VIEWS:
        answer = client.post(f"/v1/patterns?{view}", json=spec, headers={"Accept": "image/svg+xml"})
        assert answer.status_code == 200
        found[view] = digest(answer.data)
    return found


def price(client, spec: dict) -> dict:
    """What one strap costs, and why."""
    answer = client.post("/v1/quotes", json={"lines": [{"ref": "one", "quantity": 1, "spec": spec}]})
    assert answer.status_code == 200
    line = answer.json["lines"][0]
    return {name: value for name, value in line.items() if name != "sealed"}


@pytest.mark.parametrize("name", MADE)
def test_the_example_is_as_it_was(name, client):
    spec, document = examples()[name], pattern_of(client, name)
    read = {member: value for member, value in document.items() if member not in (*UNREAD, "shop")}
    read |= {"price": price(client, spec), "digests": digests(client, spec, document)}
    hold(f"examples/{name}.txt", sections(read))


@pytest.mark.parametrize("name", MADE)
def test_the_example_looks_as_it_did(name, client):
    answer = client.post("/v1/patterns?width_px=500", json=examples()[name], headers={"Accept": "image/png"})
    assert answer.status_code == 200
    hold(f"examples/{name}.png", answer.data)


def test_the_refused_example_is_refused_as_it_was(client):
    name = "refused_too_many_bells"
    answer = client.post("/v1/patterns", json=examples()[name])
    assert answer.status_code == 422
    hold(f"examples/{name}.txt", told(answer))


def test_no_example_is_left_over():
    assert names_in("examples") == set(examples())
