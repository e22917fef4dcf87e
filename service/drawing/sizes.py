"""Sizes of lettering and distances between things, chosen once for a whole sheet."""

from dataclasses import dataclass

from service.drawing.font import CAP_HEIGHT

_SHORT, _LONG = 260.0, 900.0


@dataclass(frozen=True, slots=True)
class Sizes:
    """Lettering of one sheet, in millimetres: `em` is that of ordinary text, all else in proportion."""

    em: float

    @property
    def caption(self) -> float:
        """Em of a caption over a value."""
        return self.em * 0.78

    @property
    def name(self) -> float:
        """Em of a piece's name."""
        return self.em * 1.45

    @property
    def line(self) -> float:
        """From one baseline to the next."""
        return self.em * 1.4

    @property
    def label_gap(self) -> float:
        """Least distance between the middles of two labels that stand side by side."""
        return self.em * 1.12

    @property
    def gap(self) -> float:
        """Between two blocks of the sheet."""
        return self.em * 2.6


def sizes_for(longest: float) -> Sizes:
    """Lettering for a sheet whose longest piece measures `longest` millimetres.

    Capitals are 2.5, 3.5 or 5 mm high, from the series of ISO 3098-1 (from memory), so that a long strap is
    still read when the whole sheet is shown on a screen.
    """
    height = 2.5 if longest <= _SHORT else 3.5 if longest <= _LONG else 5.0
    return Sizes(height / CAP_HEIGHT)
