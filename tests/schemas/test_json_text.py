"""The JSON door. Expectations follow RFC 8259 and RFC 7493 (I-JSON), or are this service's own limits."""

from decimal import Decimal

import pytest

from service.schemas.json_text import DEEPEST, MOST_DIGITS, MOST_MARKS, JsonError, read_json


def test_numbers_keep_every_digit():
    assert read_json(b'{"a": 24.10, "b": 3, "c": 1e-7}') == {
        "a": Decimal("24.10"),
        "b": 3,
        "c": Decimal("1e-7"),
    }
    assert type(read_json(b"5")) is int
    assert type(read_json(b"5.0")) is Decimal


def test_a_whole_surrogate_pair_is_one_character():
    assert read_json(rb'"\ud83d\ude00"') == "\U0001f600"


def test_brackets_inside_texts_are_not_nesting():
    assert read_json(b'"' + b"[" * 500 + b'"') == "[" * 500
    assert read_json(rb'"\"' + b"{" * 500 + b'"') == '"' + "{" * 500


def test_the_deepest_allowed_nesting_is_read():
    assert read_json(b"[" * DEEPEST + b"]" * DEEPEST) is not None
    assert read_json(b"[" + b"[{}]," * 40 + b"{}]") == [*([[{}]] * 40), {}]


def test_brackets_behind_a_text_are_counted_whatever_it_ends_with():
    for text in (rb'"\\\\"', rb'"\""', b'""', rb'"\\\\\""'):
        nested = text + b"," + b"[" * DEEPEST + b"]" * DEEPEST
        with pytest.raises(JsonError, match="deep"):
            read_json(b"[" + nested + b"]")
        assert read_json(b"[" + nested.replace(b"[", b"", 1)[:-1] + b"]")


def test_as_many_values_as_a_document_may_have():
    assert len(read_json(b"[" + b"1," * (MOST_MARKS - 1) + b"1]")) == MOST_MARKS
    with pytest.raises(JsonError, match="commas"):
        read_json(b"[" + b"1," * MOST_MARKS + b"1]")


def test_the_longest_allowed_number_is_read():
    assert read_json(b"9" * MOST_DIGITS) == int("9" * MOST_DIGITS)


def test_a_surrogate_pair_beside_a_decimal_is_read():
    assert read_json(rb'["\ud83d\ude00", 0.5]') == ["\U0001f600", Decimal("0.5")]


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "not JSON"),
        (b"{", "line 1, column 2"),
        (b"{'a': 1}", "not JSON"),
        (b"[1,]", "not JSON"),
        ('{"a": 1}'.encode("utf-16"), "not UTF-8"),
        (b'"\xff"', "not UTF-8"),
        (b"NaN", "NaN"),
        (b"[-Infinity]", "-Infinity"),
        (b'{"a": 1, "b": {"c": 1, "c": 1}}', "'c' is given twice"),
        (rb'{"a": 1, "\u0061": 2}', "'a' is given twice"),
        (rb'"\ud800"', "surrogate"),
        (rb'{"\uDFFF": 1}', "surrogate"),
        (b"9" * (MOST_DIGITS + 1), "characters"),
        (b"0." + b"9" * MOST_DIGITS, "characters"),
        (b"1e9999999999999999999999", "exponent"),
        (b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1), "deep"),
        (b"[" * 100_000, "deep"),
        (b'{"a":' * 5000, "deep"),
        (b"[]" * 33 + b'"' + rb"\"" * 5000, "not JSON"),
        (b"[" * DEEPEST + b'"' + b"[" * 5000, "not JSON"),
        (b"[]" * 33 + b'"' + b"\\" * 5001, "not JSON"),
    ],
)
def test_what_is_refused_says_why(content, why):
    with pytest.raises(JsonError) as caught:
        read_json(content)
    assert why in caught.value.reason


def test_a_byte_order_mark_is_passed_over():
    """RFC 8259, section 8.1: parsers may ignore one at the beginning; elsewhere it is no white space."""
    assert read_json(b'\xef\xbb\xbf{"a": 1}') == {"a": 1}
    with pytest.raises(JsonError):
        read_json(b'{"a": \xef\xbb\xbf1}')


@pytest.mark.parametrize("content", [b'{"a": "b', b'{"a": "\x01"}'])
def test_a_place_is_told_once(content):
    with pytest.raises(JsonError, match=r"[a-z] at line 1, column [0-9]+") as refused:
        read_json(content)
    assert "at at" not in str(refused.value)
