"""Text broken into lines that are no wider than there is room."""

import re

from service.drawing.font import text_width
from service.drawing.model import Weight

_BREAK = re.compile(r"(?<!≈) (?![0-9]+/[0-9]|(?:in|mm)\b)|(?<![0-9≈]) ")
"""A space where a line may end: never inside a reading, so that `4 1/2 in` cannot become `4` and `1/2 in`."""


def wrap(text: str, width: float, size: float, weight: Weight = "regular") -> tuple[str, ...]:
    """Lines of at most `width` millimetres at an em of `size`, broken at spaces outside readings.

    Too long a word is cut, into single letters where there is room for no more. An empty text is one empty line.
    """
    lines = [""]
    for word in _BREAK.split(text):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if text_width(longer, size, weight) <= width:
            lines[-1] = longer
            continue
        pieces = _cut(word, width, size, weight)
        lines += pieces if lines[-1] else []
        if len(lines) == 1 and not lines[0]:
            lines = pieces
    return tuple(lines)


def _cut(word: str, width: float, size: float, weight: Weight) -> list[str]:
    """The word in as few pieces as fit."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width(pieces[-1] + letter, size, weight) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
