"""Both proxies with the limits that they are shipped with: nobody takes all, and a page is not held up.

That 429 may say when to come again is RFC 6585, section 4; that an IPv6 caller is a /64 is RFC 6177; that an IPv4
address has a form in IPv6 is RFC 4291, section 2.5.5.2. Callers from elsewhere are made by HAProxy's PROXY protocol,
version 1, which both proxies read.
"""

import http.client
import json
import socket
import time
from contextlib import contextmanager, suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

import pytest

from tests.support.proxied import haproxy, nginx
from tests.support.serving import ask, program

pytestmark = pytest.mark.slow

PAGE = 300
"""Requests of a page with some dozen elements, at once: more than one ever asks."""
MOST = 20_000
"""No caller comes so far within the time of a test."""
TOLD_BY_PROXY_PROTOCOL = {
    nginx: {
        "default_server;": "default_server proxy_protocol;",
        "include nginx/service.conf;": "set_real_ip_from 127.0.0.1; real_ip_header proxy_protocol;"
        " include nginx/service.conf;",
    },
    haproxy: {'bind "${STRAP_PROXY_BIND-:8080}"': 'bind "${STRAP_PROXY_BIND-:8080}" accept-proxy'},
}
SLOWLY = {nginx: {"rate=30r/s": "rate=1r/s"}, haproxy: {"gpc0_rate(10s)": "gpc0_rate(5m)"}}
"""What is used up stays so for the length of a test, however slow the machine."""


class Ready(BaseHTTPRequestHandler):
    """Answers 200 to everything, at once."""

    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True

    def do_GET(self):
        self.send_response(200)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, *_):
        """Say nothing."""


class Server(ThreadingHTTPServer):
    """Takes a proxy's closing of a connection for what it is."""

    daemon_threads = True

    def handle_error(self, *_):
        """Say nothing."""


class Upstream:
    """Where a server of a test listens."""

    def __init__(self, port):
        self.port = port


@pytest.fixture(scope="module")
def upstream():
    with Server(("127.0.0.1", 0), Ready) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield Upstream(server.server_port)
        server.shutdown()


def needed(front):
    """Skips where a proxy is not installed, with how to get it."""
    try:
        program(front.__name__)
    except RuntimeError as error:
        pytest.skip(str(error))


@pytest.fixture(params=[haproxy, nginx], ids=["haproxy", "nginx"])
def front(request):
    """Either proxy."""
    needed(request.param)
    return request.param


@contextmanager
def fronted(front, upstream, edits=None):
    """The port of a proxy with its limits, which is told by the PROXY protocol where a caller comes from."""
    with front([upstream], limited=True, edits=TOLD_BY_PROXY_PROTOCOL[front] | (edits or {})) as port:
        until_ready(port)
        yield port


@pytest.fixture
def port(front, upstream):
    with fronted(front, upstream) as port:
        yield port


@pytest.fixture
def slow(front, upstream):
    """The same, where what a caller has used up comes back slowly."""
    with fronted(front, upstream, SLOWLY[front]) as port:
        yield port


def until_ready(port):
    """HAProxy asks its server twice before it sends somebody there."""
    last = time.monotonic() + 60
    while True:
        with connected(port, "192.0.2.99") as ask:
            if ask()[0] == 200:
                return
        assert time.monotonic() < last
        time.sleep(0.05)


@contextmanager
def connected(port, address):
    """A connection from an address: what asks by it gives status, headers and content."""
    kind = "TCP6" if ":" in address else "TCP4"
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    connection.connect()
    connection.sock.sendall(f"PROXY {kind} {address} {'::1' if kind == 'TCP6' else '192.0.2.1'} 4000 80\r\n".encode())

    def ask(path="/v1/shop", **headers):
        connection.request("GET", path, headers=headers)
        answer = connection.getresponse()
        content = answer.read()
        return answer.status, {name.lower(): value for name, value in answer.getheaders()}, content

    try:
        yield ask
    finally:
        connection.close()


