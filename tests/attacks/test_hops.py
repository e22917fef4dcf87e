"""Each hop believes the one in front of it and nobody else: both proxies as they are shipped, and the server bare.

What is sent here is what callers are known to send (RFC 9110, section 7.1; RFC 3986, section 6.2.2 for one path in
many spellings; RFC 3875, section 4.1 for the names that a server's environment gives a proxy's word).
"""

import json
import re
from contextlib import contextmanager

import pytest

from tests.support.door import HANGING
from tests.support.proxied import haproxy, nginx
from tests.support.raw import get, head
from tests.support.serving import Instance, ask, program

pytestmark = pytest.mark.slow

FIGURES = (b"strap_requests_total", b'{"status":"ready"}')
"""Of /metrics and of /health/ready."""
ORIGINS = ("https://one.example", "https://two.example")
JSON = {"Content-Type": "application/json"}


@contextmanager
def bare(instances):
    """No proxy at all."""
    yield instances[0].port


@contextmanager
def running(**settings):
    """Two instances."""
    instances = [Instance(workers=1, proxies=1, **settings) for _ in range(2)]
    try:
        yield instances
    finally:
        for each in instances:
            each.stop()


@contextmanager
def fronted(front, instances):
    """The port of a proxy; skips where it is not installed, and says how to get it."""
    if front is not bare:
        try:
            program(front.__name__)
        except RuntimeError as error:
            pytest.skip(str(error))
    with front(instances) as port:
        yield port


def each_of(*fronts):
    return {"params": fronts, "ids": [each.__name__ for each in fronts], "scope": "module"}


@pytest.fixture(scope="module")
def open_pair():
    """Instances that answer for two more hosts."""
    with running(hosts="one.example two.example:8080") as instances:
        yield instances


@pytest.fixture(scope="module")
def choosy_pair():
    """Instances that some origins only may read."""
    with running(cors_origins=" ".join(ORIGINS)) as instances:
        yield instances


@pytest.fixture(**each_of(haproxy, nginx))
def proxy(request, open_pair):
    """Either proxy."""
    with fronted(request.param, open_pair) as port:
        yield port


@pytest.fixture(**each_of(haproxy, nginx))
def choosy(request, choosy_pair):
    """Either proxy, where some origins only may read."""
    with fronted(request.param, choosy_pair) as port:
        yield port


@pytest.fixture(**each_of(haproxy, nginx, bare))
def door(request, open_pair):
    """Either proxy, or none."""
    with fronted(request.param, open_pair) as port:
        yield port


def spellings(path):
    """One path in many spellings: slashes, coded letters, dot segments, parameters, case, a whole address."""
    first, rest = path[1], path[2:]
    last = path.rpartition("/")[2]
    slashes = (
        path,
        f"/{path}",
        f"//{path}",
        f"{path}/",
        f"{path}//",
        f"/%2f{path[1:]}",
        f"/%2F{path[1:]}",
        f"{path}%2f",
    )
    dots = (
        f"/.{path}", f"/./{path}", f"/docs/..{path}", f"/v1/../.{path}", f"/%2e{path}", f"/docs/%2e%2e{path}",
        f"/docs/%2E.{path}", f"{path}/.", f"{path}/..{path}", f"{path}.", f"/%zz/..{path}",
    )  # fmt: skip
    letters = (
        f"/%{ord(first):02x}{rest}", f"/%{ord(first):02X}{rest}", f"/%25{ord(first):02x}{rest}", path.upper(),
        path.title(), path.replace(last, f"%{ord(last[0]):02x}{last[1:]}"),
        "".join(f"%{ord(each):02x}" for each in path),
    )  # fmt: skip
    ends = (
        f"{path};a=b", f"/;a=b{path}", f"{path};", f"{path}?", f"{path}#", f"{path}%3f", f"{path}%23", f"{path}%00",
        f"{path}%0a", f"{path}%20", f"{path}%zz",
    )  # fmt: skip
    odd = (
        f"/%5c{path[1:]}", f"/\\{path[1:]}", path.replace("/", "\\"), f"/%c0%af{path[1:]}", f"/%e0%80%af{path[1:]}",
        path[1:], f"http://localhost{path}", f"http://localhost/{path}", f"HTTP://localhost{path}",
    )  # fmt: skip
    return slashes + dots + letters + ends + odd


@pytest.mark.parametrize("path", ["/metrics", "/health/ready"])
def test_no_spelling_of_an_inner_path_is_answered_to_callers_from_outside(proxy, path):
    for spelling in spellings(path):
        status, got = get(proxy, spelling)
        assert not any(each in got for each in FIGURES), spelling
        assert status == 0 or 400 <= status < 500, spelling
    assert get(proxy, "/health/live")[0] == 200


FOREIGN = (
    "SCRIPT_NAME", "Script-Name", "X-Script-Name", "PATH_INFO", "REMOTE_USER", "REMOTE_ADDR", "X-Forwarded-Host",
    "X-Forwarded-Proto", "X-Forwarded-Protocol", "X-Forwarded-Ssl", "X-Forwarded-Scheme", "X-Forwarded-Port",
    "X-Forwarded-Prefix", "X-Forwarded-For", "X_Forwarded_For", "Forwarded", "X-Original-URL", "X-Rewrite-URL",
    "X-HTTP-Method-Override", "HTTP_HOST", "wsgi.url_scheme", "Proxy", "CONTENT_LENGTH",
)  # fmt: skip
VALUES = (
    "/v1", "/x", "/metrics", "/", "//", "evil.example", "https", "on", "ssl", "443", "for=evil;proto=https", "-1",
    "POST", "é", "a" * 2000,
)  # fmt: skip


