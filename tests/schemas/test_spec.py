"""The spec as JSON: strict in, canonical out, every fault at once. The contract is the source."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.schemas.codes import CodeError, code_of, document_of
from service.schemas.spec import SpecError, canonical_json, read_spec, spec_document
from service.strap.errors import LengthError
from service.strap.model.spec import Size
from service.strap.model.spec_set import Row
from service.strap.plane.lengths import INCH, exact_text, parse_length
from tests.support.straps import specs

ANY_SPEC = st.sampled_from(["three_piece", "one_piece", "open"]).flatmap(specs)
SHORT = {"construction": "open", "size": {"body_length": "24 in"}}


def faults(document, units="in"):
    with pytest.raises(SpecError) as caught:
        read_spec(document, units)
    return {"/".join(fault.path): fault for fault in caught.value.faults}


def codes(document):
    return {place: fault.code for place, fault in faults(document).items()}


@pytest.mark.parametrize(
    ("length", "units"),
    [
        ("24 1/2 in", "mm"), ("24.5in", "mm"), ("24½ in", "mm"), ('24 1/2"', "mm"),
        ("622.3 mm", "in"),
        ("62.23 cm", "in"), (Decimal("24.5"), "in"), ("24.5", "in"), ("24 1/2", "in"),
        (Decimal("622.3"), "mm"),
    ],
)  # fmt: skip
def test_one_length_in_all_its_spellings_is_one_length_and_one_code(length, units):
    """The spellings are the contract's."""
    document = {"construction": "open", "size": {"body_length": length}, "units": units}
    spec = read_spec(document, "in")
    assert spec.size == Size(body_length=49 * INCH // 2)
    spelled = {"construction": "open", "size": {"body_length": "24 1/2 in"}, "units": units}
    assert code_of(spec, "in") == code_of(read_spec(spelled, "in"), "in")


def test_an_id_is_read_with_capitals_and_blanks_and_has_one_code():
    """What a telephone's keyboard makes of an id: a capital in front, a blank behind."""
    plain = SHORT | {
        "leather": "harness_8_9",
        "ornaments": {"items": ["bell_25", "spot_10"], "count": 4, "centrepiece": "bell_30"},
        "border": {"item": "spot_6"},
    }
    typed = SHORT | {
        "leather": "Harness_8_9 ",
        "ornaments": {"items": ["BELL_25", " spot_10"], "count": 4, "centrepiece": "Bell_30"},
        "border": {"item": "Spot_6"},
    }
    assert read_spec(typed, "in") == read_spec(plain, "in")
    assert code_of(read_spec(typed, "in"), "in") == code_of(read_spec(plain, "in"), "in")
    assert read_spec(SHORT | {"size": {"table": "Belt", "label": "xL"}}, "in").size.label == "xL"


def test_bare_numbers_are_in_the_documents_units_or_else_the_shops():
    document = {"construction": "open", "size": {"body_length": 500}}
    assert read_spec(document, "mm").size.body_length == 500_000_000
    assert read_spec(document | {"units": "in"}, "mm").size.body_length == 500 * INCH
    assert read_spec(document, "mm").size.body_length == 500_000_000


def test_every_fault_is_reported_at_once_with_its_place():
    document = {
        "units": "inch",
        "construction": "open",
        "siz": {},
        "size": {"body_length": True, "girth": "x", "eas": 1},
        "ornaments": {"item": "bell_30", "count": 5.0, "spacing": {"pich": 3}},
        "billet": [],
        "a/b~c": 1,
        "_schema": 2,
        "joint": {"_schema": 3, "count": "5", "fastener": 7},
        "ends": {"head": {"kind": "plain", "ring": "ring_25"}, "foot": {"hole": 1, "ring": "r"}},
    }
    assert codes(document) == {
        "units": "unknown_value",
        "siz": "unknown_field",
        "size": "one_of",
        "size/body_length": "wrong_type",
        "size/girth": "not_a_length",
        "size/eas": "unknown_field",
        "ornaments/count": "wrong_type",
        "ornaments/spacing/pich": "unknown_field",
        "ornaments/spacing/pitch": "missing",
        "billet": "wrong_type",
        "a/b~c": "unknown_field",
        "_schema": "unknown_field",
        "joint/_schema": "unknown_field",
        "joint/count": "wrong_type",
        "joint/fastener": "wrong_type",
        "ends/head/ring": "without_meaning",
        "ends/foot": "one_of",
    }


@pytest.mark.parametrize(
    ("name", "offered"),
    [("ornament", "ornaments"), ("Leather", "leather"), ("boddy", "body"), ("constuction", "construction")],
)
def test_an_unknown_field_is_told_the_nearest_known_one(name, offered):
    assert f"did you mean '{offered}'?" in faults(SHORT | {name: 1})[name].detail


def test_a_field_like_no_other_is_told_all_known_ones():
    assert "known: units, construction, size" in faults(SHORT | {"qqqq": 1})["qqqq"].detail


@pytest.mark.parametrize("wrong", ["5", Decimal("5.0"), True, -1, 10**30, [], {}])
def test_a_count_is_a_whole_number_and_nothing_like_one(wrong):
    document = SHORT | {"ornaments": {"item": "bell_30", "count": wrong}}
    assert set(faults(document)) == {"ornaments/count"}


@pytest.mark.parametrize("wrong", ["yes", 1, 0, "true", []])
def test_a_flag_is_true_or_false(wrong):
    assert codes(SHORT | {"billet": {"keeper": wrong}}) == {"billet/keeper": "wrong_type"}


@pytest.mark.parametrize(
    "wrong", ["", "24 in in", "24 yards", "-3 in", "1/0 in", Decimal(-1), Decimal("1e30"), "9" * 41]
)
def test_what_is_not_a_length_is_refused_by_place(wrong):
    assert codes({"construction": "open", "size": {"body_length": wrong}}) == {"size/body_length": "not_a_length"}


def test_a_length_of_nothing_is_refused_where_it_means_nothing():
    assert codes({"construction": "open", "size": {"body_length": 0}}) == {"size/body_length": "out_of_range"}
    spec = read_spec({"construction": "one_piece", "size": {"girth": 10, "ease": 0}}, "in")
    assert spec.size.ease == 0


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        ({}, {"size": "one_of"}),
        ({"body_length": 1, "girth": 1}, {"size": "one_of"}),
        ({"body_length": 1, "measured_from": "bar"}, {"size/measured_from": "without_meaning"}),
        ({"body_length": 1, "ease": 1}, {"size/ease": "without_meaning"}),
        (
            {"body_length": 1, "ease": 1, "measured_from": "bar"},
            {"size/ease": "without_meaning", "size/measured_from": "without_meaning"},
        ),
    ],
)
def test_exactly_one_length_and_nothing_that_belongs_to_another(size, expected):
    assert codes({"construction": "three_piece", "size": size}) == expected


