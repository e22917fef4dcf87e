"""Lines after ISO 128-2 and a palette after Okabe and Ito."""

from itertools import pairwise

import pytest

from service.drawing import lines, palette

WIDE = (lines.OUTLINE, lines.PUNCH)
NARROW = (lines.MARK, lines.FOLD, lines.CENTRE, lines.FOOTPRINT, lines.DIMENSION, lines.EXTENSION)


def test_wide_lines_are_twice_as_wide_as_narrow_ones():
    """ISO 128-2 as in the *Manual of Engineering Drawing*: wide : narrow = 2 : 1."""
    assert {wide.width / narrow.width for wide in WIDE for narrow in NARROW} == {2.0}


def test_widths_are_of_the_standard_series():
    """0.25 0.35 0.5 0.7 mm: *Manual of Engineering Drawing* on ISO 128."""
    assert {pen.width for pen in (*WIDE, *NARROW)} <= {0.25, 0.35, 0.5, 0.7}


def test_line_types_differ_by_their_dashes_alone():
    """Chain for axes, dashed double-dotted for folds, dashed for what is not on the leather (ISO 128-2)."""
    dashes = [pen.dash for pen in (lines.OUTLINE, lines.CENTRE, lines.FOLD, lines.FOOTPRINT)]
    assert len(set(dashes)) == 4
    assert lines.CENTRE.dash == pytest.approx((6.0, 0.75, 0.125, 0.75))


def test_hues_are_those_of_okabe_and_ito():
    """Okabe & Ito, Color Universal Design."""
    published = ["#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"]
    assert list(palette.OKABE_ITO) == published
    assert {lines.PUNCH.colour, lines.MARK.colour, lines.FOLD.colour} <= set(published)


def test_what_is_cut_and_what_is_scribed_also_differ_in_grey():
    """Weights of ITU-R BT.709 (from memory): a filled hole, its rim and the leather are told apart."""

    def grey(colour):
        red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    shades = sorted(map(grey, (palette.BLACK, palette.BLUE, palette.HOLE, palette.LEATHER, palette.PAPER)))
    assert all(lighter - darker > 8 for darker, lighter in pairwise(shades))
