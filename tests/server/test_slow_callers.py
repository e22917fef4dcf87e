"""Callers who are slow hold nobody up, at the service's own port: nothing stands between here.

Nothing is timed: an ordinary caller is answered while every slow one is still there, unanswered.
"""

import json
import resource
import socket
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

import pytest

from tests.support.serving import ask, serving

pytestmark = pytest.mark.slow

FEW = {"workers": 1, "threads": 6, "small_at_once": 1, "small_waiting": 0, "large_at_once": 1, "large_waiting": 0}
"""As few threads as may be."""
MANY = 100
PATIENT = {"head_seconds": 300, "body_seconds": 300, "send_seconds": 600}
POST = b"POST /v1/patterns HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
SPEC = json.dumps({"construction": "open", "size": {"body_length": "20 in"}}).encode()
BEGINNINGS = {
    "nothing": b"",
    "half a head": b"GET /health/live HTTP/1.1\r\nHost: localhost\r\nX-Slow: ",
    "half a body": POST + b"Content-Length: 500\r\n\r\n{",
    "half a chunk": POST + b"Transfer-Encoding: chunked\r\n\r\n1f4\r\n{",
    "half a second request": b"GET /health/live HTTP/1.1\r\nHost: localhost\r\n\r\nGET /he",
}


@contextmanager
def slow_callers(port, beginning, count=MANY, *, small=False):
    """Callers who have sent this and no more."""
    with ExitStack() as held:
        callers = [held.enter_context(socket.socket()) for _ in range(count)]
        for each in callers:
            if small:
                each.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
            each.settimeout(60)
            each.connect(("127.0.0.1", port))
            each.sendall(beginning)
        yield callers


def first_answer(caller):
    """One answer of JSON, to its last byte."""
    got = b""
    while not got.endswith(b"}"):
        got += caller.recv(65_536)
    return got


def is_waiting(caller):
    """Whether the server has neither closed nor said anything."""
    caller.settimeout(0)
    try:
        return caller.recv(1) is None
    except BlockingIOError:
        return True
    except ConnectionError:
        return False


def is_answered(port):
    """Whether an ordinary caller gets what he asks for: by GET, and with a body."""
    made = ask(port, "/v1/patterns", "POST", SPEC, {"Content-Type": "application/json"})
    return (ask(port, "/health/live")[0], made[0]) == (200, 200)


@pytest.mark.parametrize("beginning", BEGINNINGS)
def test_an_ordinary_caller_is_answered_beside_a_hundred_slow_ones(beginning):
    with serving(**FEW, **PATIENT) as server, slow_callers(server.port, BEGINNINGS[beginning]) as slow:
        if beginning == "half a second request":
            assert all(first_answer(each).startswith(b"HTTP/1.1 200 ") for each in slow)
        assert is_answered(server.port)
        assert all(map(is_waiting, slow))


def test_an_ordinary_caller_is_answered_beside_those_who_do_not_take_their_answers():
    """The answers are some hundred thousand bytes, and a caller here takes two thousand."""
    with serving(**FEW, **PATIENT) as server:
        picture = b"GET /v1/designs/bell_garter/pattern.svg HTTP/1.1\r\nHost: localhost\r\n\r\n"
        assert ask(server.port, "/v1/designs/bell_garter/pattern.svg")[0] == 200
        with slow_callers(server.port, picture, small=True):
            assert is_answered(server.port)


def test_an_ordinary_caller_is_answered_beside_those_who_do_not_close():
    """RFC 9112, section 9.6: a server closes its own half first, and waits a while for the other."""
    last = b"GET /health/live HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
    with serving(**FEW, **PATIENT) as server, slow_callers(server.port, last) as slow:
        for each in slow:
            assert each.recv(65_536).startswith(b"HTTP/1.1 200 ")
        assert is_answered(server.port)