def test_null_says_nothing():
    document = {
        "construction": "open",
        "size": {"body_length": "24 in", "girth": None, "ease": None},
        "between": None,
        "body": {"width": None, "end": None},
        "leather": None,
    }
    assert read_spec(document, "in") == read_spec(SHORT, "in")
    assert codes(SHORT | {"construction": None}) == {"construction": "wrong_type"}


@pytest.mark.parametrize(
    ("part", "place"),
    [
        ({"ornaments": {"items": ["bell_25", None], "count": 3}}, "ornaments/items/1"),
        ({"ornaments": {"item": "bell_25", "count": 3}, "between": [None]}, "between/0"),
        ({"border": [{"item": "spot_6"}, None]}, "border/1"),
    ],
)
def test_null_is_no_entry_of_a_list(part, place):
    assert codes(SHORT | part) == {place: "wrong_type"}


@pytest.mark.parametrize("document", [None, [], "open", 3, True])
def test_a_spec_is_an_object(document):
    assert codes(document) == {"": "wrong_type"}


def test_the_three_kinds_of_spacing():
    def spacing(value):
        return read_spec(SHORT | {"ornaments": {"item": "x", "count": 3, "spacing": value}}, "in").ornaments

    assert spacing("even") == Row(item="x", count=3, spacing="even")
    assert spacing({"pitch": "3"}) == Row(item="x", count=3, spacing=3 * INCH)
    for wrong in ("odd", 3, True, ["even"], {"pitch": 3, "pitsch": 3}):
        with pytest.raises(SpecError):
            spacing(wrong)


