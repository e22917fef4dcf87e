"""Lengths: what can be read, what is refused, and what is written."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.strap.errors import LengthError
from service.strap.plane.lengths import (
    INCH,
    LONGEST,
    MM,
    exact_text,
    millimetres,
    parse_length,
    reading,
    readings,
    tape_reading,
)


@pytest.mark.parametrize(
    ("value", "units"),
    [
        ("24 1/2 in", "mm"), ("24.5in", "mm"), ("24½ in", "mm"), ('24 1/2"', "mm"), ("24.5″", "mm"),
        ("622.3 mm", "in"), ("62.23 cm", "in"), ("0.6223 m", "in"), (Decimal("24.5"), "in"), ("24.5", "in"),
        ("24 1/2", "in"), ("24-1/2 inches", "mm"), ("49/2 IN", "mm"), (" 24 1⁄2 in. ", "mm"), ("622.3", "mm"),
        ("2 ft 1/2 in", "mm"), ("2' ½\"", "mm"), ("2′ 0.5″", "mm"), ("2ft0,5in", "mm"), ("2 feet 1/2 inch", "mm"),
        ("24 1/2''", "mm"), ("24,5 in", "mm"), ("24,5", "in"), ("49/24 ft", "mm"),
        ("622,3 mm", "in"), ("622.3 millimetres", "in"), ("622.3 Millimeters", "in"), ("62.23 centimetres", "in"),
        ("62,23 centimeter", "in"), ("0.6223 metres", "in"), ("0.6223 meter", "in"), ("622,3000 mm", "in"),
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


@pytest.mark.parametrize(
    ("found", "limit", "units", "told"),
    [
        (2_444_000, 2_500_000, "in", ("≈ 3/32 in (2.4 mm)", "≈ 3/32 in (2.5 mm)")),
        (2_490_000, 2_500_000, "in", ("≈ 3/32 in (2.49 mm)", "≈ 3/32 in (2.5 mm)")),
        (2_499_000, 2_500_000, "mm", ("2.499 mm", "2.5 mm")),
        (2_500_000, 2_500_000, "mm", ("2.5 mm", "2.5 mm")),
        (2 * MM, 3 * MM, "mm", ("2 mm", "3 mm")),
        (100_000, 0, "in", ("≈ 0 in (0.1 mm)", "0 in (0 mm)")),
        (-40_000, 3 * MM, "mm", ("-0.04 mm", "3 mm")),
        (INCH, 2 * INCH, "in", ("1 in", "2 in")),
    ],
)  # fmt: skip
def test_two_lengths_that_a_ruler_reads_alike_are_told_apart(found, limit, units, told):
    assert readings(found, limit, units) == told


def test_negative_places_keep_their_sign():
    assert reading(-INCH, "in") == "-1 in"
    assert reading(-MM // 2, "mm") == "-0.5 mm"
    assert millimetres(-1_500_600) == -1.501


@pytest.mark.parametrize(
    "nonsense",
    [
        "1/0 in", "NaN", "nan in", "inf mm", "1e400 mm", "-3 in", "−3 in", "3 furlongs", "", " ", "in", "1/2/3 in",
        "1 1 1/2 in", "9" * 5000, "1/" + "9" * 5000 + " in", "½½ in", "--1", "0x10 mm", "٣ in", "1_0 mm",
        "99999999999 mm", "1,5,5 mm", "1,5/2 in", "1, 5 mm", "2 ft 3", "2 3 in", "2 ft 3 mm", "2 cm 5 mm", "2 ft 12 in",
        "2.5 ft 3 in", "20 9/8 in", "1 2/2 in", "-2 ft 3 in", "2 ft -3 in", "2 ft 3 in 1 in", "2'''", "'",
        Decimal("NaN"), Decimal("Infinity"), Decimal(-1), Decimal("1e400"), 10**4000, -1,
    ],
    ids=lambda value: str(value)[:12],
)  # fmt: skip
def test_nonsense_is_refused_with_a_reason(nonsense):
    with pytest.raises(LengthError) as refused:
        parse_length(nonsense, "in")
    assert refused.value.reason


@pytest.mark.parametrize(
    ("text", "units", "readings"),
    [
        ("1,250 mm", "in", ("1250 mm", "1.25 mm")), ("1,250", "in", ("1250 in", "1.25 in")),
        ("0,125 in", "mm", ("125 in", "0.125 in")), ("2,000 ft", "mm", ("2000 ft", "2 ft")),
    ],
)  # fmt: skip
def test_a_comma_that_could_part_thousands_is_refused_with_both_readings(text, units, readings):
    """SI Brochure 5.4.4 (from memory): point and comma are both decimal markers, and neither parts thousands; many
    write it so all the same."""
    with pytest.raises(LengthError) as refused:
        parse_length(text, units)
    assert all(reading in refused.value.reason for reading in readings)


@pytest.mark.parametrize(
    ("text", "units", "readings"),
    [
        ("141/2 in", "in", ("14 1/2 in", "70 1/2 in")), ("41/2", "in", ("4 1/2 in", "20 1/2 in")),
        ("113/16 in", "mm", ("1 13/16 in", "7 1/16 in")), ('35/8"', "mm", ("3 5/8 in", "4 3/8 in")),
        ("2 ft 101/2 in", "mm", ("10 1/2 in", "50 1/2 in")),
    ],
)  # fmt: skip
def test_a_mixed_number_without_its_blank_is_refused_with_both_readings(text, units, readings):
    """Common practice: a mixed number is written with a blank, which is easily forgotten."""
    with pytest.raises(LengthError) as refused:
        parse_length(text, units)
    assert all(reading in refused.value.reason for reading in readings)


@pytest.mark.parametrize(
    "text", ["49/2 in", "47/4 in", "101/64 in", "16/16 in", "20/2 in", "1 1/2 in", "15/16 in", "160/8"]
)
def test_a_fraction_that_can_only_be_one_length_is_read(text):
    whole, _, fraction = text.removesuffix(" in").rpartition(" ")
    assert parse_length(text, "in") * 64 == (int(whole or 0) + Fraction(fraction)) * 64 * INCH


@given(st.integers(0, 99), st.integers(0, 11 * 64 + 63), st.sampled_from([" ft ", "ft", "' ", "′", " feet "]))
def test_feet_and_inches_are_twelve_inches_a_foot(feet, sixty_fourths, mark):
    """12 in to the foot: NIST Handbook 44, appendix C (from memory)."""
    length = parse_length(f"{feet}{mark}{sixty_fourths}/64 in", "mm")
    assert length * 64 == (feet * 12 * 64 + sixty_fourths) * INCH


@given(st.text(max_size=60))
@example("1" * 41)
@example("½" * 40)
def test_any_text_is_read_or_refused(text):
    try:
        length = parse_length(text, "mm")
    except LengthError:
        return
    assert 0 <= length <= LONGEST


@pytest.mark.parametrize(
    ("girth", "units", "expected"),
    [
        (14 * INCH, "in", "14 in"),
        (14 * INCH - INCH // 64, "in", "≈ 14 in"),
        (14 * INCH - 3 * INCH // 64, "in", "≈ 13 15/16 in"),
        (350 * MM, "mm", "350 mm"),
        (350 * MM + MM // 4, "mm", "≈ 350 mm"),
        (0, "in", "0 in"),
    ],
)
def test_girths_are_read_as_a_tape_round_a_body_is(girth, units, expected):
    """To a sixteenth of an inch, or a millimetre (common practice)."""
    assert tape_reading(girth, units) == expected
