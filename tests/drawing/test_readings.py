"""Every place that is cut through, folded or shaped is read on the page that shows it, however long its reading is."""

from itertools import islice

import pytest

from openapi.example_requests import examples
from service.drawing.font import text_width
from service.drawing.model import Text
from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.plane.profile import cut_edge
from service.strap.solve import solve
from tests.drawing.printed_support import print_out
from tests.drawing.support import SHOP, piece_of, unchecked
from tests.drawing.test_pages import words_on
from tests.support.tapered import edged_pair, tapered_pair
from tests.support.two_ended import PAIRS

NOTE = "no room here for readings: every place is on the bench sheet"
TAPERED = {
    "construction": "two_ends",
    "ends": {"head": {"kind": "ring"}, "foot": {"kind": "ring"}},
    "body": {"width": "1 1/2 in", "taper": {"to": "1 in"}},
}
SCALLOPED = {
    "construction": "two_ends",
    "ends": {"head": {"kind": "ring", "ring": "dee_38"}, "foot": {"kind": "ring", "ring": "dee_38"}},
    "body": {"width": "1 1/2 in", "edge": {"shape": "scalloped"}},
}
THREE_PIECE = {"construction": "three_piece", "body": {"width": "2 in", "taper": {"to": "1 1/4 in"}}}


def made(document):
    try:
        return solve(read_spec(document, SHOP.defaults.units), SHOP)
    except Refusal:
        return None


def expected(piece, units):
    """(place, its reading, what is read beside it) of all that is made there, from the pattern alone."""
    for feature in piece.features:
        if feature.action != "mark" and feature.purpose != "border":
            yield feature.x, reading(feature.x, units), None
    for taper in piece.outline.tapers:
        yield taper.narrow, reading(taper.narrow, units), f"{reading(taper.width, units)} wide"
        yield taper.full, reading(taper.full, units), f"{reading(piece.width, units)} wide"
    cut = cut_edge(piece.outline)
    if cut:
        yield from ((at, reading(at, units), None) for at in (cut.start, cut.end))
    yield 0, "0", None
    yield piece.length, reading(piece.length, units), None


def seen(document, name):
    """Each part of a piece with the words that its window shows whole."""
    for page in document.pages:
        for window, placed in zip(page.windows, page.parts, strict=True):
            if placed.part.piece == name:
                yield (
                    placed.part,
                    [item.text for item in window.items if isinstance(item, Text) and whole(window, item)],
                )


def whole(window, text):
    """Within its window: a text that is read from the right-hand side goes upwards from where it begins."""
    x, y, box = text.x + window.x, text.y + window.y, window.box
    if text.rotation == 0:
        return True
    return (
        box.left <= x - text.size * 0.7 and x <= box.right and box.top <= y - text_width(text.text, text.size) + 0.001
    )


def missing(pattern, paper, units):
    """Readings that stand on no page which shows their place."""
    document = print_out(pattern, paper, sheet="false", units=units)
    assert not any(NOTE in " ".join(words_on(page)) for page in document.pages)
    for piece in pattern.pieces:
        parts = list(seen(document, piece.name))
        for at, read, beside in expected(piece, units) if parts else ():
            here = [texts for part, texts in parts if part.left <= at / MM <= part.right]
            if not any(is_read(texts, read) and (beside is None or is_read(texts, beside)) for texts in here):
                yield piece.name, read, beside


def is_read(texts, wanted):
    """On a label of its own, or on one that is shared by several places."""
    ends = (wanted, f" {wanted}")
    return any(
        part == wanted or part.endswith(ends) for text in texts for part in text.replace(", ", "  ·  ").split("  ·  ")
    )


@pytest.mark.parametrize("size", ["20 1/2 in", "20 1/16 in", "20 1/64 in", "500 mm", "512.7 mm"])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_taper_is_read_wherever_its_stations_fall(size, units):
    pattern = made({**TAPERED, "size": {"body_length": size}})
    assert list(missing(pattern, "a4", units)) == []


@pytest.mark.parametrize("paper", ["a4", "a3", "letter", "tabloid"])
@pytest.mark.parametrize(
    ("spec", "units"),
    [
        (SCALLOPED | {"size": {"finished_length": "36 in"}}, "in"),
        (THREE_PIECE | {"size": {"body_length": "24 in"}}, "mm"),
        (TAPERED | {"size": {"overall_length": "20 in"}}, "in"),
    ],
)
def test_on_every_paper(spec, units, paper):
    assert list(missing(made(spec), paper, units)) == []


@pytest.mark.parametrize("name", examples())
@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_example_is_read_on_its_pages(name, units):
    pattern = made(examples()[name])
    assert pattern is None or list(missing(pattern, "a4", units)) == []


def odd():
    """Straps that narrow, or are cut along their edges, as they come: those that can be made."""
    for seed, pair in enumerate(PAIRS):
        for spec in (tapered_pair(*pair, seed), edged_pair(*pair, seed)):
            pattern = made(spec)
            if pattern:
                yield pattern


def test_odd_tapers_are_read():
    for number, pattern in enumerate(islice(odd(), 24)):
        units, paper = ("in", "mm")[number % 2], ("a4", "letter")[number // 2 % 2]
        assert list(missing(pattern, paper, units)) == [], pattern.spec


def test_a_width_stands_below_its_place_and_both_are_led_to_it_once():
    """Long readings are broken into two lines: each line is shorter than the two would be in one."""
    document = print_out(made({**TAPERED, "size": {"body_length": "20 1/64 in"}}), sheet="false")
    labels = [
        text for page in document.pages for window in page.windows for text in window.items if isinstance(text, Text)
    ]
    wide = [text for text in labels if text.text.endswith("in wide")]
    assert len(wide) >= 4
    for text in wide:
        before = [other for other in labels if other.y == text.y and 0 < text.x - other.x < 1.2 * text.size]
        assert len(before) == 1
        assert not before[0].text.endswith("wide")


def test_what_has_no_room_for_readings_says_where_they_are():
    """A piece as high as the paper has room for: no reading stands above it, and its heading says so."""
    pattern = unchecked(piece_of(5 * INCH, 240 * MM, ()))
    document = print_out(pattern, "a4", sheet="false")
    assert any(NOTE in " ".join(words_on(page)) for page in document.pages)
