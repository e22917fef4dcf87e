"""The bundled font: what it holds, how wide it sets, and that it never drops or refuses a character."""

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from service.drawing import font
from service.drawing.fonts.subset import RANGES

SIGNS = "½¼¾⅛⅝ × ÷ ± Ø ⌀ ° ≈ ≤ ≥ − – — “ ” \u2018 ’ « » \u2039 \u203a … · • ✓ ✗ → ← ↑ ↓ € £ □ ○"
NEEDED = SIGNS + "AZaz09 àéîõüßøåæœčšžłő ΑΩαω ЖЯжя"


@pytest.mark.parametrize("weight", font.WEIGHTS)
def test_the_face_holds_what_a_shop_may_write(weight):
    assert font.shown(NEEDED, weight) == NEEDED
    assert font.MISSING not in font.shown("".join(chr(code) for code in range(0xA1, 0x180)), weight)


@pytest.mark.parametrize("weight", font.WEIGHTS)
def test_the_face_is_small_renamed_and_licensed(weight):
    """The Bitstream Vera licence: a changed font may not carry the words Bitstream or Vera in its name."""
    file = font.font_file(weight)
    assert file.stat().st_size < 90_000
    assert "Bitstream" in (file.parent / "LICENSE.txt").read_text()
    names = TTFont(file)["name"]
    assert names.getDebugName(1) == font.FAMILY
    for number in (1, 3, 4, 6):
        assert not {"Bitstream", "Vera", "DejaVu"} & set(names.getDebugName(number).split())
    assert "Bitstream" in names.getDebugName(0)


@pytest.mark.parametrize("weight", font.WEIGHTS)
def test_stated_heights_hold_for_every_unaccented_letter(weight):
    face = TTFont(font.font_file(weight))
    glyphs, names = face["glyf"], face.getBestCmap()
    capital = glyphs[names[ord("H")]]
    assert capital.yMax / font.UNITS_PER_EM == pytest.approx(font.CAP_HEIGHT, abs=1e-6)
    for code in (*range(0x30, 0x5B), *range(0x61, 0x7B)):
        glyph = glyphs[names[code]]
        assert glyph.yMax <= font.ASCENT * font.UNITS_PER_EM
        assert glyph.yMin >= -font.DESCENT * font.UNITS_PER_EM


def test_width_is_the_sum_of_the_advances_in_the_file():
    metrics = TTFont(font.font_file("regular"))
    names, advances = metrics.getBestCmap(), metrics["hmtx"]
    units = sum(advances[names[ord(character)]][0] for character in "10 1/2 in")
    assert font.text_width("10 1/2 in", 4.8) == pytest.approx(units * 4.8 / metrics["head"].unitsPerEm)


@given(st.text(st.characters(codec=None), max_size=30))
def test_no_text_is_refused_and_none_is_shortened(text):
    shown = font.shown(text)
    assert len(shown) == len(text)
    assert font.text_width(text, 3.5) == font.text_width(shown, 3.5)
    if text:
        assert font.text_width(text, 3.5) > 0


def test_control_characters_are_shown_as_a_mark():
    assert font.shown("a\x00b\nc\u202e") == "a\ufffdb\ufffdc\ufffd"


def test_every_range_of_the_subset_is_in_order():
    ends = [end for pair in RANGES for end in pair]
    assert ends == sorted(ends)
