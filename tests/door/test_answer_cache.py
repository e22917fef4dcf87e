"""Answers kept in memory, refusals too: found before anything is made, within their budget, faults of ours never."""

import json
import random
import time
from base64 import urlsafe_b64encode
from concurrent.futures import ThreadPoolExecutor

import pytest

from service.app import create_app
from service.desk.pipeline import PatternRequest
from service.door.errors import Busy
from service.door.machine.answer_cache import LARGEST_SHARE, OVERHEAD, AnswerCache, Located, LruCache
from service.settings import Settings
from tests.support.door import GARTER, HANGING, HARNESS, REFUSED


@pytest.fixture
def counted(monkeypatch):
    """How many patterns are made."""
    made = []
    original = PatternRequest.make

    def make(asked, shop):
        made.append(asked)
        return original(asked, shop)

    monkeypatch.setattr(PatternRequest, "make", make)
    return made


@pytest.fixture
def fresh(shop):
    """A caller of a service that has answered nothing yet."""
    return create_app(Settings(), shop).test_client()


def post(client, spec, **headers):
    return client.post("/v1/patterns", json=spec, headers=headers)


def test_the_same_request_is_made_once_and_answered_alike(fresh, counted):
    first, second = post(fresh, GARTER), post(fresh, GARTER)
    assert (first.status_code, first.data) == (second.status_code, second.data) == (200, first.data)
    assert first.headers["ETag"] == second.headers["ETag"]
    assert first.headers["Content-Location"] == second.headers["Content-Location"]
    assert len(counted) == 1
    assert first.headers["Server-Timing"].startswith("cache;desc=miss")
    assert second.headers["Server-Timing"].startswith("cache;desc=hit")


def test_another_spelling_of_the_same_strap_is_not_made_again(fresh, counted):
    first = post(fresh, {"construction": "open", "size": {"body_length": "24 1/2 in"}})
    second = post(fresh, {"size": {"body_length": "622.3 mm"}, "ornaments": None, "construction": "open"})
    third = fresh.get(second.headers["Content-Location"])
    assert first.data == second.data == third.data
    assert len(counted) == 1


def test_what_shapes_an_answer_keeps_it_apart(fresh, counted):
    code = post(fresh, HARNESS).json["code"]
    urls = (".svg", ".svg?units=mm", ".png?width_px=300", ".png?width_px=301", ".svg?piece=body", ".json")
    contents = [fresh.get(f"/v1/patterns/{code}{url}").data for url in urls]
    assert len(set(contents)) == len(urls)
    assert len(counted) == len(urls)  # the JSON was made by the POST


def test_a_negotiated_answer_keeps_its_own_location(fresh):
    """The suffix says the form to everybody, so an SVG by `Accept` is located by its suffix, by `.json` with it."""
    code = post(fresh, HANGING).json["code"]
    for _ in range(2):
        assert fresh.get(f"/v1/patterns/{code}.json").headers["Content-Location"].endswith(".json")
        assert fresh.get(f"/v1/patterns/{code}").headers["Content-Location"] == f"/v1/patterns/{code}"


@pytest.mark.parametrize(("error", "status"), [(Busy(), 503), (RuntimeError("a fault of ours"), 500)])
def test_what_went_wrong_here_is_not_kept(error, status, fresh, monkeypatch):
    def broken(*_):
        raise error

    with monkeypatch.context() as patched:
        patched.setattr(PatternRequest, "make", broken)
        assert post(fresh, GARTER).status_code == status
    assert post(fresh, GARTER).status_code == 200


def test_304_and_head_come_from_memory_too(fresh, counted):
    location = post(fresh, HANGING).headers["Content-Location"]
    got = fresh.get(location)
    assert fresh.head(location).headers["Content-Length"] == str(len(got.data))
    unchanged = fresh.get(location, headers={"If-None-Match": got.headers["ETag"]})
    assert (unchanged.status_code, unchanged.data) == (304, b"")
    assert len(counted) == 1


def test_a_budget_of_nothing_keeps_nothing(shop, counted):
    client = create_app(Settings(kept_bytes=0), shop).test_client()
    assert post(client, GARTER).data == post(client, GARTER).data
    assert len(counted) == 2


