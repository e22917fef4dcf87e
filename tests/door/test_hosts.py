"""Which hosts are answered for, and that links lead nowhere else."""

import re

import pytest

from service.app import create_app
from service.door.machine.front_cache import FrontCache
from service.settings import Settings, SettingsError, read_settings
from tests.support.door import HANGING

QUIET = ("/health/live", "/health/ready", "/metrics")


def client_of(shop, **settings):
    return create_app(Settings(**settings), shop).test_client()


def status(client, host, path="/v1/shop"):
    return client.get(path, headers={"Host": host}).status_code


@pytest.mark.parametrize(
    "host", ["localhost", "LocalHost:8000", "127.0.0.1", "127.0.0.1:9", "[::1]", "[::1]:8000", "localhost:65535"]
)
def test_this_machines_own_names_need_no_setting(client, host):
    assert status(client, host) == 200


@pytest.mark.parametrize(
    "host",
    [
        "evil.example", "localhost.evil.example", "evil.example:80", "127.0.0.1.evil.example", "localhost:",
        "localhost@evil.example", "evil.example#localhost", "localhost/evil", "127.0.0.2", "127.1", "::1", "[::1",
        "localhost localhost", "localhost,evil.example", "*", "0.0.0.0", "xn--9ca", "localhost:123456", "é",
        "localhost\\evil", "localhost:x",
    ],
)  # fmt: skip
def test_any_other_host_is_misdirected_and_not_repeated(client, host):
    """RFC 9110, section 15.5.20."""
    for path in ("/", "/v1/shop", "/designs/bell_garter", "/nothing", "/embed.js"):
        answer = client.get(path, headers={"Host": host})
        assert (answer.status_code, answer.json["code"]) == (421, "unknown_host")
        assert host not in answer.text or host in ("*", "é")
        assert answer.headers["Cache-Control"] == "no-store"
    assert client.options("/v1/patterns", headers={"Host": host}).status_code == 421
    assert client.post("/v1/patterns", json=HANGING, headers={"Host": host}).status_code == 421


def test_no_host_at_all_is_a_request_that_cannot_be_read(client):
    """RFC 9112, section 3.2: 400 to a request without Host."""
    answer = client.get("/v1/shop", headers={"Host": ""})
    assert (answer.status_code, answer.json["code"]) == (400, "bad_request")


@pytest.mark.parametrize("path", QUIET)
@pytest.mark.parametrize("host", ["", "10.1.2.3:8000", "evil.example"])
def test_machines_ask_for_health_and_figures_under_any_host(client, path, host):
    assert status(client, host, path) == 200


@pytest.mark.parametrize(
    ("settings", "known", "unknown"),
    [
        ({"public_url": "https://Straps.example"}, ["straps.example", "STRAPS.example:443"], ["straps.example:8443"]),
        ({"public_url": "http://straps.example:8080"}, ["straps.example:8080"], ["straps.example"]),
        ({"hosts": ("one.example", "two.example:81")}, ["one.example:80", "two.example:81"], ["one.example:81"]),
        ({"hosts": ("[2001:db8::7]:8000",)}, ["[2001:DB8::7]:8000"], ["[2001:db8::7]", "[2001:db8::8]:8000"]),
        ({"bind": "192.0.2.7:8000"}, ["192.0.2.7:8000"], ["192.0.2.7", "192.0.2.7:9"]),
        ({"bind": "0.0.0.0:8000"}, ["localhost"], ["0.0.0.0:8000", "192.0.2.7:8000"]),
        ({"bind": "[::]:8000"}, ["localhost"], ["[::]:8000"]),
        ({"bind": "unix:/run/strap.sock"}, ["localhost"], ["unix:/run/strap.sock", "unix"]),
        ({"hosts": ("*",), "public_url": "https://straps.example"}, ["evil.example", "é"], []),
    ],
)  # fmt: skip
def test_hosts_that_the_settings_name(shop, settings, known, unknown):
    client = client_of(shop, **settings)
    assert [status(client, host) for host in known] == [200] * len(known)
    assert [status(client, host) for host in unknown] == [421] * len(unknown)


def links(client, host):
    page = client.get("/designs/bell_garter", headers={"Host": host}).text
    return set(re.findall(r"https?://[^/\"&' ]+", page))


def test_links_are_built_on_the_public_url_or_on_a_known_host(shop):
    open_to_any = client_of(shop, hosts=("*",), public_url="https://straps.example")
    for host in ("evil.example", "straps.example", "localhost"):
        assert links(open_to_any, host) == {"https://straps.example"}
    named = client_of(shop, hosts=("one.example",))
    assert links(named, "ONE.example:80") == {"http://one.example"}
    assert links(named, "localhost:8000") == {"http://localhost:8000"}


@pytest.mark.parametrize("name", ["X-Forwarded-Host", "X-Forwarded-Proto", "Forwarded", "X-Forwarded-Prefix"])
@pytest.mark.parametrize("proxies", [0, 1])
def test_no_header_moves_a_link(shop, name, proxies):
    client = client_of(shop, proxies=proxies)
    plain = client.get("/designs/bell_garter").text
    for value in ("evil.example", "https", "host=evil.example;proto=https", "/v1"):
        assert client.get("/designs/bell_garter", headers={name: value}).text == plain


def test_a_kept_picture_is_no_way_past_the_host(shop):
    app = create_app(Settings(), shop)
    client = app.test_client()
    url = f"/v1/patterns/{client.post('/v1/patterns', json=HANGING).json['code']}.svg"
    assert isinstance(app.wsgi_app._app, FrontCache)
    assert [status(client, host, url) for host in ("localhost", "localhost", "evil.example", "127.0.0.1")] == [
        200, 200, 421, 200,
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["straps.example", "A.example b.example:80", "[::1]:80 192.0.2.7", "*"])
def test_hosts_that_are_read(text):
    environment = {"STRAP_HOSTS": text, "STRAP_PUBLIC_URL": "https://straps.example"}
    assert read_settings(environment).hosts == tuple(text.lower().split())


@pytest.mark.parametrize("text", ["https://straps.example", "a/b", "* a.example", "a:", "a_b", "a:123456", "é"])
def test_hosts_that_are_not(text):
    with pytest.raises(SettingsError, match="STRAP_HOSTS"):
        read_settings({"STRAP_HOSTS": text})


def test_any_host_needs_an_address_to_build_links_on():
    with pytest.raises(SettingsError, match="STRAP_HOSTS: any host needs STRAP_PUBLIC_URL"):
        read_settings({"STRAP_HOSTS": "*"})
