"""The words of each example's pages, as they are printed on A4: what a maker works by, so every word is a claim."""

import pytest

from openapi.example_requests import examples
from tests.golden.kept import hold, names_in
from tests.golden.printed_words import printed_words
from tests.golden.test_golden import MADE


def printed(client, name: str) -> str:
    """The words of all pages of an example, as it is sent."""
    answer = client.post("/v1/patterns?paper=a4", json=examples()[name], headers={"Accept": "application/pdf"})
    assert answer.status_code == 200
    return printed_words(answer.data)


@pytest.mark.parametrize("name", MADE)
def test_the_pages_say_what_they_said(name, client):
    hold(f"printed/{name}.txt", printed(client, name))


def test_no_printed_text_is_left_over():
    assert names_in("printed") == set(MADE)


def test_words_are_read_line_by_line_and_from_left_to_right(client):
    """By hand: the first page's check bars, its foot, and a row of the list of hardware."""
    lines = printed(client, "lined_bag_strap").splitlines()
    assert lines[0] == "---- page 1 ----"
    assert "upwards: 100 mm | 4 in" in lines
    assert any(line.startswith("Print at 100 %, no scaling, and lay a ruler on the bars   ") for line in lines)
    assert "□   5   domed spot, 10 mm   ornament" in lines
