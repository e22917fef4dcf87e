"""Requests that servers are known to stumble over, sent through both proxies and bare: `tests/heavy oddities`.

Each gets one answer or none, below 500 but for 501 and 505; a request hidden in another's body is never
answered (RFC 9112, section 11.2); the proxies' own errors are problems; and the next caller is served.
"""

import socket
import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, contextmanager
from typing import Any

from tests.support.proxied import haproxy, nginx
from tests.support.serving import Instance, ask

GET = b"GET /health/live HTTP/1.1\r\nHost: a\r\n"
POST = b"POST /v1/patterns HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
HIDDEN = b"GET /v1/shop HTTP/1.1\r\nHost: a\r\n\r\n"
TELLTALE = b'"leathers"'
"""Stands in the answer to the hidden request only."""

ODDITIES: dict[str, bytes] = {
    "length and chunked": POST + b"Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" + HIDDEN,
    "chunked and length": POST + b"Transfer-Encoding: chunked\r\nContent-Length: 60\r\n\r\n0\r\n\r\n" + HIDDEN,
    "two lengths": POST + b"Content-Length: 2\r\nContent-Length: 50\r\n\r\n{}" + HIDDEN,
    "a list of lengths": POST + b"Content-Length: 2, 2\r\n\r\n{}",
    "a length with a sign": POST + b"Content-Length: +2\r\n\r\n{}" + HIDDEN,
    "a negative length": POST + b"Content-Length: -2\r\n\r\n{}",
    "a length in hexadecimal": POST + b"Content-Length: 0x2\r\n\r\n{}" + HIDDEN,
    "an unknown coding": POST + b"Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n" + HIDDEN,
    "two codings": POST + b"Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n\r\n0\r\n\r\n" + HIDDEN,
    "a blank before the colon": POST + b"Transfer-Encoding : chunked\r\n\r\n0\r\n\r\n" + HIDDEN,
    "a coding behind a tab": POST + b"Transfer-Encoding:\tchunked\r\nContent-Length: 3\r\n\r\n0\r\n\r\n" + HIDDEN,
    "a coding with odd letters": POST
    + b"Transfer-Encoding: \x0bchunked\r\nContent-Length: 5\r\n\r\n0\r\n\r\n"
    + HIDDEN,
    "a folded field": GET + b"X: a\r\n Transfer-Encoding: chunked\r\n\r\n",
    "line feeds alone": b"GET /health/live HTTP/1.1\nHost: a\nContent-Length: 50\n\n" + HIDDEN,
    "a carriage return alone": GET + b"X: a\rTransfer-Encoding: chunked\r\n\r\n",
    "a zero byte in a field": GET + b"X: a\x00b\r\n\r\n",
    "two hosts": GET + b"Host: b\r\n\r\n",
    "no host": b"GET /health/live HTTP/1.1\r\n\r\n",
    "an absolute target": b"GET http://b/health/live HTTP/1.1\r\nHost: a\r\n\r\n",
    "a bad chunk size": POST + b"Transfer-Encoding: chunked\r\n\r\nzz\r\n{}\r\n0\r\n\r\n",
    "a chunk size beyond reason": POST + b"Transfer-Encoding: chunked\r\n\r\nffffffffffffffff1\r\n{}\r\n0\r\n\r\n",
    "a chunk extension": POST + b'Transfer-Encoding: chunked\r\n\r\n2;a="\r\n"\r\n{}\r\n0\r\n\r\n',
    "a body of a GET": GET + b"Content-Length: %d\r\n\r\n" % len(HIDDEN) + HIDDEN,
    "an unknown version": b"GET /health/live HTTP/9.9\r\nHost: a\r\n\r\n",
    "version 0.9": b"GET /health/live\r\n\r\n",
    "no method": b" /health/live HTTP/1.1\r\nHost: a\r\n\r\n",
    "a method of odd letters": b"G\xcbT /health/live HTTP/1.1\r\nHost: a\r\n\r\n",
    "CONNECT": b"CONNECT b:80 HTTP/1.1\r\nHost: b\r\n\r\n",
    "TRACE": b"TRACE /health/live HTTP/1.1\r\nHost: a\r\n\r\n",
    "a preface of HTTP/2": b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    "an upgrade": GET + b"Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAMAAABk\r\n\r\n",
    "dots in the path": b"GET /v1/../metrics HTTP/1.1\r\nHost: a\r\n\r\n",
    "coded dots in the path": b"GET /v1/%2e%2e/%6detrics HTTP/1.1\r\nHost: a\r\n\r\n",
    "a zero in the path": b"GET /v1/shop%00.svg HTTP/1.1\r\nHost: a\r\n\r\n",
    "a line break in the path": b"GET /v1/shop%0d%0aX-Injected:%201 HTTP/1.1\r\nHost: a\r\n\r\n",
    "a long field": GET + b"X: " + b"a" * 9000 + b"\r\n\r\n",
    "a very long field": GET + b"X: " + b"a" * 120_000 + b"\r\n\r\n",
    "very many fields": GET + b"X: a\r\n" * 500 + b"\r\n",
    "a long path": b"GET /v1/patterns/" + b"a" * 30_000 + b" HTTP/1.1\r\nHost: a\r\n\r\n",
    "a long body": POST + b"Content-Length: 70000\r\n\r\n" + b" " * 70_000,
    "a long body in chunks": POST + b"Transfer-Encoding: chunked\r\n\r\n" + b"1000\r\n" + b" " * 4096 + b"\r\n",
    "nothing but line breaks": b"\r\n" * 50,
    "a TLS greeting": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\x00" * 60,
    "an upload that waits": POST + b"Expect: 100-continue\r\nContent-Length: 2\r\n\r\n{}",
    "an expectation beyond reason": POST + b"Expect: 200-ok\r\nContent-Length: 2\r\n\r\n{}",
}
NO_HTTP = b"<h1>400 Bad request</h1>\nYour browser sent an invalid request."
"""What HAProxy says to what is no HTTP: it cannot be told to say anything else."""
PRIVATE = (b"strap_requests_total", b"process_")
"""Of /metrics: not for callers from outside."""


