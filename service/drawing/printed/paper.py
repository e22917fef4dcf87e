"""The papers that patterns are printed on, and the parts of a page: what is drawn, and what frames it."""

from dataclasses import dataclass
from typing import Literal

from service.drawing.parts.panel import Box
from service.shop.looks import Paper
from service.strap.plane.lengths import MM

PaperName = Literal["a4", "a3", "letter", "tabloid"]
INCH = 25.4

PAPERS: dict[PaperName, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (8.5 * INCH, 11 * INCH),
    "tabloid": (11 * INCH, 17 * INCH),
}
"""Width and height in millimetres, upright: A4 and A3 of ISO 216, A and B of ANSI/ASME Y14.1."""

TITLES: dict[PaperName, str] = {"a4": "A4", "a3": "A3", "letter": "Letter", "tabloid": "Tabloid"}
COLUMN = 8.0
"""Millimetres at the left that the upright check bars take."""
FOOT = 15.0
"""Millimetres at the foot that the level check bars and the page's words take."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One side of paper `width` × `height`, with `margin` millimetres free along every edge."""

    width: float
    height: float
    margin: float

    @property
    def inner(self) -> Box:
        """The room beside the check bars and above the foot."""
        left, bottom = self.margin + COLUMN, self.height - self.margin - FOOT
        return Box(left, self.margin, self.width - self.margin, bottom)

    @property
    def foot(self) -> Box:
        """The strip along the foot, right of where both pairs of check bars begin."""
        top = self.height - self.margin - FOOT
        return Box(self.margin + COLUMN, top, self.width - self.margin, self.height - self.margin)


def margin_on(paper: PaperName, printing: Paper) -> float:
    """Millimetres left free along every edge: on inch papers at least what their printers leave."""
    least = printing.inch_margin if paper in ("letter", "tabloid") else 0
    return max(printing.margin, least) / MM


def upright(paper: PaperName, margin: float) -> Sheet:
    """The paper with its short side at the foot."""
    return Sheet(*PAPERS[paper], margin)


def lying(paper: PaperName, margin: float) -> Sheet:
    """The paper with its long side at the foot."""
    width, height = PAPERS[paper]
    return Sheet(height, width, margin)
