"""Bodies that do not come: whoever sends one holds nobody up, and is told so in time (RFC 9110, section 15.5.9)."""

import json
import socket
import time
from contextlib import contextmanager

import pytest

from tests.support.serving import ask, serving

pytestmark = pytest.mark.slow

JSON = {"Content-Type": "application/json"}
QUOTE = json.dumps({"lines": [{"ref": "1", "spec": {"construction": "open", "size": {"body_length": "20 in"}}}]})
SECONDS = 1


@pytest.fixture(scope="module")
def port():
    """One worker that makes one quote at a time, and does not let others wait for their turn."""
    with serving(workers=1, large_at_once=1, large_waiting=0, body_seconds=SECONDS) as instance:
        yield instance.port


@contextmanager
def half_sent(port, path):
    """A connection by which the first byte of a body has come."""
    head = (
        f"POST {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{{"
    )
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        connection.sendall(head.encode())
        yield connection


def all_of(connection):
    """What comes until the server closes."""
    got = b""
    while chunk := connection.recv(65_536):
        got += chunk
    return got


@pytest.mark.parametrize("path", ["/v1/quotes", "/v1/cut-plans", "/v1/work-orders", "/v1/patterns"])
def test_a_body_that_stops_takes_nobody_s_turn_and_is_ended(port, path):
    with half_sent(port, path) as connection:
        for _ in range(3):
            assert ask(port, "/v1/quotes", "POST", QUOTE.encode(), JSON)[0] == 200
        got = all_of(connection)
    assert got.startswith(b"HTTP/1.1 408 ")
    assert json.loads(got.partition(b"\r\n\r\n")[2])["code"] == "request_timeout"


def test_a_body_that_drips_is_ended_as_well(port):
    """A byte every tenth of a second would take a hundred seconds."""
    with half_sent(port, "/v1/quotes") as connection:
        connection.settimeout(0.1)
        until, got = time.monotonic() + 30, b""
        while not got and time.monotonic() < until:
            try:
                connection.sendall(b" ")
                got = connection.recv(65_536)
            except TimeoutError:
                continue
    assert got.startswith(b"HTTP/1.1 408 ")
    assert ask(port, "/v1/quotes", "POST", QUOTE.encode(), JSON)[0] == 200
