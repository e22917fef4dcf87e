"""Both proxies as they are shipped, in front of real instances: what they let through, and what they say themselves.

That a status and the `status` of its problem are one is RFC 9457, section 3.1.2; which status says what is RFC 9110,
sections 15.5.14 and 15.6.3 to 15.6.5.
"""

import json
import re
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Barrier, BrokenBarrierError, Event, Thread

import pytest

from service.settings import Settings
from tests.support.proxied import haproxy, nginx
from tests.support.serving import Instance, ask, free_port, program

pytestmark = pytest.mark.slow

JSON = {"Content-Type": "application/json"}
STRAP = b'{"construction": "open", "size": {"body_length": "20 in"}'
QUOTE = b'{"lines": [{"ref": "1", "spec": ' + STRAP + b"}}]"
LIMITS = {"/v1/patterns": Settings().body_max, "/v1/quotes": Settings().orders_body_max,
          "/v1/cut-plans": Settings().orders_body_max, "/v1/work-orders": Settings().orders_body_max}  # fmt: skip


class Nobody:
    """An instance that is not there, or another server in its place."""

    def __init__(self, port=None):
        self.port = port or free_port()


@pytest.fixture(scope="module")
def pair():
    """Two instances."""
    instances = [Instance(workers=1, proxies=1) for _ in range(2)]
    yield instances
    for each in instances:
        each.stop()


@pytest.fixture(params=[haproxy, nginx], ids=["haproxy", "nginx"])
def front(request):
    """Either proxy; skipped where it is not installed, with how to get it."""
    try:
        program(request.param.__name__)
    except RuntimeError as error:
        pytest.skip(str(error))
    return request.param


def padded(start, length):
    """A JSON text of this many bytes: the start with blanks after it, and its end."""
    return start + b" " * (length - len(start) - 1) + b"}"


def posted(port, path, length):
    """Status and problem code of a body of this many bytes."""
    start = STRAP if path == "/v1/patterns" else QUOTE
    status, _, content = ask(port, path, "POST", padded(start, length), JSON)
    return status, json.loads(content).get("code")


def test_a_body_may_be_as_long_as_the_service_reads(front, pair):
    with front(pair) as port:
        for path, most in LIMITS.items():
            assert posted(port, path, most)[1] != "body_too_long", path
            assert posted(port, path, most + 1) == (413, "body_too_long"), path
        assert posted(port, "/v1/quotes", LIMITS["/v1/quotes"])[0] == 200


def test_a_proxy_s_own_answer_says_one_status(front):
    with front([Nobody(), Nobody()]) as port:
        status, headers, content = ask(port, "/v1/shop")
    assert status in {502, 503}
    assert headers["content-type"] == "application/problem+json"
    assert headers["cache-control"] == "no-store"
    assert int(headers["retry-after"]) > 0
    assert json.loads(content)["status"] == status


@pytest.mark.parametrize("path", ["/v1/shop", "/v1/designs/bell_garter/pattern.svg", "/v1/patterns/wrong.svg"])
def test_each_answer_carries_its_own_request_s_id(front, pair, path):
    """A kept answer too; an id that the service would not take is replaced, and a problem tells the same one."""
    with front(pair) as port:
        for given in ("mine-1", "mine-2", "a b", None):
            _, headers, content = ask(port, path, headers={} if given is None else {"X-Request-Id": given})
            told = headers["x-request-id"]
            assert told == given if given in {"mine-1", "mine-2"} else re.fullmatch("[0-9a-f]{32}", told), (path, given)
            assert headers["content-type"] != "application/problem+json" or json.loads(content)["request_id"] == told


def test_one_instance_that_is_away_costs_nobody_an_answer(front, pair):
    """Whoever asks while an instance starts anew is answered by its neighbour, however often."""
    with front([pair[0], Nobody()]) as port, ThreadPoolExecutor(8) as callers:
        statuses = set(callers.map(lambda n: ask(port, f"/v1/patterns/{n}.svg")[0], range(200)))
        assert statuses == {404}
        posts = callers.map(lambda _: ask(port, "/v1/quotes", "POST", QUOTE + b"}", JSON)[0], range(40))
        assert set(posts) == {200}


class Broken(BaseHTTPRequestHandler):
    """Is ready, and then answers with a field that has no colon at `/garbled`, and not at all elsewhere."""

    protocol_version = "HTTP/1.1"

    def do_GET(self):
        if self.path == "/health/ready":
            self.send_response(200)
            self.send_header("Content-Length", "0")
            self.end_headers()
        elif self.path == "/garbled":
            self.wfile.write(b"HTTP/1.1 200 OK\r\nno colon\r\n\r\n")
            self.close_connection = True
        else:
            self.server.ended.wait(60)

    def log_message(self, *_):
        """Say nothing."""


@contextmanager
def broken():
    """A server that answers none as it should."""
    with ThreadingHTTPServer(("127.0.0.1", 0), Broken) as server:
        server.ended = Event()
        Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield Nobody(server.server_port)
        finally:
            server.ended.set()
            server.shutdown()


IMPATIENT = {haproxy: {"timeout server 30s": "timeout server 1s"}, nginx: {"read_timeout 30s": "read_timeout 1s"}}


def test_an_instance_that_answers_wrong_or_not_at_all_is_told_as_such(front):
    """RFC 9110, sections 15.6.3 and 15.6.5: an invalid response is 502, none in time 504."""
    with broken() as upstream, front([upstream, upstream], edits=IMPATIENT[front]) as port:
        for path, wanted, code in (("/garbled", 502, "bad_gateway"), ("/silent", 504, "gateway_timeout")):
            status, headers, content = ask(port, path)
            assert (status, json.loads(content)["code"]) == (wanted, code)
            assert (headers["content-type"], headers["cache-control"]) == ("application/problem+json", "no-store")
            assert int(headers["retry-after"]) > 0
            assert headers["access-control-allow-origin"] == "*"


class Together(BaseHTTPRequestHandler):
    """Refuses a request once a second one has come, and fails where none comes. It is always ready."""

    protocol_version = "HTTP/1.1"

    def do_GET(self):
        self.send_response(200 if self.path == "/health/ready" else self.refused())
        self.send_header("Content-Length", "0")
        self.end_headers()

    def refused(self):
        try:
            self.server.barrier.wait()
        except BrokenBarrierError:
            return 500
        return 422

    def log_message(self, *_):
        """Say nothing."""


@contextmanager
def together():
    """A server that refuses two requests at a time."""
    with ThreadingHTTPServer(("127.0.0.1", 0), Together) as server:
        server.barrier = Barrier(2, timeout=10)
        Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield Nobody(server.server_port)
        finally:
            server.barrier.abort()
            server.shutdown()


def test_alike_requests_do_not_wait_for_one_another(front):
    """No refusal is kept: where one of many alike asked while the others waited, they would be refused one by one."""
    with together() as upstream, front([upstream, upstream]) as port, ThreadPoolExecutor(2) as callers:
        answers = callers.map(lambda _: ask(port, "/v1/patterns/wrong.svg")[0], range(2))
        assert list(answers) == [422, 422]
