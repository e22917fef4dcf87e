"""Which known name somebody may have meant."""

import pytest

from service.near_names import near_names

IDS = ("heel_bar_20", "heel_bar_25", "centre_bar_25")


@pytest.mark.parametrize(("name", "meant"), [("heel_bar25", "heel_bar_25"), ("HEEL_BAR_20", "heel_bar_20")])
def test_a_slip_of_the_pen_is_near_and_case_is_none(name, meant):
    assert near_names(name, IDS) == [meant]


def test_what_is_like_no_name_is_near_to_none():
    assert near_names("zzz", IDS) == []
    assert near_names("", IDS) == []


def test_several_are_told_nearest_first():
    assert near_names("heel_bar_25", IDS, 3)[0] == "heel_bar_25"
    assert set(near_names("heel_bar_25", IDS, 2)) == {"heel_bar_25", "heel_bar_20"}


def test_names_are_given_as_they_are_known():
    """Of settings, which are written in capitals."""
    assert near_names("strap_thread", ["STRAP_THREADS"]) == ["STRAP_THREADS"]


def test_a_long_name_is_looked_at_no_further_than_any_that_is_known():
    assert near_names("heel_bar_25" + 10**6 * "x", ["heel_bar_25" + 29 * "x"]) == ["heel_bar_25" + 29 * "x"]