def once(port, address, **headers):
    with connected(port, address) as ask:
        return ask(**headers)


def looped(port, address):
    """The first refusal of a caller who asks again and again, and how many answers came before it."""
    with connected(port, address) as ask:
        for n in range(MOST):
            answer = ask(**{"X-Forwarded-For": f"198.51.100.{n % 250}"})
            if answer[0] != 200:
                return answer, n
    raise AssertionError("nobody was refused")


def test_who_loops_is_refused_after_more_than_a_page_and_told_when_to_come_again(port):
    (status, headers, content), before = looped(port, "203.0.113.1")
    assert before >= PAGE
    assert status == 429
    assert headers["content-type"] == "application/problem+json"
    assert headers["cache-control"] == "no-store"
    assert 1 <= int(headers["retry-after"]) <= 60
    assert "retry-after" in headers["access-control-expose-headers"].lower()
    assert headers["access-control-allow-origin"] == "*"
    problem = json.loads(content)
    assert (problem["status"], problem["code"], problem["type"]) == (429, "too_often", "about:blank")
    time.sleep(int(headers["retry-after"]) + 0.5)
    assert once(port, "203.0.113.1")[0] == 200


def is_used_up(port, address):
    """Whether a caller is refused within a few requests: who has a whole allowance is not."""
    with connected(port, address) as ask:
        return any(ask()[0] == 429 for _ in range(PAGE // 3))


def test_callers_are_told_apart_by_ipv4_address_and_by_ipv6_network(slow):
    looped(slow, "203.0.113.1")
    looped(slow, "2001:db8:1:2::1")
    used_up = {
        each: is_used_up(slow, each)
        for each in ("203.0.113.1", "203.0.113.2", "2001:db8:1:2:ffff:ffff:ffff:ffff", "2001:db8:1:3::1")
    }
    assert list(used_up.values()) == [True, False, True, False], used_up


def test_an_ipv4_address_written_as_an_ipv6_one_is_the_ipv4_address(upstream):
    """At nginx: HAProxy listens by IPv4 alone and never sees one."""
    needed(nginx)
    with fronted(nginx, upstream, SLOWLY[nginx]) as port:
        looped(port, "203.0.113.1")
        assert is_used_up(port, "::ffff:203.0.113.1")
        assert not is_used_up(port, "::ffff:203.0.113.2")


def test_the_word_of_a_proxy_in_front_is_taken_as_the_documentation_says(upstream):
    """At nginx: what deploy/README.md says of HAProxy is how every other test here is done."""
    needed(nginx)
    told = {"include nginx/common.conf;": "include nginx/common.conf; set_real_ip_from 127.0.0.1;"
            " real_ip_header X-Forwarded-For;"}  # fmt: skip
    with nginx([upstream], limited=True, edits=SLOWLY[nginx] | told) as port:

        def statuses(address, times):
            return {ask(port, "/v1/shop", headers={"X-Forwarded-For": address})[0] for _ in range(times)}

        assert statuses("203.0.113.1", 2 * PAGE) == {200, 429}
        assert statuses("203.0.113.2", PAGE // 3) == {200}


def test_no_caller_holds_all_connections(port):
    """A hundred requests whose bodies do not come, of one caller: it gets no more, and another is served."""
    held = []
    for _ in range(101):
        connection = socket.create_connection(("127.0.0.1", port), timeout=30)
        connection.sendall(
            b"PROXY TCP4 203.0.113.1 192.0.2.1 4000 80\r\n"
            b"POST /v1/patterns HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9\r\n\r\n"
        )
        held.append(connection)
    last = time.monotonic() + 8
    while once(port, "203.0.113.1")[0] != 429:
        assert time.monotonic() < last  # the proxies themselves give up on the bodies after ten seconds
    assert once(port, "203.0.113.2")[0] == 200
    for each in held:
        with suppress(OSError):
            each.close()