def test_no_word_of_a_caller_is_taken_for_a_proxys(door):
    """Every name with every value: the same page, byte for byte, as without it; no path opens, and nothing fails."""
    plain = get(door, "/designs/bell_garter")[1].partition(b"\r\n\r\n")[2]
    assert b'href="http://localhost/designs/bell_garter"' in plain
    for name in FOREIGN:
        for value in VALUES:
            status, got = get(door, "/designs/bell_garter", f"{name}: {value}")
            assert (status, got.partition(b"\r\n\r\n")[2]) == (200, plain), (name, value)


@pytest.mark.parametrize("name", ["SCRIPT_NAME", "Script-Name", "X-Script-Name", "X-Forwarded-Prefix"])
def test_no_prefix_of_a_callers_opens_a_path_or_fills_a_cache(door, name):
    for prefix, target in (("/v1", "/v1/docs"), ("/x", "/x/metrics"), ("/x", "/x/health/ready"), ("/v1", "/docs")):
        for fields in ((f"{name}: {prefix}",), ()):
            status, got = get(door, target, *fields)
            assert status == (200 if target == "/docs" else 404), (target, fields)
            assert not any(each in got for each in FIGURES), (target, fields)


def test_a_host_that_nobody_named_is_refused_and_leaves_nothing_behind(door):
    oembed = "/oembed?url=http%3A%2F%2Flocalhost%2Fdesigns%2Fbell_garter"
    for path in ("/", "/designs/goat_collar", oembed, "/embed.js", "/v1/designs", "/docs"):
        for host in (
            "evil.example",
            "evil.example:80",
            "localhost.evil.example",
            "localhost@evil.example",
            "127.0.0.2",
        ):
            status, got = get(door, path, "X-Forwarded-Host: evil.example", host=host)
            assert status in (400, 421), (path, host)
            assert b"evil.example" not in got, (path, host)
        for _ in range(2):
            status, got = get(door, path)
            assert (status, b"evil" in got) == (200, False), path


def test_health_is_told_under_any_host(door):
    """Probes and checks ask by addresses that nobody can list."""
    for host in ("evil.example", "10.1.2.3:8000", "localhost"):
        assert get(door, "/health/live", host=host)[0] == 200


def test_two_hosts_that_are_answered_for_do_not_share_an_answer(door):
    for host in ("one.example", "two.example:8080", "one.example", "localhost"):
        got = get(door, "/designs/herding_dog_collar", host=host)[1].decode()
        assert set(re.findall(r"https?://[^/\"&' ]+", got)) == {f"http://{host}"}


def picture(port):
    code = json.loads(ask(port, "/v1/patterns", "POST", json.dumps(HANGING).encode(), JSON)[2])["code"]
    return f"/v1/patterns/{code}.svg"


def test_an_answer_for_one_origin_is_not_another_origins(choosy):
    """The Fetch standard, CORS check; RFC 9111, section 4.1: a cache tells apart by what `Vary` names."""
    path = picture(choosy)
    for origin in (*ORIGINS, None, "https://evil.example", *ORIGINS, None):
        status, got = get(choosy, path, *([f"Origin: {origin}"] if origin else []))
        assert status == 200
        assert head(got, "Access-Control-Allow-Origin") == ([origin] if origin in ORIGINS else []), origin
        assert "origin" in ", ".join(head(got, "Vary")).lower()


def kept(got):
    """What a proxy says of its cache (RFC 9211, section 2), and whether the answer says what it took."""
    told = head(got, "Cache-Status")
    assert len(told) == 1
    name, _, how = told[0].partition("; ")
    assert name == "strap-proxy"
    return how, len(head(got, "Server-Timing"))


def test_a_kept_picture_is_given_by_the_proxy_itself(proxy):
    """Its request id is that of each who asks; what it took to make was told to the first alone."""
    path = picture(proxy) + "?units=mm"
    told = [get(proxy, path, f"X-Request-Id: ask-{n}")[1] for n in range(4)]
    assert [head(each, "X-Request-Id") for each in told] == [[f"ask-{n}"] for n in range(4)]
    assert [kept(each) for each in told] == [("fwd=miss", 1), *[("hit", 0)] * 3]


def test_who_shows_a_key_is_not_answered_from_what_others_asked_for_nor_they_from_theirs(proxy):
    path, told = picture(proxy) + "?view=finished", []
    keys = ("Authorization: Bearer a", None, "Authorization: Bearer b", None)
    for n, key in enumerate(keys):
        got = get(proxy, path, f"X-Request-Id: key-{n}", *([key] if key else []))[1]
        assert head(got, "X-Request-Id") == [f"key-{n}"]
        told.append(kept(got))
    assert told == [("fwd=bypass", 1), ("fwd=miss", 1), ("fwd=bypass", 1), ("hit", 0)]


@pytest.mark.parametrize("front", [haproxy, nginx], ids=["haproxy", "nginx"])
def test_a_caller_cannot_be_another_caller_for_the_rate(front):
    """60 requests say to come from elsewhere; ten a minute at each of two instances, in two minutes at most."""
    with running(rate_per_minute=10) as instances, fronted(front, instances) as port:
        answers = [
            get(port, "/v1/shop?units=x", f"X-Forwarded-For: 203.0.113.{n}", f"Forwarded: for=203.0.113.{n}")[0]
            for n in range(60)
        ]
    assert set(answers) == {422, 429}
    assert answers.count(422) in range(20, 41)
