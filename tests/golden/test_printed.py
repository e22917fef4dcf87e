"""The words of each example's pages, as they are printed on A4: what a maker works by, so every word is a claim.

`./tests/run --accept` renews the texts in `printed/`.
"""

from pathlib import Path

import pytest

from openapi.example_requests import examples
from tests.golden.printed_words import printed_words
from tests.support.review import ACCEPT, Difference, write_review

HERE = Path(__file__).parent
PRINTED = HERE / "printed"
MADE = [name for name in sorted(examples()) if not name.startswith("refused")]


def printed(client, name: str) -> bytes:
    """The words of all pages of an example, as it is sent."""
    answer = client.post("/v1/patterns?paper=a4", json=examples()[name], headers={"Accept": "application/pdf"})
    assert answer.status_code == 200
    return printed_words(answer.data).encode()


@pytest.mark.parametrize("name", MADE)
def test_the_pages_say_what_they_said(name, client):
    path, found = PRINTED / f"{name}.txt", printed(client, name)
    if ACCEPT:
        PRINTED.mkdir(exist_ok=True)
        path.write_bytes(found)
    kept = path.read_bytes() if path.exists() else b""
    if kept != found:
        page = write_review(HERE / f"review-printed-{name}.html", [Difference(name, ".txt", kept, found)])
        pytest.fail(f"differs: look at {page}, then tests/run --accept")


def test_no_printed_text_is_left_over():
    assert {path.stem for path in PRINTED.glob("*")} == set(MADE)


def test_words_are_read_line_by_line_and_from_left_to_right(client):
    """By hand: the first page's check bars, its foot, and a row of the list of hardware."""
    words = printed(client, "lined_bag_strap").decode()
    lines = words.splitlines()
    assert lines[0] == "---- page 1 ----"
    assert "upwards: 100 mm | 4 in" in lines
    assert any(line.startswith("Print at 100 %, no scaling, and lay a ruler on the bars   ") for line in lines)
    assert "□   5   domed spot, 10 mm   ornament" in lines
