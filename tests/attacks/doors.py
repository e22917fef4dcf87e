"""The doors that read what a caller wrote, and what may come of any input: a value, or the door's own error."""

import random
import time
from base64 import urlsafe_b64encode
from collections.abc import Callable, Iterator

from service.schemas.codes import CodeError, document_of
from service.schemas.json_text import JsonError, read_json
from service.schemas.spec import SpecError, read_spec
from service.strap.errors import LengthError
from service.strap.plane.lengths import LONGEST, parse_length

SLOW_S = 0.05
"""Processor time that no input of a few thousand characters may take."""

LENGTHS = (
    "24 1/2 in", "24.5in", "24½ in", '24 1/2"', "622.3 mm", "62.23 cm", "24.5", "1-1/2 in", "1⁄2 m", "-3 in", "≈ 3 in",
    "+ .5 cm",
)  # fmt: skip
SPECS = (
    b'{"construction":"open","size":{"body_length":"24 in"}}',
    b'{"construction":"three_piece","size":{"girth":"18 in","ease":1},"ornaments":{"item":"bell_30","count":5}}',
    b'{"units":"mm","construction":"one_piece","size":{"finished_length":500.5,"measured_from":"bar"}}',
)
_SALT = (
    "0", "9" * 30, "1e999", "-", "/", "⁄", "½", ".", "\u2003", "\x00", "\n", '"', "\\", "\\u0000", "\\ud800", "{", "}",
    "[", "]", ":", ",", "null", "true", "NaN", "Infinity", "-0", "in", "mm", "\ufeff", "\u202e", "<script>", "&amp;",
    "']]>", "%n%s", "{{7*7}}", "${x}", "../../etc/passwd", "\U0001f428", "\u0661", "1/0", "٣",
)  # fmt: skip


def try_length(text: str) -> None:
    """A text at the length reader: a length within bounds, or `LengthError`."""
    for units in ("in", "mm"):
        try:
            length = parse_length(text, units)
        except LengthError:
            continue
        if not 0 <= length <= LONGEST:
            raise AssertionError(f"{text!r} was read as {length}")


def try_code(text: str) -> None:
    """A text at the code reader: a document, or `CodeError`."""
    try:
        document_of(text)
    except CodeError:
        return


def try_json(content: bytes) -> None:
    """Bytes at the JSON door, and what comes out of it at the spec's schema."""
    try:
        document = read_json(content)
        read_spec(document, "in")
    except (JsonError, SpecError):
        return


def spoiled(dice: random.Random, text: str) -> str:
    """A text with a few things put in, taken out, doubled or swapped."""
    for _ in range(dice.randint(1, 4)):
        at, to = sorted(dice.randint(0, len(text)) for _ in range(2))
        way = dice.randrange(5)
        if way == 0:
            text = text[:at] + dice.choice(_SALT) + text[at:]
        elif way == 1:
            text = text[:at] + text[to:]
        elif way == 2:
            text = text[:to] + text[at:to] * dice.randint(1, 6) + text[to:]
        elif way == 3:
            text = text[:at] + chr(dice.choice((dice.randrange(128), dice.randrange(0x3000)))) + text[at + 1 :]
        else:
            text = text[:at] + text[at:to][::-1] + text[to:]
        text = text[:5000]
    return text


def lengths(dice: random.Random) -> Iterator[str]:
    """Spoiled lengths, without end."""
    while True:
        yield spoiled(dice, dice.choice(LENGTHS))


def jsons(dice: random.Random) -> Iterator[bytes]:
    """Spoiled specs, without end; some of them no UTF-8."""
    while True:
        content = spoiled(dice, dice.choice(SPECS).decode()).encode("utf-8", "surrogatepass")
        if dice.random() < 0.1:
            content = content[:-1] + dice.randbytes(2)
        yield content


def codes(dice: random.Random) -> Iterator[str]:
    """Spoiled codes, and codes of spoiled specs, without end."""
    for content in jsons(dice):
        code = urlsafe_b64encode(content).rstrip(b"=").decode()
        yield spoiled(dice, code) if dice.random() < 0.3 else code


def seconds(door: Callable[..., None], given: object) -> float:
    """Processor time that a door takes for an input."""
    started = time.thread_time()
    door(given)
    return time.thread_time() - started