def answered(port: int, text: bytes) -> bytes:
    """All that comes back within two seconds."""
    got = b""
    with socket.create_connection(("127.0.0.1", port), timeout=5) as connection:
        try:
            connection.sendall(text)
            connection.settimeout(2)
            while chunk := connection.recv(65_536):
                got += chunk
        except OSError:
            return got
    return got


def wrongs(name: str, got: bytes, *, proxied: bool) -> list[str]:
    """What is wrong with an answer."""
    status = int(got.split(b" ", 2)[1]) if got.startswith(b"HTTP/1.") else 0
    found = []
    if status >= 500 and status not in (501, 505):
        found.append(f"{name}: answered {status}")
    if TELLTALE in got:
        found.append(f"{name}: the hidden request was answered")
    if b"X-Injected:" in got.partition(b"\r\n\r\n")[0]:
        found.append(f"{name}: a field was injected")
    if proxied and any(each in got for each in PRIVATE):
        found.append(f"{name}: the figures were given")
    if 400 <= status < 600 and b"application/problem+json" not in got.lower() and NO_HTTP not in got:
        found.append(f"{name}: {status} is no problem document: {got[:300]!r}")
    return found


def tried(name: str, port: int, *, proxied: bool) -> list[str]:
    """Everything wrong at one port."""
    found = []
    for title, text in ODDITIES.items():
        found += wrongs(f"{name}: {title}", answered(port, text), proxied=proxied)
        if ask(port, "/health/live")[0] != 200:
            found.append(f"{name}: {title}: the next caller was not served")
    return found


@contextmanager
def bare(instances: Sequence[Instance]) -> Any:
    """No proxy at all."""
    yield instances[0].port


def main() -> None:
    """Print what is wrong; fail if anything is."""
    found: list[str] = []
    instances = [Instance(workers=1, proxies=1, hosts="a b") for _ in range(2)]
    fronts: dict[str, Callable[[Sequence[Instance]], AbstractContextManager[int]]] = {
        "HAProxy": haproxy, "nginx": nginx, "gunicorn": bare,
    }  # fmt: skip
    try:
        for name, front in fronts.items():
            with front(instances) as port:
                time.sleep(3)
                found += tried(name, port, proxied=front is not bare)
    finally:
        for each in instances:
            each.stop()
    if found:
        raise SystemExit("\n".join(found))


if __name__ == "__main__":
    main()