def test_the_least_recently_wanted_goes_first():
    kept = LruCache(10 * (OVERHEAD + 100))
    for n in range(10):
        kept.put(bytes([n]), n, 100)
    assert kept.get(b"\0") == 0
    kept.put(b"new", 10, 100)
    assert kept.get(b"\0") == 0
    assert kept.get(b"\1") is None
    assert kept.held == 10 * (OVERHEAD + 100)


def test_one_large_value_does_not_push_out_the_others():
    kept = LruCache(8000)
    kept.put(b"small", 1, 100)
    kept.put(b"edge", 2, 8000 // LARGEST_SHARE - OVERHEAD)
    kept.put(b"beyond", 3, 8000 // LARGEST_SHARE - OVERHEAD + 1)
    assert [kept.get(key) for key in (b"small", b"edge", b"beyond")] == [1, 2, None]


def test_a_value_kept_again_is_counted_once():
    kept = LruCache(10_000)
    for _ in range(50):
        kept.put(b"a", 1, 500)
    assert (len(kept), kept.held) == (1, 500 + OVERHEAD)


def test_threads_may_share_it_and_the_budget_holds():
    budget = 50_000
    answers = AnswerCache(budget)

    def work(seed):
        dice = random.Random(seed)
        for _ in range(2000):
            n = dice.randrange(300)
            if answers.located(str(n).encode()) is None:
                answers.put(str(n).encode(), Located(f"tag{n}", f"/{n}"), f"{n}".encode() * dice.randint(1, 300))
            content = answers.content(f"tag{n}")
            assert content is None or content.startswith(str(n).encode())
            assert answers.held <= budget + 2 * 1200

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(work, range(4)))
    assert 0 < answers.held <= budget


def test_a_forgotten_answer_is_made_again(shop, counted):
    """The way to an answer may be remembered longer than the answer: then the spec is read once more."""
    client = create_app(Settings(), shop).test_client()
    first = post(client, GARTER)
    found = [each for each in client.application.view_functions["make_pattern"].args if hasattr(each, "cache")]
    contents = found[0].cache._contents
    contents._entries.clear()
    assert post(client, GARTER).data == first.data
    assert len(counted) == 2


@pytest.mark.parametrize("jump", [-400 * 86_400, 400 * 86_400])
@pytest.mark.parametrize("accept", ["application/json", "image/svg+xml", "image/png", "application/pdf"])
def test_a_clock_that_jumps_changes_no_answer(shop, monkeypatch, jump, accept):
    before = post(create_app(Settings(), shop).test_client(), HANGING, Accept=accept)
    now = time.time
    monkeypatch.setattr(time, "time", lambda: now() + jump)
    client = create_app(Settings(), shop).test_client()
    for _ in range(2):
        after = post(client, HANGING, Accept=accept)
        assert (after.status_code, after.data) == (200, before.data)
        assert after.headers["ETag"] == before.headers["ETag"]


@pytest.mark.parametrize("by", ["POST", "code", "choices", "price"])
def test_what_would_help_is_looked_for_once(by, fresh, monkeypatch):
    """What is told again is what was told, but for the request's own id."""
    looked_for = []
    monkeypatch.setattr("service.desk.pipeline.find_remedies", lambda *args: looked_for.append(args) or ())
    monkeypatch.setattr("service.workshop.offers.Offers.ways_out", lambda *args: looked_for.append(args) or ())
    first, second = (ask_for_too_much(fresh, by) for _ in range(2))
    assert [first.status_code, second.status_code] == [422, 422]
    assert first.json | {"request_id": ""} == second.json | {"request_id": ""}
    assert first.json["errors"]
    assert len(looked_for) == 1


def ask_for_too_much(caller, by):
    if by == "POST":
        return post(caller, REFUSED)
    if by == "code":
        return caller.get(f"/v1/patterns/{urlsafe_b64encode(json.dumps(REFUSED).encode()).decode().rstrip('=')}.svg")
    path = {"choices": "pattern.png", "price": "price"}[by]
    return caller.get(f"/v1/designs/bell_garter/{path}?length=15in&bells=10")
