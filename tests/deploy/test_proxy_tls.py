"""Both proxies with TLS, by a certificate made here: what they speak, where they send, what they say.

Versions and ciphers are RFC 9325, sections 3.1.1, 3.1.2 and 4.2; `Strict-Transport-Security` is RFC 6797, sections
6.1.1, 7.1 and 7.2; that 308 keeps method and body is RFC 9110, section 15.4.9.
"""

import http.client
import json
import re
import socket
import ssl
import subprocess
import time
import warnings
from contextlib import contextmanager

import pytest

from tests.support.door import HANGING
from tests.support.proxied import PUBLIC_URL, Certificate, haproxy_tls, nginx_tls
from tests.support.raw import get, head
from tests.support.serving import Instance, program

pytestmark = pytest.mark.slow

HOST = PUBLIC_URL.removeprefix("https://")
YEAR = "max-age=31536000"
PLAIN_HEADERS = {"Host": HOST, "Content-Type": "application/json"}


@pytest.fixture(scope="module")
def certificate(tmp_path_factory):
    """A certificate for the public name, signed by itself."""
    folder = tmp_path_factory.mktemp("tls")
    made = Certificate(folder / "fullchain.pem", folder / "privkey.pem", folder / "both.pem")
    subprocess.run(
        [program("openssl"), "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes",
         "-days", "2", "-subj", f"/CN={HOST}", "-addext", f"subjectAltName=DNS:{HOST}",
         "-keyout", made.key, "-out", made.chain],
        check=True, capture_output=True,
    )  # fmt: skip
    made.both.write_bytes(made.chain.read_bytes() + made.key.read_bytes())
    return made


@pytest.fixture(scope="module")
def pair():
    """Two instances, told where callers reach them and that one proxy is in front."""
    instances = [Instance(workers=1, proxies=1, public_url=PUBLIC_URL) for _ in range(2)]
    yield instances
    for each in instances:
        each.stop()


def fronted(front, instances, certificate, **more):
    try:
        program(front.__name__.removesuffix("_tls"))
    except RuntimeError as error:
        pytest.skip(str(error))
    return front(instances, certificate, **more)


@pytest.fixture(scope="module", params=[haproxy_tls, nginx_tls], ids=["haproxy", "nginx"])
def doors(request, pair, certificate):
    """Either proxy."""
    with fronted(request.param, pair, certificate) as found:
        until_ready(found, certificate)
        yield found


def context(certificate):
    """What trusts this certificate and nothing else."""
    return ssl.create_default_context(cafile=certificate.chain)


@contextmanager
def connected(doors, certificate):
    """A connection with TLS, the certificate and its name verified: as browsers do it."""
    raw = socket.create_connection(("127.0.0.1", doors.tls), timeout=30)
    connection = http.client.HTTPConnection(HOST, timeout=30)
    connection.sock = context(certificate).wrap_socket(raw, server_hostname=HOST)
    try:
        yield connection
    finally:
        connection.close()


def ask(connection, path, method="GET", body=None, **headers):
    connection.request(method, path, body, headers)
    answer = connection.getresponse()
    return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()


def asked(doors, certificate, path, *request, **headers):
    with connected(doors, certificate) as connection:
        return ask(connection, path, *request, **headers)


def until_ready(doors, certificate):
    """HAProxy asks a server twice before it sends somebody there."""
    last = time.monotonic() + 60
    while asked(doors, certificate, "/v1/shop")[0] != 200:
        assert time.monotonic() < last
        time.sleep(0.05)


def test_pages_and_links_are_https_throughout(doors, certificate):
    for path in ("/", "/designs/bell_garter", "/docs"):
        status, _, page = asked(doors, certificate, path)
        assert status == 200
        links = set(re.findall(r"https?://[^/\"&' )]*", page.decode()))
        assert f"http://{HOST}" not in links
        assert path == "/docs" or not any("localhost" in each or "127.0.0.1" in each for each in links)
    page = asked(doors, certificate, "/designs/bell_garter")[2].decode()
    assert f'href="{PUBLIC_URL}/designs/bell_garter"' in page
    oembed = json.loads(asked(doors, certificate, f"/oembed?url={PUBLIC_URL}/designs/bell_garter")[2])
    assert oembed["provider_url"].startswith(PUBLIC_URL)


def test_a_browser_that_came_by_tls_comes_by_nothing_else(doors, certificate):
    """Of every answer by TLS, the proxy's own among them; of none without it, where it means nothing."""
    for path, status in (("/", 200), ("/v1/shop", 200), ("/v1/nothing", 404), ("/metrics", 404)):
        found = asked(doors, certificate, path)
        assert (found[0], found[1]["strict-transport-security"]) == (status, YEAR), path
    long = asked(doors, certificate, "/v1/patterns", "POST", b" " * 70_000)
    assert (long[0], long[1]["strict-transport-security"]) == (413, YEAR)
    assert head(get(doors.plain, "/", host=HOST)[1], "Strict-Transport-Security") == []


