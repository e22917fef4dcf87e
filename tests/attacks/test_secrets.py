"""No log line of a running server holds a key, an `Authorization`, a query or a body, at any level, whatever happens.

RFC 6750, section 5.2: bearer tokens are kept from whoever has no business with them; a log is read by many.
"""

import hashlib
import json
import socket

import pytest

from tests.support.door import HANGING
from tests.support.serving import ask, serving

pytestmark = pytest.mark.slow

KEY, STRANGER, BASIC = "quay-otter-marble-31", "fern-anvil-cobalt-77", "Z29hdDpoZXJk"
QUERY, BODY, COOKIE = "heather-lantern-52", "saddle-brook-19", "walnut-ferry-64"
SECRETS = (KEY, STRANGER, BASIC, QUERY, BODY, COOKIE, "earer ", hashlib.sha256(KEY.encode()).hexdigest())


def order(ref="A1"):
    return json.dumps({"lines": [{"ref": ref, "spec": HANGING}]}).encode()


ASKED = [
    # path, method, body, authorization, status
    ("/v1/quotes", "POST", order(), f"Bearer {KEY}", 200),
    ("/v1/quotes", "POST", order(BODY), f"Bearer {KEY}", 200),
    ("/v1/quotes", "POST", order(), f"Bearer {STRANGER}", 401),
    ("/v1/quotes", "POST", order(), f"Basic {BASIC}", 401),
    ("/v1/quotes", "POST", f'{{"{BODY}"'.encode(), f"Bearer {KEY}", 400),
    (f"/v1/shop?{QUERY}=1", "GET", None, f"Bearer {KEY}", 422),
    (f"/v1/shop?units={QUERY}", "GET", None, f"Bearer {KEY}", 422),
    (f"/v1/shop?units={QUERY}", "GET", None, f"Bearer {STRANGER}", 401),
    (f"/v1/patterns/{QUERY}.svg", "GET", None, f"Bearer {KEY}", 404),
    (f"/{QUERY}?{QUERY}", "GET", None, f"Bearer {KEY}", 404),
    ("/v1/shop", "BREW", None, f"Bearer {KEY}", 405),
    (f"/fails?{QUERY}", "POST", BODY.encode(), f"Bearer {KEY}", 500),
    (f"/fails?{QUERY}", "GET", None, f"Bearer {STRANGER}", 500),
]
UNREADABLE = (
    f"GET /v1/shop?{QUERY} HTTP/1.1\r\nHost: localhost\r\nAuthorization : Bearer {KEY}\r\n\r\n",
    f"GET /v1/shop?{QUERY} HTTP/9.1\r\nHost: localhost\r\nAuthorization: Bearer {KEY}\r\n\r\n",
    f"GET /v1/shop HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer\r\n {KEY}\r\n\r\n",
    f"{KEY}\r\n\r\n",
    f"POST /v1/quotes HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {KEY}\r\nContent-Length: {KEY}\r\n\r\n",
    f"POST /v1/quotes HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n{KEY}\r\n",
    f"GET /v1/shop HTTP/1.1\r\nHost: localhost\r\nExpect: {KEY}\r\n\r\n",
    f"POST /fails HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {KEY}\r\nContent-Length: 900\r\n\r\n{BODY}",
    f"GET /pours?{QUERY} HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {KEY}\r\n\r\n",
)


def send(port, text):
    with socket.create_connection(("127.0.0.1", port), timeout=60) as connection:
        connection.sendall(text.encode())
        connection.shutdown(socket.SHUT_WR)
        while connection.recv(65_536):
            pass


@pytest.mark.parametrize("app", ["service.wsgi:app", "tests.support.loud:app"])
def test_no_line_holds_what_is_nobodys_business(tmp_path, app):
    """As it is served, and with every logger at its loudest and failures of every kind."""
    keys, log = tmp_path / "keys", tmp_path / "log"
    keys.write_text(f"{hashlib.sha256(KEY.encode()).hexdigest()} the counter\n", encoding="utf-8")
    asked = [each for each in ASKED if "loud" in app or each[-1] != 500]
    with serving(app, workers=1, keys_file=keys, log=log) as server:
        for path, method, body, authorization, status in asked:
            headers = {"Authorization": authorization, "Content-Type": "application/json", "Cookie": COOKIE}
            assert ask(server.port, path, method, body, headers)[0] == status, path
        for text in UNREADABLE:
            send(server.port, text)
        assert ask(server.port, "/health/live")[0] == 200
    lines = [json.loads(line) for line in log.read_text(encoding="utf-8").splitlines()]
    for line in lines:
        for secret in SECRETS:
            assert secret not in json.dumps(line, ensure_ascii=False), line
    answered = [line["status"] for line in lines if line["event"] == "answered"]
    assert answered[: len(asked)] == [status for *_, status in asked]
    if "loud" in app:
        assert {"info", "warning", "error"} == {line["level"] for line in lines}
        told = [line["exception"] for line in lines if "exception" in line]
        assert sum("in _fail" in each and each.endswith("ValueError") for each in told) >= 2
        assert any("in parts" in each for each in told), "gunicorn says nothing of an answer that broke off"
