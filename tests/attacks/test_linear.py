"""Whatever a caller sends, the work to read it or to refuse it is in proportion to its length.

From 1 KB on, on the inputs that scanners are known to choke on: what never closes, what half matches over
and over, very many separators, very many mistakes. `test_patterns.py` does the same for each regular expression.
"""

import hashlib
from contextlib import suppress
from xml.sax.saxutils import quoteattr

import pytest

from service.allowed import ExistingFile
from service.app import create_app
from service.artwork.clean import clean
from service.artwork.values import ArtworkError, declarations
from service.door.errors import NotAcceptable, QueryError
from service.door.guards import request_id
from service.door.machine.logs import trace_of
from service.door.negotiation import negotiate
from service.door.query import read_query
from service.forms.listed import FORMS
from service.keys_file import Key, Keys, KeysFile
from service.near_names import near_names
from service.schemas.codes import CodeError, document_of
from service.schemas.comparison import LONGEST_SHOP_FILE
from service.schemas.json_text import JsonError, read_json
from service.schemas.mistakes import MOST_REPORTED
from service.schemas.problem import pointer
from service.settings import DECLARED, Settings
from service.shop_file import ShopFileError, read_shop
from service.strap.errors import LengthError
from service.strap.plane.lengths import parse_length
from tests.attacks.bodies import CUT_PLANS, DOCUMENTS, QUOTES, SHOP_FILES, SPECS, TABLES
from tests.attacks.growth import SIZES, assert_all_linear, assert_linear

pytestmark = pytest.mark.slow