def test_who_is_slow_is_told_so_and_who_says_nothing_is_left_without_a_word():
    """RFC 9110, section 15.5.9."""
    with serving(**FEW, head_seconds=1, body_seconds=1) as server:
        for name, beginning in BEGINNINGS.items():
            with slow_callers(server.port, beginning, 1) as (caller,):
                got = b""
                while more := caller.recv(65_536):
                    got += more
            wanted = {"nothing": 0, "half a second request": 2}.get(name, 1)
            assert got.count(b"HTTP/1.1 ") == wanted, name
            if wanted:
                last = got.rpartition(b"HTTP/1.1 ")[2]
                assert last.startswith(b"408 "), name
                assert b"\r\nConnection: close\r\n" in last, name
                assert json.loads(last.partition(b"\r\n\r\n")[2])["status"] == 408


def test_where_there_is_no_room_the_one_who_waits_longest_goes():
    with serving(**FEW, **PATIENT, connections=20) as server, slow_callers(server.port, b"GET /", 60) as slow:
        assert is_answered(server.port)
        assert not is_waiting(slow[0])
        assert is_waiting(slow[-1])


def test_where_the_system_has_no_file_left_the_one_who_waits_longest_goes():
    """RLIMIT_NOFILE of prlimit(2): a caller more than the system has files for is no end of the worker."""
    with serving(**FEW, **PATIENT) as server:
        assert is_answered(server.port)
        (worker,) = server.workers
        limit = len(list(Path(f"/proc/{worker}/fd").iterdir())) + 20
        resource.prlimit(worker, resource.RLIMIT_NOFILE, (limit, limit))
        with slow_callers(server.port, b"GET /", 60) as slow:
            assert is_answered(server.port)
            assert not is_waiting(slow[0])
        assert server.workers == [worker]


def test_of_bodies_that_are_more_than_a_worker_holds_the_longest_goes():
    """Forty bodies of a million bytes, each but for its last."""
    size = 1_048_576
    head = POST.replace(b"patterns", b"quotes") + b"Content-Length: %d\r\n\r\n" % size
    with serving(**FEW, **PATIENT) as server, ExitStack() as held:
        callers = []
        for _ in range(40):
            callers.append(held.enter_context(socket.create_connection(("127.0.0.1", server.port), timeout=60)))
            with suppress(ConnectionError):
                callers[-1].sendall(head + b" " * (size - 1))
        while sum(map(is_waiting, callers)) > 32:
            assert is_answered(server.port)
        assert any(map(is_waiting, callers))
        assert is_answered(server.port)


def test_requests_that_come_together_are_all_answered_in_their_order():
    """RFC 9112, section 9.3.2: a client may send requests before the answers to the first have come."""
    with serving(**FEW) as server, socket.create_connection(("127.0.0.1", server.port), timeout=60) as caller:
        body = POST + b"Content-Length: %d\r\n\r\n%b" % (len(SPEC), SPEC)
        last = b"GET /no-such-path HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
        caller.sendall(b"GET /health/live HTTP/1.1\r\nHost: localhost\r\n\r\n" + body + body + last)
        got = b""
        while more := caller.recv(65_536):
            got += more
    assert [part[:3] for part in got.split(b"HTTP/1.1 ")[1:]] == [b"200", b"200", b"200", b"404"]


def test_a_caller_who_waits_to_be_told_to_go_on_is_told():
    """RFC 9110, section 10.1.1."""
    with serving(**FEW) as server, socket.create_connection(("127.0.0.1", server.port), timeout=60) as caller:
        head = b"Expect: 100-continue\r\nConnection: close\r\nContent-Length: %d\r\n\r\n" % len(SPEC)
        caller.sendall(POST + head)
        assert caller.recv(25, socket.MSG_WAITALL) == b"HTTP/1.1 100 Continue\r\n\r\n"
        caller.sendall(SPEC)
        assert caller.recv(65_536).startswith(b"HTTP/1.1 200 ")