@pytest.mark.parametrize("path", ["/", "/v1/shop?units=mm", "/designs/bell_garter", "/v1/patterns/a%20b.svg?x=%2F"])
def test_whoever_comes_without_tls_is_sent_on(doors, path):
    for method in ("GET", "POST"):
        connection = http.client.HTTPConnection("127.0.0.1", doors.plain, timeout=30)
        connection.request(method, path, b"{}" if method == "POST" else None, PLAIN_HEADERS)
        answer = connection.getresponse()
        answer.read()
        connection.close()
        assert (answer.status, answer.headers["Location"]) == (308, PUBLIC_URL + path)


def test_nothing_is_served_without_tls(doors):
    for path in ("/metrics", "/health/ready", "/v1/shop", "//v1/shop", "/../metrics"):
        status, got = get(doors.plain, path, host=HOST)
        assert status in (308, 400, 404), path
        assert b"strap_requests_total" not in got
        assert b"leathers" not in got


def greeted(doors, certificate, *, version=None, ciphers=None):
    """The version and cipher of a greeting, or None where there is none."""
    made = context(certificate)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # the old versions are asked for on purpose
        if version:
            made.minimum_version = made.maximum_version = version
        if ciphers:
            made.set_ciphers(ciphers)
    try:
        with (
            socket.create_connection(("127.0.0.1", doors.tls), timeout=30) as raw,
            made.wrap_socket(raw, server_hostname=HOST) as wrapped,
        ):
            return wrapped.version(), wrapped.cipher()[0]
    except (ssl.SSLError, ConnectionResetError):
        return None


def test_old_versions_of_tls_are_not_spoken(doors, certificate):
    """`SECLEVEL=0` lets this side speak them, so that it is the proxy who refuses."""
    old = (ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1)
    assert [greeted(doors, certificate, version=each, ciphers="ALL:@SECLEVEL=0") for each in old] == [None, None]
    for version, name in ((ssl.TLSVersion.TLSv1_2, "TLSv1.2"), (ssl.TLSVersion.TLSv1_3, "TLSv1.3")):
        assert greeted(doors, certificate, version=version)[0] == name


def test_ciphers_have_forward_secrecy_and_authenticate(doors, certificate):
    version = ssl.TLSVersion.TLSv1_2
    for wanted in ("ECDHE-ECDSA-AES128-GCM-SHA256", "ECDHE-ECDSA-AES256-GCM-SHA384"):
        assert greeted(doors, certificate, version=version, ciphers=wanted) == ("TLSv1.2", wanted)
    for refused in ("ECDHE-ECDSA-AES128-SHA", "ECDHE-ECDSA-AES256-SHA384", "ECDHE-ECDSA-AES128-CCM8"):
        assert greeted(doors, certificate, version=version, ciphers=f"{refused}:@SECLEVEL=0") is None, refused


@pytest.mark.parametrize("front", [haproxy_tls, nginx_tls], ids=["haproxy", "nginx"])
def test_limits_and_addresses_hold_by_tls_too(front, certificate):
    """A caller who says to be somebody else each time is one caller, for the proxy and for the service."""
    instances = [Instance(workers=1, proxies=1, public_url=PUBLIC_URL, rate_per_minute=10) for _ in range(2)]
    try:
        with fronted(front, instances, certificate, limited=True) as doors:
            until_ready(doors, certificate)
            with connected(doors, certificate) as connection:
                answers = [said(connection, n) for n in range(60)]
                by_proxy = any(said(connection, n)[1] == "about:blank" for n in range(20_000))
    finally:
        for each in instances:
            each.stop()
    statuses = [status for status, _ in answers]
    assert set(statuses) == {422, 429}
    assert statuses.count(422) <= 40  # ten a minute at each of two, in two minutes at most
    assert by_proxy


def said(connection, n):
    """The status of an answer, and its problem's type: `about:blank` is the proxy's own."""
    forged = f"203.0.113.{n % 250}"
    headers = {"X-Forwarded-For": forged, "Forwarded": f"for={forged}", "X-Forwarded-Proto": "http"}
    status, _, content = ask(connection, "/v1/shop?units=x", **headers)
    return status, json.loads(content)["type"]


def test_an_order_goes_through(doors, certificate):
    wanted = {"Content-Type": "application/json", "Accept": "image/svg+xml"}
    status, headers, _ = asked(doors, certificate, "/v1/patterns", "POST", json.dumps(HANGING).encode(), **wanted)
    assert (status, headers["content-type"]) == (200, "image/svg+xml")
    assert asked(doors, certificate, headers["content-location"])[0] == 200
