"""The words of a printed document as a person reads them, page by page, line by line.

Taken from where each letter stands on the page, not from the order in which it is written there: that differs between
versions of cairo, and a table's row is then read from left to right as on paper.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from math import hypot
from typing import NamedTuple

import pypdfium2
from pypdfium2 import raw

_SAME_LINE = 0.4
"""Of an em: letters whose baselines lie nearer to one another than this are of one line."""
_SPACE, _APART = 0.15, 0.9
"""Of an em: a wider gap is a space, a far wider one lies between two texts."""


class Letter(NamedTuple):
    """One letter, in points: `along` its line of writing, `off` it downwards; `turned` if it is written upwards."""

    text: str
    along: float
    end: float
    off: float
    em: float
    turned: bool


def printed_words(content: bytes) -> str:
    """All pages of a PDF. Texts that are written upwards stand in lines of their own, from left to right."""
    pages = pypdfium2.PdfDocument(content)
    return "\n".join(f"---- page {n} ----\n{_page(page)}" for n, page in enumerate(pages, 1))


def _page(page: pypdfium2.PdfPage) -> str:
    letters = list(_letters(page))
    lines = _lines(each for each in letters if not each.turned)
    told = [(line[0].off, "   ".join(map(_written, _split(line)))) for line in lines]
    upright = [text for line in _lines(each for each in letters if each.turned) for text in _split(line)]
    upright.sort(key=lambda text: (_foot(text), text[0].off))
    for foot, row in groupby(upright, key=_foot):
        told.append((foot, "upwards: " + " | ".join(map(_written, row))))
    return "".join(f"{text}\n" for _, text in sorted(told))


def _foot(text: list[Letter]) -> int:
    """How far down a text that is written upwards begins, to the point: those along one ruler begin alike."""
    return -round(text[0].along)


def _letters(page: pypdfium2.PdfPage) -> Iterator[Letter]:
    """Every letter that the document itself has: none that pdfium adds, no space."""
    text = page.get_textpage()
    matrix = raw.FS_MATRIX()
    for index in range(text.count_chars()):
        character = chr(raw.FPDFText_GetUnicode(text, index))
        if raw.FPDFText_IsGenerated(text, index) == 1 or character.isspace():
            continue
        left, bottom, right, top = text.get_charbox(index, loose=True)
        raw.FPDFText_GetMatrix(text, index, matrix)
        em = raw.FPDFText_GetFontSize(text, index) * hypot(matrix.a, matrix.b)
        turned = abs(matrix.b) > abs(matrix.a)
        along, end, off = (bottom, top, right) if turned else (left, right, -bottom)
        yield Letter(character, along, end, off, em, turned)


def _lines(letters: Iterable[Letter]) -> Iterator[list[Letter]]:
    """The letters of each line of writing, in order along it."""
    line: list[Letter] = []
    for letter in sorted(letters, key=lambda each: each.off):
        if line and letter.off - line[-1].off > _SAME_LINE * letter.em:
            yield sorted(line, key=lambda each: each.along)
            line = []
        line.append(letter)
    if line:
        yield sorted(line, key=lambda each: each.along)


def _split(line: list[Letter]) -> Iterator[list[Letter]]:
    """The texts of one line."""
    text = line[:1]
    for one, other in pairwise(line):
        if other.along - one.end > _APART * other.em:
            yield text
            text = []
        text.append(other)
    yield text


def _written(text: list[Letter]) -> str:
    words = text[0].text
    for one, other in pairwise(text):
        words += " " * (other.along - one.end > _SPACE * other.em) + other.text
    return words