KEY = "a key of the workshop's"
PATTERN, QUOTE, CUT_PLAN = "/v1/patterns", "/v1/quotes", "/v1/cut-plans"
BODIES = {
    f"{path}: {name}": (path, make)
    for path, makes in ((PATTERN, SPECS), (QUOTE, QUOTES), (CUT_PLAN, CUT_PLANS))
    for name, make in makes.items()
}
PIECES = (
    "0", " ", "a", ",", ";", "=", "&", "/", "//", ".", "..", "-", "_", '"', "\\", '\\"', '="', "a=", "a=1&", "a;",
    "a;b=", 'a;b="', 'a;b="\\', ";q=1", "*/*,", "a/b;q=0.1,", "text/", '"a",', 'W/"', 'W/"a",', "%", "%2", "%25", "+",
    "~1", "00-", "Bearer ", "http://", "http://a.", "1 1/2 ", "½", "@", ":", "[", "::", "<", "\t", "é", "İ",
)  # fmt: skip
"""Repeated in headers, paths, queries, codes and lengths."""
OF_A_HEAD = SIZES[:4]
"""Up to 64 KB: no server can be told to read a longer field of a head (`head_field_max`)."""
OF_A_LINE = SIZES[:3]
"""Up to 16 KB: nor a longer URL than half of that (`url_max`)."""
MAKES = [lambda size, piece=piece: piece * max(1, size // len(piece)) + "!" for piece in PIECES]


@pytest.fixture(scope="module")
def client():
    """A caller of a service that takes the longest bodies there may be, and looks at every header that it can."""
    settings = Settings(
        body_max=SIZES[-1],
        orders_body_max=2 * SIZES[-1],
        cors_origins="https://shop.example https://fair.example",
        proxies=1,
    )
    return create_app(settings).test_client()


@pytest.fixture(scope="module")
def locked():
    """A caller of a service whose reckoning paths need a key."""
    return create_app(Settings(keys_file=Keys((Key(hashlib.sha256(KEY.encode()).digest()),)))).test_client()


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_reader_of_json(name):
    def read(content):
        with suppress(JsonError):
            read_json(content)

    assert_linear(read, DOCUMENTS[name])


@pytest.mark.parametrize("name", BODIES)
def test_a_body_from_door_to_answer(client, name):
    """Refused, in as few words however much is wrong; a pointer alone repeats a long key."""
    path, make = BODIES[name]

    def post(content):
        answer = client.post(path, data=content, content_type="application/json")
        assert answer.status_code in (400, 422)
        assert len(answer.json.get("errors", ())) <= MOST_REPORTED + 1
        assert len(answer.data) < 40_000 + (3 * len(content) if "one long" in name or "slashes" in name else 0)

    assert_linear(post, make)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_from_door_to_answer(client, name):
    """Refused as a document is; a pointer, a column and a sentence repeat a long name."""

    def post(content):
        answer = client.post(QUOTE, data=content, content_type="text/csv")
        assert answer.status_code in (400, 422)
        assert len(answer.json.get("errors", ())) <= MOST_REPORTED + 1
        assert len(answer.data) < 60_000 + (3 * len(content) if "one long" in name else 0)

    assert_linear(post, TABLES[name])


@pytest.mark.parametrize("name", SHOP_FILES)
def test_a_shop_file_that_somebody_sent(name):
    """Refused by key; what is longer than a comparison takes is refused unread."""

    def read(content):
        with pytest.raises(ShopFileError) as refused:
            read_shop(content[:LONGEST_SHOP_FILE], {})
        assert len(refused.value.faults) <= MOST_REPORTED + 1

    assert_linear(read, SHOP_FILES[name])


HEADERS = (
    "Accept", "Authorization", "Content-Encoding", "Content-Type", "Cookie", "Host", "If-None-Match", "Origin",
    "traceparent", "X-Forwarded-For", "X-Forwarded-Host", "X-Request-Id",
)  # fmt: skip


@pytest.mark.parametrize("header", HEADERS)
def test_a_header_from_door_to_answer(client, locked, header):

    def ask(text):
        for caller in (client, locked):
            answer = caller.post(QUOTE, data=b"{", headers={"Content-Type": "application/json"} | {header: text})
            assert 400 <= answer.status_code < 500
        assert client.get("/v1/shop", headers={header: text}).status_code < 500

    assert_all_linear(ask, (make for make in MAKES if make(1).isascii()), OF_A_HEAD)


URLS = {
    "a path": "/{}",
    "a page's path with slashes behind it": "/designs/{}////",
    "a code": "/v1/patterns/{}",
    "a code with its suffix": "/v1/patterns/{}.svg",
    "a design": "/v1/designs/{}",
    "a query": "/v1/shop?{}",
    "a parameter": "/v1/designs/door_strap/choices?leather={}",
    "an address to embed": "/oembed?url={}",
}


@pytest.mark.parametrize("name", URLS)
def test_a_url_from_door_to_answer(client, name):

    def ask(text):
        assert 300 <= client.get(URLS[name].format(text)).status_code < 500

    assert_all_linear(ask, MAKES, OF_A_LINE)


def attempt(work, *errors):
    """The work, whose own errors are as good an outcome as any other."""

    def tried(text):
        with suppress(*errors):
            work(text)

    return tried


def read_settings_of(text):
    for each in DECLARED:
        if not isinstance(each.allowed, ExistingFile | KeysFile):
            with suppress(ValueError):
                each.allowed.read(text)


def read_picture(attribute, text):
    """A picture with one attribute, on its root or on a shape."""
    root, shape = (f"{attribute}={quoteattr(text)}", "") if attribute == "viewBox" else ('viewBox="0 0 1 1"', text)
    clean(f'<svg xmlns="http://www.w3.org/2000/svg" {root}><rect {attribute}={quoteattr(shape)}/></svg>'.encode())


READERS = {
    "lengths": attempt(lambda text: parse_length(text, "in"), LengthError),
    "codes": attempt(document_of, CodeError),
    "queries": attempt(lambda text: read_query(text.encode(), ()), QueryError),
    "Accept": attempt(lambda text: negotiate(text, FORMS), NotAcceptable),
    "request ids": request_id,
    "traces": trace_of,
    "the name most like another": lambda text: near_names(text, ("construction", "ornaments", text[:40])),
    "pointers": lambda text: pointer((text, text)),
    "the style of a picture": attempt(declarations, ArtworkError),
    "pictures": attempt(lambda text: clean(text.encode()), ArtworkError),
    **{
        f"a picture's {attribute}": attempt(
            lambda text, attribute=attribute: read_picture(attribute, text), ArtworkError
        )
        for attribute in ("viewBox", "width", "d", "transform", "fill", "style", "id")
    },
    "settings": read_settings_of,
}
"""By what they read."""


HEAD = ("queries", "Accept", "request ids", "traces")


@pytest.mark.parametrize("name", READERS)
def test_a_reader(name):
    assert_all_linear(READERS[name], MAKES, OF_A_HEAD if name in HEAD else SIZES)
