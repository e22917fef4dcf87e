"""Kept pictures given before the framework: in nothing but speed unlike what the app itself answers."""

import re

import pytest

from service.app import create_app
from service.door.machine.front_cache import FrontCache
from service.settings import Settings
from tests.support.door import HANGING, HARNESS

OF_ONE_REQUEST = {"X-Request-Id", "Server-Timing"}


@pytest.fixture
def fresh(shop):
    """A caller of a service that has answered nothing yet."""
    return create_app(Settings(), shop).test_client()


@pytest.fixture
def url(fresh):
    return f"/v1/patterns/{fresh.post('/v1/patterns', json=HANGING).json['code']}"


def lasting(answer):
    return sorted((name, value) for name, value in answer.headers if name not in OF_ONE_REQUEST)


def spared(answer):
    """Whether the framework was spared: it would have told more stages."""
    return re.fullmatch(r"cache;desc=hit, total;dur=[0-9.]+", answer.headers["Server-Timing"]) is not None


@pytest.mark.parametrize("form", [".svg", ".json", ".png?width_px=300", ".pdf", ".svg?units=mm"])
def test_the_second_answer_is_early_and_alike(fresh, url, form):
    first, second = fresh.get(url + form), fresh.get(url + form)
    assert (spared(first), spared(second)) == (False, True)
    assert first.data == second.data
    assert lasting(first) == lasting(second)
    assert re.fullmatch("[0-9a-f]{32}", second.headers["X-Request-Id"])
    assert fresh.get(url + form, headers={"X-Request-Id": "mine"}).headers["X-Request-Id"] == "mine"
    assert fresh.get(url + form, headers={"X-Request-Id": "a b"}).headers["X-Request-Id"] != "a b"


def test_what_is_not_plain_goes_on_to_the_app(fresh, url):
    fresh.get(url + ".svg")
    tag = fresh.get(url + ".svg").headers["ETag"]
    assert fresh.get(url + ".svg", headers={"If-None-Match": tag}).status_code == 304
    assert not spared(fresh.get(url + ".svg", headers={"Authorization": "Bearer a-key"}))
    assert fresh.head(url + ".svg").data == b""
    assert fresh.options(url + ".svg").status_code == 204
    assert fresh.post(url + ".svg").status_code == 405
    assert fresh.get(url + ".svg?colour=red").status_code == 422
    for accept in ("image/svg+xml", "application/json"):
        assert fresh.get(url, headers={"Accept": accept}).mimetype == accept
        assert not spared(fresh.get(url, headers={"Accept": accept}))


def test_a_refusal_is_never_early(fresh):
    for _ in range(3):
        answer = fresh.get("/v1/patterns/e30.svg")
        assert answer.status_code == 422
        assert not answer.headers.get("Server-Timing", "").startswith("cache;desc=hit, total")


def test_what_has_been_let_go_is_made_again(shop):
    client = create_app(Settings(kept_bytes=1_500_000), shop).test_client()
    code = client.post("/v1/patterns", json=HARNESS).json["code"]
    url = f"/v1/patterns/{code}.svg"
    first = client.get(url)
    assert spared(client.get(url))
    for width in range(300, 420):
        client.get(f"/v1/patterns/{code}.png?width_px={width}")
    again = client.get(url)
    assert not spared(again)
    assert (again.data, lasting(again)) == (first.data, lasting(first))


@pytest.mark.parametrize("settings", [{"cors_origins": "https://a.example"}, {"rate_per_minute": 100}])
def test_where_an_answer_depends_on_who_asks_none_is_early(shop, settings):
    client = create_app(Settings(**settings), shop).test_client()
    assert not isinstance(client.application.wsgi_app, FrontCache)
    url = f"/v1/patterns/{client.post('/v1/patterns', json=HANGING).json['code']}.svg"
    answers = [client.get(url, headers={"Origin": "https://a.example"}) for _ in range(2)]
    assert not any(spared(each) for each in answers)


def test_an_early_answer_is_counted_and_logged(fresh, url, capfd):
    fresh.get(url + ".svg")
    before = fresh.get("/metrics").text
    capfd.readouterr()
    fresh.get(url + ".svg", headers={"X-Request-Id": "mine"})
    assert '"request_id":"mine","route":"get_pattern_svg","method":"GET","status":200' in capfd.readouterr().out

    def count(text):
        return float(re.search(r'requests_total\{method="GET",route="get_pattern_svg",status="200"\} (\S+)', text)[1])

    assert count(fresh.get("/metrics").text) == count(before) + 1
