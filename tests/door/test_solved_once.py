"""No strap is solved twice for one request: counted, not timed."""

import sys
from collections import Counter

import pytest

from openapi.example_requests import examples
from service.app import create_app
from service.settings import Settings
from service.shop_file import demo_shop
from service.strap.solve import solve
from tests.support.door import HANGING

DESIGNS = sorted(demo_shop().designs)
PATHS = ("pattern", "pattern.svg", "pattern.png?view=finished", "pattern.pdf", "price", "choices")
TOO_MANY = "length=15in&bells=10"
"""More bells than there is room for."""


@pytest.fixture
def fresh(shop):
    """A caller of a service that has answered nothing yet."""
    return create_app(Settings(), shop).test_client()


@pytest.fixture
def solved(monkeypatch):
    """How often each spec is solved, whoever asks for it."""
    times = Counter()

    def counted(spec, *more):
        times[spec] += 1
        return solve(spec, *more)

    for name, module in list(sys.modules.items()):
        if name.startswith("service.") and getattr(module, "solve", None) is solve:
            monkeypatch.setattr(module, "solve", counted)
    return times


@pytest.mark.parametrize("design", DESIGNS)
@pytest.mark.parametrize("path", PATHS)
def test_a_design_is_solved_once_for_what_is_asked_of_it(fresh, solved, design, path):
    assert fresh.get(f"/v1/designs/{design}/{path}").status_code == 200
    assert set(solved.values()) == {1}
    assert len(solved) == 1 or path == "choices"


@pytest.mark.parametrize("design", DESIGNS)
def test_a_page_solves_each_strap_that_it_offers_once(fresh, solved, design):
    assert fresh.get(f"/designs/{design}").status_code == 200
    assert set(solved.values()) == {1}


@pytest.mark.parametrize(
    "path", ["/designs/bell_garter", "/v1/designs/bell_garter/pattern", "/v1/designs/bell_garter/price"]
)
def test_what_cannot_be_made_is_solved_once_too(fresh, solved, path):
    answer = fresh.get(f"{path}?{TOO_MANY}")
    for_buyers = path[1] == "d"
    assert (answer.status_code, "overlap" in answer.text) == ((200, False) if for_buyers else (422, True))
    assert "there is room for at most" in answer.text
    assert set(solved.values()) == {1}


@pytest.mark.parametrize("accept", ["application/json", "image/svg+xml", "image/png", "application/pdf"])
def test_a_posted_strap_and_its_code_are_solved_once(fresh, solved, accept):
    answer = fresh.post("/v1/patterns", json=HANGING, headers={"Accept": accept})
    assert answer.status_code == 200
    assert list(solved.values()) == [1]
    again = fresh.get(answer.headers["Content-Location"])
    assert again.data == answer.data
    assert list(solved.values()) == [1]


def test_a_sealed_strap_is_solved_once(fresh, solved):
    sealed = fresh.post("/v1/patterns", json=examples()["goat_collar_centrepiece"]).json["sealed"]
    solved.clear()
    assert fresh.get(f"/v1/patterns/{sealed}.svg").status_code == 200
    assert list(solved.values()) == [1]
