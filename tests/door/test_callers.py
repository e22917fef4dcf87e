"""Who may ask, and how often: rates, origins."""

import shutil
import subprocess

import pytest

from service.app import create_app
from service.door.machine.rates import caller
from service.settings import Settings, SettingsError, read_settings
from tests.support.door import HANGING
from tests.support.serving import free_port, wait_for


def limited(shop, **more):
    return create_app(Settings(rate_per_minute=3, **more), shop).test_client()


def test_beyond_its_rate_a_caller_is_refused_with_when_to_come_again(shop):
    """RFC 6585, section 4: 429 may say how long to wait by Retry-After."""
    client = limited(shop)
    assert [client.get("/v1/shop").status_code for _ in range(3)] == [200] * 3
    refused = client.get("/v1/shop")
    assert (refused.status_code, refused.mimetype) == (429, "application/problem+json")
    assert refused.json["code"] == "too_often"
    assert 1 <= int(refused.headers["Retry-After"]) <= 60
    assert f"{refused.headers['Retry-After']} s" in refused.json["detail"]
    assert refused.headers["Cache-Control"] == "no-store"
    assert refused.headers["X-Request-Id"] == refused.json["request_id"]
    assert refused.headers["Access-Control-Allow-Origin"] == "*"


def test_the_rate_is_of_all_paths_together_but_not_of_probes_and_preflights(shop):
    client = limited(shop)
    for _ in range(5):
        assert client.get("/health/live").status_code == 200
        assert client.get("/metrics").status_code == 200
        assert client.options("/v1/patterns").status_code == 204
    paths = ("/v1/shop", "/openapi.json", "/docs", "/v1/shop", "/openapi.json")
    assert [client.get(path).status_code for path in paths] == [200, 200, 200, 429, 429]


def test_callers_are_told_apart_by_the_address_that_the_trusted_proxy_gives(shop):
    client = limited(shop, proxies=1)
    for n in range(3):
        assert client.get("/v1/shop", headers={"X-Forwarded-For": f"10.9.9.{n}, 203.0.113.5"}).status_code == 200
    assert client.get("/v1/shop", headers={"X-Forwarded-For": "10.9.9.9, 203.0.113.5"}).status_code == 429
    assert client.get("/v1/shop", headers={"X-Forwarded-For": "203.0.113.6"}).status_code == 200


@pytest.mark.parametrize("address", ["203.0.113.7:{port}", "[2001:db8::1]:{port}"])
def test_a_caller_is_the_same_whatever_port_the_proxy_tells(shop, address):
    client = limited(shop, proxies=1)
    told = [{"X-Forwarded-For": address.format(port=port)} for port in range(4711, 4715)]
    assert [client.get("/v1/shop", headers=each).status_code for each in told] == [200, 200, 200, 429]


def test_without_a_trusted_proxy_a_forwarded_address_is_not_believed(shop):
    client = limited(shop)
    answers = [client.get("/v1/shop", headers={"X-Forwarded-For": f"203.0.113.{n}"}).status_code for n in range(4)]
    assert answers == [200, 200, 200, 429]


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("203.0.113.5", "203.0.113.5"),
        ("::ffff:203.0.113.5", "203.0.113.5"),
        ("::FFFF:cb00:7106", "203.0.113.6"),
        ("2001:db8:1:2:3::9", "2001:0db8:0001:0002"),
        ("203.0.113.7:4711", "203.0.113.7"),
        ("203.0.113.7:_hidden", "203.0.113.7"),
        ("[2001:db8::1]:4711", "2001:0db8:0000:0000"),
        ("[2001:db8::1]", "2001:0db8:0000:0000"),
        ("[::ffff:203.0.113.5]:80", "203.0.113.5"),
        ("", "nobody"),
        ("unix", "nobody"),
        ("unknown", "nobody"),
        ("_hidden:4711", "nobody"),
        ("203.0.113.7:471100", "nobody"),
        ("[203.0.113.7:4711", "nobody"),
    ],
)
def test_a_caller_is_an_address_and_of_ipv6_a_network(app, address, told):
    """RFC 4291, section 2.5.5.2: an IPv4 caller of whoever listens at `[::]` is `::ffff:` and his address.

    RFC 7239, section 6: a proxy may tell a port of one to five digits with it, or an obfuscated one, and then an IPv6
    address in brackets; it may tell no address at all.
    """
    with app.test_request_context(environ_base={"REMOTE_ADDR": address}):
        assert caller() == told


def test_a_store_that_is_away_leaves_the_limit_to_each_process(shop):
    client = limited(shop, rate_store="redis://127.0.0.1:1/0")
    assert [client.get("/v1/shop").status_code for _ in range(4)] == [200, 200, 200, 429]


def test_a_store_with_a_password_is_not_repeated():
    with pytest.raises(SettingsError, match="STRAP_RATE_STORE") as caught:
        read_settings({"STRAP_RATE_STORE": "redis//:hunter@host"})
    assert "hunter" not in str(caught.value)


def test_only_the_named_origins_may_read(shop):
    """The Fetch standard, CORS check; `Vary: Origin` since a cache must tell them apart (RFC 9110, 12.5.5)."""
    client = create_app(Settings(cors_origins="https://a.example https://b.example:8443"), shop).test_client()
    for origin in ("https://a.example", "https://b.example:8443"):
        answer = client.post("/v1/patterns", json=HANGING, headers={"Origin": origin})
        assert answer.headers["Access-Control-Allow-Origin"] == origin
        assert {"Accept", "Origin"} <= {name for value in answer.headers.getlist("Vary") for name in value.split(", ")}
    for origin in ("https://a.example.evil", "http://a.example", "null", None):
        answer = client.get("/v1/shop", headers={"Origin": origin} if origin else {})
        assert "Access-Control-Allow-Origin" not in answer.headers
        assert "Origin" in answer.headers.getlist("Vary")


@pytest.mark.parametrize("text", ["*", "https://a.example", "http://localhost:5000 https://b.example"])
def test_origins_that_are_read(text):
    assert read_settings({"STRAP_CORS_ORIGINS": text}).cors_origins == text


@pytest.mark.parametrize("text", ["a.example", "https://a.example/", "* https://a.example", "https://a b"])
def test_origins_that_are_not(text):
    with pytest.raises(SettingsError, match="STRAP_CORS_ORIGINS"):
        read_settings({"STRAP_CORS_ORIGINS": text})


@pytest.fixture
def redis():
    """A Redis of its own on loopback; gives its URL."""
    server = shutil.which("redis-server")
    if server is None:
        pytest.skip("redis-server is not here")
    port = free_port()
    command = [server, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as process:
        wait_for(port)
        yield f"redis://127.0.0.1:{port}/0", process
        process.terminate()


def test_machines_that_share_a_redis_count_together_and_go_on_without_it(shop, redis):
    url, process = redis
    one, other = (limited(shop, rate_store=url) for _ in range(2))
    assert [each.get("/v1/shop").status_code for each in (one, other, one, other)] == [200, 200, 200, 429]
    process.terminate()
    process.wait(10)
    answers = [one.get("/v1/shop").status_code for _ in range(5)]
    assert set(answers) == {200, 429}
