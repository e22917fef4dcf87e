"""Lengths: what can be read, what is refused, and what is written."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.strap.errors import LengthError
from service.strap.lengths import INCH, LONGEST, MM, exact_text, millimetres, parse_length, reading


@pytest.mark.parametrize(
    ("value", "units"),
    [
        ("24 1/2 in", "mm"), ("24.5in", "mm"), ("24½ in", "mm"), ('24 1/2"', "mm"), ("24.5″", "mm"),
        ("622.3 mm", "in"), ("62.23 cm", "in"), ("0.6223 m", "in"), (Decimal("24.5"), "in"), ("24.5", "in"),
        ("24 1/2", "in"), ("24-1/2 inches", "mm"), ("49/2 IN", "mm"), (" 24 1⁄2 in. ", "mm"), ("622.3", "mm"),
    ],
)  # fmt: skip
def test_every_way_of_writing_it_is_one_length(value, units):
    """1 in = 25.4 mm exactly, since July 1959 (National Physical Laboratory FAQ)."""
    assert parse_length(value, units) == 622_300_000


def test_the_inch_is_that_of_ucum():
    """UCUM: [in_i] = 2.54 cm."""
    assert parse_length("1 in", "mm") == parse_length("2.54 cm", "in") == INCH


@given(st.integers(0, 100 * 64))
def test_every_64th_of_an_inch_survives_the_round_trip(sixty_fourths):
    length = parse_length(f"{sixty_fourths}/64 in", "mm")
    assert length * 64 == sixty_fourths * INCH
    assert not reading(length, "in").startswith("≈")
    assert parse_length(reading(length, "in"), "mm") == length
    assert parse_length(exact_text(length, "in"), "mm") == length


@given(st.integers(0, 50_000))
def test_every_tenth_of_a_millimetre_survives_the_round_trip(tenths):
    length = parse_length(f"{tenths // 10}.{tenths % 10} mm", "in")
    assert length == tenths * MM // 10
    assert parse_length(reading(length, "mm"), "in") == length
    assert Decimal(str(millimetres(length))) == Decimal(tenths) / 10


@given(st.integers(0, LONGEST), st.sampled_from(["in", "mm"]))
def test_the_exact_text_is_read_back_as_the_same_length(length, units):
    assert parse_length(exact_text(length, units), "in") == length


@given(st.integers(0, LONGEST - INCH))
def test_readings_are_the_nearest_graduation_and_say_so_when_they_are_not_exact(length):
    for units, step in (("in", Fraction(INCH, 64)), ("mm", Fraction(MM, 10))):
        text = reading(length, units)
        read = parse_length(text.removeprefix("≈ "), units)
        assert abs(read - length) <= step / 2
        assert text.startswith("≈") == (read != length)


@pytest.mark.parametrize(
    ("length", "text"),
    [
        ("0.625 in", "5/8 in"), ("10/16 in", "5/8 in"), ("4 32/64 in", "4 1/2 in"), ("0 in", "0 in"),
        ("3 in", "3 in"), ("1/3 in", "≈ 21/64 in"),
    ],
)  # fmt: skip
def test_fractions_are_reduced_and_written_whole_space_fraction(length, text):
    """0.60 in is 10/16, reduced 5/8, at a sixteenth: rounding, reducing and writing as ruler-reading texts teach."""
    assert reading(parse_length(length, "in"), "in") == text


def test_negative_places_keep_their_sign():
    assert reading(-INCH, "in") == "-1 in"
    assert reading(-MM // 2, "mm") == "-0.5 mm"
    assert millimetres(-1_500_600) == -1.501


@pytest.mark.parametrize(
    "nonsense",
    [
        "1/0 in", "NaN", "nan in", "inf mm", "1e400 mm", "-3 in", "−3 in", "3 furlongs", "", " ", "in", "1/2/3 in",
        "1 1 1/2 in", "9" * 5000, "1/" + "9" * 5000 + " in", "½½ in", "--1", "1,5 mm", "0x10 mm", "٣ in", "1_0 mm",
        "99999999999 mm", Decimal("NaN"), Decimal("Infinity"), Decimal(-1), Decimal("1e400"), 10**4000, -1,
    ],
    ids=lambda value: str(value)[:12],
)  # fmt: skip
def test_nonsense_is_refused_with_a_reason(nonsense):
    with pytest.raises(LengthError) as refused:
        parse_length(nonsense, "in")
    assert refused.value.reason


@given(st.text(max_size=60))
@example("1" * 41)
@example("½" * 40)
def test_any_text_is_read_or_refused(text):
    try:
        length = parse_length(text, "mm")
    except LengthError:
        return
    assert 0 <= length <= LONGEST
