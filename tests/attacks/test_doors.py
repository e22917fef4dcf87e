"""Any input at the doors that read what a caller wrote: their own error or a value.

How long they take is proved in `test_linear.py`, and measured by `tests/heavy million`.
"""

import json
import random
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.attacks.doors import codes, jsons, lengths, try_code, try_json, try_length
from tests.support.door import HANGING

BASE64URL = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
JSON = {"Content-Type": "application/json"}


@given(st.text(max_size=60) | st.from_regex(r"[0-9 ]{0,20}[./⁄-]?[0-9 ]{0,20}(in|mm|cm|m|\")?", fullmatch=True))
def test_any_text_as_a_length(text):
    try_length(text)


@given(st.text(max_size=200) | st.text(BASE64URL, max_size=400))
def test_any_text_as_a_code(text):
    try_code(text)


_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.text(max_size=20), inner, max_size=5),
    max_leaves=30,
)


@given(st.binary(max_size=300) | st.builds(lambda value: json.dumps(value).encode(), _VALUES))
def test_any_bytes_as_a_spec(content):
    try_json(content)


@pytest.mark.parametrize(("inputs", "door"), [(lengths, try_length), (codes, try_code), (jsons, try_json)])
def test_spoiled_inputs(inputs, door):
    """The beginning of what tests/attacks/million.py tries."""
    for each in islice(inputs(random.Random(7)), 3000):
        door(each)


LONG = 65_536
WORST = {
    "brackets": b"[" * LONG,
    "braces": b'{"a":' * (LONG // 5),
    "one key many times": b"{" + b",".join([b'"a":1'] * 9000) + b"}",
    "many unknown keys": b"{" + b",".join(b'"%d":1' % n for n in range(6500)) + b"}",
    "many keys like a known one": b"{" + b",".join(b'"construct%dion":1' % n for n in range(2600)) + b"}",
    "one long string": b'{"construction":"' + b"a" * 65_000 + b'"}',
    "one long number": b'{"size":{"girth":' + b"9" * 65_000 + b"}}",
    "escapes": b'{"construction":"' + b"\\u00e9" * 10_000 + b'"}',
    "quotes": b'"' * LONG,
    "backslashes": b'"' + b"\\" * (LONG - 2),
    "a long list": b'{"construction":[' + b",".join([b"1"] * 32_000) + b"]}",
    "blanks": b" " * LONG,
    "an exponent": b'{"size":{"girth":1e' + b"9" * 50 + b"}}",
    "a list of borders": b'{"construction":"open","size":{"girth":1},"border":[' + b",".join([b"{}"] * 20_000) + b"]}",
}


@pytest.mark.parametrize("name", WORST)
def test_the_longest_bodies_are_refused_in_few_words(client, name):
    """Of as many bytes as a body may have."""
    assert len(WORST[name]) <= LONG
    answer = client.post("/v1/patterns", data=WORST[name], headers=JSON)
    assert answer.status_code in (400, 422)
    assert len(answer.data) < 40_000


@given(st.binary(max_size=100), st.text(max_size=40))
def test_any_body_and_query_are_answered(content, text):
    from tests.attacks.app import CLIENT  # noqa: PLC0415 # made once, at its first use

    for answer in (
        CLIENT.post("/v1/patterns", data=content, headers=JSON),
        CLIENT.post("/v1/patterns", json=HANGING, query_string={"units": text}),
        CLIENT.get("/v1/patterns/" + text.encode("utf-8", "replace").hex()),
    ):
        assert answer.status_code < 500
