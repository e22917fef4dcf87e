"""Parts of problem bodies: pointers after RFC 6901, and changes that fit the caller's own document."""

import pytest

from service.schemas.mistakes import shown, shown_number
from service.schemas.problem import fault_document, pointer, remedy_document
from service.strap.errors import Fault
from service.strap.model.spec_changes import Change
from service.strap.plane.lengths import INCH
from service.strap.remedies.remedies import Remedy


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ((), ""),
        (("",), "/"),
        (("a/b",), "/a~1b"),
        (("m~n",), "/m~0n"),
        (("~1", "c%d"), "/~01/c%d"),
        ((" ",), "/ "),
    ],
)
def test_pointers(path, expected):
    """RFC 6901, section 5 has these names; `~1` is its own hard case, section 4."""
    assert pointer(path) == expected


def test_a_length_is_a_pair_and_a_count_is_a_number():
    length = Fault(path=("a",), code="c", detail="d", limit=INCH, found=3 * INCH // 4)
    assert fault_document(length, "in") == {
        "pointer": "/a", "code": "c", "detail": "d",
        "limit": "1 in", "limit_mm": 25.4, "found": "3/4 in", "found_mm": 19.05,
    }  # fmt: skip
    count = Fault(path=("a",), code="c", detail="d", limit=4, is_length=False)
    assert fault_document(count, "mm") == {"pointer": "/a", "code": "c", "detail": "d", "limit": 4}


def changes(document, *wanted):
    return remedy_document(Remedy(detail="d", changes=wanted), document, "in")["changes"]


FASTENER = Change(path=("joint", "fastener"), value="double_cap_large")
SPACING = Change(path=("joint", "spacing"), value=INCH, is_length=True)
PITCH = Change(path=("ornaments", "spacing", "pitch"), value=3 * INCH, is_length=True)


def test_a_change_is_made_in_place_where_its_parent_stands():
    assert changes({"joint": {}}, FASTENER, SPACING) == [
        {"pointer": "/joint/fastener", "value": "double_cap_large"},
        {"pointer": "/joint/spacing", "value": "1 in"},
    ]


@pytest.mark.parametrize("document", [{}, {"joint": None}, {"joint": 3}, None, []])
def test_changes_below_a_missing_parent_give_the_parent_whole(document):
    whole = {"fastener": "double_cap_large", "spacing": "1 in"}
    assert changes(document, FASTENER, SPACING) == [{"pointer": "/joint", "value": whole}]


def test_a_pitch_takes_the_place_of_another_spacing():
    assert changes({"ornaments": {"spacing": "ruler"}}, PITCH) == [
        {"pointer": "/ornaments/spacing", "value": {"pitch": "3 in"}}
    ]
    assert changes({"ornaments": {"spacing": {"pitch": 1}}}, PITCH) == [
        {"pointer": "/ornaments/spacing/pitch", "value": "3 in"}
    ]
    assert changes({}, PITCH) == [{"pointer": "/ornaments", "value": {"spacing": {"pitch": "3 in"}}}]


def test_leaving_a_member_out_is_null():
    assert changes({"between": {}}, Change(path=("between",), value=None)) == [{"pointer": "/between", "value": None}]


def test_what_a_caller_sent_is_repeated_up_to_40_characters():
    assert shown("x" * 40) == repr("x" * 40)
    assert shown("x" * 41) == repr("x" * 39 + "…")
    assert shown_number(10**39) == str(10**39)
    assert shown_number(10**40) == str(10**38) + "…"