def test_of_many_faults_the_first_hundred_are_listed_and_that_there_are_more():
    found = faults(SHORT | {f"unknown_{n}": 1 for n in range(500)})
    assert len(found) == 101
    assert found[""].detail == "and more faults, not listed here"


def test_a_caller_reads_long_names_back_shortened():
    name = "x" * 5000
    assert len(faults(SHORT | {name: 1})[name].detail) < 300


@settings(max_examples=80)
@given(ANY_SPEC)
def test_a_spec_written_and_read_again_is_the_same_and_so_is_its_code(spec):
    units = spec.units or "in"
    assert read_spec(spec_document(spec, units), "in") == spec
    code = code_of(spec, "in")
    again = read_spec(document_of(code), "in")
    assert again == spec
    assert code_of(again, "in") == code


@settings(max_examples=80)
@given(ANY_SPEC)
def test_canonical_json_is_sorted_ascii_without_space_and_says_nothing_unsaid(spec):
    text = canonical_json(spec, "in")
    assert text.isascii()
    assert b": " not in text
    assert b", " not in text
    assert b"null" not in text
    assert b"{}" not in text


@given(st.text(max_size=50))
def test_any_text_is_a_length_or_is_refused(text):
    document = {"construction": "open", "size": {"body_length": text}}
    try:
        expected = parse_length(text, "in")
    except LengthError:
        expected = 0
    if expected:
        assert exact_text(read_spec(document, "in").size.body_length, "in") == exact_text(expected, "in")
    else:
        assert set(faults(document)) == {"size/body_length"}


@pytest.mark.parametrize("code", ["", "a", "ab=", "a b", "é", "abcde", "____", "eyJhIjox", "x" * 9000, "AAAA"])
def test_what_is_no_code_says_so(code):
    """RFC 4648, section 5: the alphabet; section 3.2: padding may be left out where that is said."""
    with pytest.raises(CodeError):
        document_of(code)


def test_the_code_is_base64url_of_the_canonical_json():
    """The expected text is from coreutils: `basenc --base64url`."""
    spec = read_spec(SHORT, "in")
    assert canonical_json(spec, "in") == b'{"construction":"open","size":{"body_length":"24 in"}}'
    expected = "eyJjb25zdHJ1Y3Rpb24iOiJvcGVuIiwic2l6ZSI6eyJib2R5X2xlbmd0aCI6IjI0IGluIn19"
    assert code_of(spec, "in") == expected


def faults_in(**row):
    document = {"construction": "open", "size": {"body_length": "20 in"}, "ornaments": {"count": 2, **row}}
    try:
        read_spec(document, "in")
    except SpecError as error:
        return [(".".join(fault.path), fault.code, fault.found) for fault in error.faults]
    return []


def test_a_list_of_ornaments_is_a_list_of_1_to_100():
    assert faults_in(items=["bell_25"] * 100) == []
    assert faults_in(items=["bell_25"] * 101) == [("ornaments.items", "out_of_range", None)]
    assert faults_in(items=[]) == [("ornaments.items", "out_of_range", None)]
    assert faults_in(items="bell_25") == [("ornaments.items", "wrong_type", None)]


def test_a_count_beyond_reason_is_not_repeated_as_a_number():
    """Whole numbers up to 10^15 are exact in every JSON reader (RFC 8259, section 6: doubles)."""
    most = 10**15 - 1
    assert faults_in(item="bell_25", count=most) == [("ornaments.count", "out_of_range", most)]
    assert faults_in(item="bell_25", count=most + 1) == [("ornaments.count", "out_of_range", None)]


def test_an_id_has_at_most_40_characters():
    assert faults_in(item="x" * 40) == []
    assert faults_in(item="x" * 41) == [("ornaments.item", "out_of_range", None)]
    assert faults_in(item="bell\u00a025") == [("ornaments.item", "invalid", None)]
