"""The one door for JSON: strict RFC 8259 text in, plain values out, with numbers as `int` and `Decimal`.

Refused here, since parsers let it pass in silence or fall over it: a key given twice, NaN and Infinity,
nesting beyond reason, very many values, numbers of very many digits, half of a surrogate pair, any encoding but
UTF-8. Whatever is sent, the time that it takes grows no faster than its length.
"""

import json
import re
from collections import Counter
from decimal import Decimal, InvalidOperation

from service.schemas.mistakes import shown
from service.strap.errors import StrapError
from service.words import say

DEEPEST = 32
"""Objects and lists inside one another."""
MOST_MARKS = 200_000
"""Commas and opening brackets: what a document costs to read goes by them."""
MOST_DIGITS = 60
"""Characters of one number."""

_BRACKETS = re.compile(rb'"(?:[^"\\]++|\\.)*+(?:"|\\?\Z)|[\[{]|[\]}]', re.DOTALL)
"""Texts and brackets. A text that is never closed ends with the body: no byte of it is looked at twice."""
_SURROGATE = re.compile(rb"\\u[dD][89a-fA-F]")


class JsonError(StrapError, ValueError):
    """A text that is not JSON, or not JSON that this service reads. `reason` is a sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def read_json(content: bytes) -> object:
    """The value of a JSON text. Raises `JsonError`."""
    _refuse_beyond_reason(content)
    try:
        value: object = _DECODER.decode(content.decode("utf-8-sig"))  # RFC 8259, 8.1: a byte order mark may be ignored
        if _SURROGATE.search(content):
            json.dumps(value, ensure_ascii=False, default=str).encode()
    except UnicodeDecodeError as error:
        raise JsonError(say("the text is not UTF-8")) from error
    except UnicodeEncodeError as error:
        raise JsonError(say("a text holds half of a surrogate pair")) from error
    except json.JSONDecodeError as error:
        raise JsonError(
            say(
                "not JSON: {message} at line {line}, column {column}",
                message=error.msg.removesuffix(" at"),
                line=error.lineno,
                column=error.colno,
            )
        ) from error
    return value


def _refuse_beyond_reason(content: bytes) -> None:
    opening = content.count(b"[") + content.count(b"{")
    if opening + content.count(b",") > MOST_MARKS:
        raise JsonError(say("more than {most_marks} commas and brackets", most_marks=MOST_MARKS))
    if opening <= DEEPEST:
        return
    depth = 0
    for bracket in _BRACKETS.finditer(content):
        first = content[bracket.start()]
        depth += (first in b"[{") - (first in b"]}")
        if depth > DEEPEST:
            raise JsonError(say("nested more than {deepest} deep", deepest=DEEPEST))


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) != len(pairs):
        counts = Counter(name for name, _ in pairs)
        raise JsonError(say("the key {key} is given twice in one object", key=shown(counts.most_common(1)[0][0])))
    return found


def _whole(text: str) -> int:
    _refuse_many_digits(text)
    return int(text)


def _decimal(text: str) -> Decimal:
    _refuse_many_digits(text)
    try:
        return Decimal(text)
    except InvalidOperation as error:
        raise JsonError(say("a number has an exponent beyond reason")) from error


def _refuse_many_digits(text: str) -> None:
    if len(text) > MOST_DIGITS:
        raise JsonError(say("a number has more than {most_digits} characters", most_digits=MOST_DIGITS))


def _no_constant(name: str) -> object:
    raise JsonError(say("{name} is not a JSON number", name=name))


_DECODER = json.JSONDecoder(
    object_pairs_hook=_once, parse_int=_whole, parse_float=_decimal, parse_constant=_no_constant
)
