"""The bundled font: advances and outlines of its glyphs, read once from the files beside this module.

Nothing installed on the machine is ever used, so a drawing looks the same everywhere.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from pathlib import Path

from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

from service.drawing.model import Weight

FAMILY = "Bench Sans"
UNITS_PER_EM = 2048
CAP_HEIGHT = 1493 / UNITS_PER_EM
"""Height of a capital in ems."""
ASCENT = 0.77
"""Height in ems above the baseline that no letter without an accent exceeds."""
DESCENT = 0.24
"""Depth in ems below the baseline that no letter exceeds."""
MISSING = "\ufffd"
"""Shown in place of a control character or of one that the font lacks."""

WEIGHTS: tuple[Weight, ...] = ("regular", "bold")
_FILES: dict[Weight, str] = {"regular": "BenchSans-Regular.ttf", "bold": "BenchSans-Bold.ttf"}


@dataclass(frozen=True, slots=True)
class Face:
    """One weight of the font: for each character its advance and its outline, in font units."""

    advances: Mapping[str, int]
    paths: Mapping[str, str]
    """SVG path data, y downwards."""


def font_file(weight: Weight) -> Path:
    """Where the face lies on disk."""
    return Path(str(resources.files("service.drawing.fonts") / _FILES[weight]))


@cache
def face(weight: Weight) -> Face:
    """The face, read whole at its first use so that threads share it safely afterwards."""
    with TTFont(font_file(weight)) as source:
        names = {chr(code): name for code, name in source.getBestCmap().items()}
        glyphs = source.getGlyphSet()
        advances = {character: round(glyphs[name].width) for character, name in names.items()}
        paths = {}
        for character, name in names.items():
            pen = SVGPathPen(glyphs, ntos=lambda number: f"{round(number)}")
            glyphs[name].draw(TransformPen(pen, (1, 0, 0, -1, 0, 0)))
            paths[character] = pen.getCommands()
    return Face(advances, paths)


def shown(text: str, weight: Weight = "regular") -> str:
    """The text with every character that has no glyph replaced by a mark; its length stays the same."""
    known = face(weight).advances
    return "".join(character if character in known else MISSING for character in text)


@lru_cache(maxsize=4096)
def _advance(text: str, weight: Weight) -> int:
    advances = face(weight).advances
    return sum(advances[character] for character in shown(text, weight))


def text_width(text: str, size: float, weight: Weight = "regular") -> float:
    """Width in millimetres of one line of text set at an em of `size` millimetres, without kerning."""
    return _advance(text, weight) * size / UNITS_PER_EM
