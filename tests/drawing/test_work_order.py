"""A work order on paper: no page nearly empty, boxes that a pencil hits, every part once and named, true size."""

import time
from collections import Counter
from functools import cache

import numpy as np
import pypdfium2
import pytest

from openapi.example_requests import examples, requests
from service.desk.work_order import WorkOrderSubject, make_work_order
from service.drawing.model import Group, Path, Text
from service.drawing.printed.document import TooManyPages
from service.drawing.printed.furniture import PRINT_SO
from service.forms.form import OutputOptions
from service.forms.pdf import PDF, pdf
from service.shop_file import demo_shop
from tests.forms.printed_pixels import Rendered
from tests.forms.test_pdf_measured import features_of, measured_place, size_of

SHOP = demo_shop()
PAPERS = ("a4", "letter")
DESIGNS = [{"ref": name, "design": name, "quantity": n} for n, name in enumerate(SHOP.designs, 1)]
EXAMPLES = [{"ref": name, "spec": spec} for name, spec in examples().items() if not name.startswith("refused")]
LINES = {"a day": requests("WorkOrderRequest")["a_day"]["lines"], "designs": DESIGNS, "examples": EXAMPLES}
ORDERS = [(name, paper) for name in LINES for paper in PAPERS]


@cache
def subject(name, paper):
    order = make_work_order({"title": "Tuesday", "lines": LINES[name]}, SHOP, time.monotonic)
    return WorkOrderSubject(order, SHOP, OutputOptions(form=PDF, paper=paper), 300)


@cache
def printed(name, paper):
    return subject(name, paper).pages()


@cache
def data(name):
    return subject(name, "a4").data()


def walk(items, x=0.0, y=0.0):
    """Every item with where its frame lies; pictures apart, which are in a frame of another scale."""
    for item in items:
        if isinstance(item, Group):
            if item.scale == 1.0:
                yield from walk(item.items, x + item.x, y + item.y)
        else:
            yield item, x, y


def texts(page):
    return [item.text for item, _, _ in walk(page.items) if isinstance(item, Text)]


def numbers_of(page):
    """The bold numbers at the left edge: those of tasks."""
    bold = [item for item, _, _ in walk(page.items) if isinstance(item, Text) and item.weight == "bold"]
    return [item.text for item in bold if item.text.isdigit() and item.x == 0.0]


def boxes(page):
    """The sides of all squares that are drawn: places and sides."""
    for item, _, _ in walk(page.items):
        if isinstance(item, Path) and item.fill is None and item.pen and len(item.segments) in (4, 5):
            xs = [s.x for s in item.segments if hasattr(s, "x")]
            ys = [s.y for s in item.segments if hasattr(s, "y")]
            wide, high = max(xs) - min(xs), max(ys) - min(ys)
            if len(xs) >= 4 and abs(wide - high) < 0.01 and wide < 10:
                yield wide


@pytest.mark.parametrize(("name", "paper"), ORDERS)
def test_no_page_is_nearly_empty(name, paper):
    """Ink reaches down a quarter of every page, the last one of all apart."""
    document = printed(name, paper)
    content = pypdfium2.PdfDocument(pdf(document))
    for page, printed_page in zip(list(content)[:-1], document.pages[:-1], strict=True):
        pixels = page.render(scale=0.5, grayscale=True).to_numpy()
        inner = pixels[: int(pixels.shape[0] * 0.9), int(pixels.shape[1] * 0.08) :]
        rows = np.nonzero((inner < 200).any(axis=1))[0]
        assert rows[-1] >= 0.25 * inner.shape[0], printed_page.title


@pytest.mark.parametrize(("name", "paper"), ORDERS)
def test_there_is_a_box_for_every_strap_of_every_task_that_a_pencil_hits(name, paper):
    """4 mm and more; a pencil's mark is about a millimetre wide (from memory)."""
    sides = [side for page in printed(name, paper).pages if page.title == "Bench sheet" for side in boxes(page)]
    assert min(sides) >= 4.0
    assert len(sides) == sum(len(task["parts"]) for task in data(name)["tasks"])


@pytest.mark.parametrize(("name", "paper"), ORDERS)
def test_every_task_stands_on_the_sheet_in_order_with_its_straps(name, paper):
    sheet = [page for page in printed(name, paper).pages if page.title == "Bench sheet"]
    told = [text for page in sheet for text in texts(page)]
    numbers = [text for page in sheet for text in numbers_of(page)]
    wanted = [str(task["n"]) for task in data(name)["tasks"]]
    assert list(dict.fromkeys(numbers)) == wanted
    tags = Counter(text.split("  ")[0] for text in told if "  " in text and text.split("  ")[0].isdigit())
    parts = Counter(str(part["strap"]) for task in data(name)["tasks"] for part in task["parts"])
    assert tags == parts


@pytest.mark.parametrize(("name", "paper"), ORDERS)
def test_each_distinct_strap_is_printed_once_and_whole(name, paper):
    """Every piece from its 0 to its end by its own letter, no joint's name twice in the document.

    A lining without holes is a plain strip, and the teeth of an edging are drawn along its body.
    """
    parts = [placed.part for page in printed(name, paper).pages for placed in page.parts]
    assert len({part.name for part in parts}) == len(parts)
    joints = Counter(part.joint_after for part in parts if part.ends is not None)
    assert set(joints.values()) <= {1}
    ends = {}
    for part in parts:
        number = "".join(filter(str.isdigit, part.letter))
        low, high = ends.get((number, part.piece), (1e9, 0.0))
        ends[number, part.piece] = (min(low, part.left), max(high, part.right))
    wanted = {
        (str(strap["number"]), piece["name"]): piece["length_mm"]
        for strap in data(name)["straps"]
        for piece in strap["pattern"]["pieces"]
        if piece["name"] != "edging" and (piece["name"] != "lining" or piece["features"])
    }
    assert set(ends) == set(wanted)
    for key, length in wanted.items():
        assert ends[key] == pytest.approx((0.0, length), abs=0.01)


@pytest.mark.parametrize(("name", "paper"), [("a day", "a4"), ("designs", "letter")])
def test_the_cover_tells_the_page_of_each_pattern(name, paper):
    document = printed(name, paper)
    on = {}
    for number, page in enumerate(document.pages, 1):
        for placed in page.parts:
            on.setdefault("".join(filter(str.isdigit, placed.part.letter)), set()).add(number)
    told = " ".join(text for page in document.pages if page.title == "Cover" for text in texts(page))
    for pages in on.values():
        first, *more = sorted(pages)
        listed = f"page {first}" if not more else f"pages {first}"
        assert listed in told


@pytest.mark.slow
@pytest.mark.parametrize(("name", "paper"), [("a day", "a4"), ("designs", "letter")])
def test_patterns_are_printed_at_true_size(name, paper):
    """Each punched hole and mark at its place and of its size, measured by pdfium at 600 dpi."""
    document, order = printed(name, paper), subject(name, paper)
    jobs = {str(job.number): job.pattern for job in order._jobs(None)}
    content = pypdfium2.PdfDocument(pdf(document))
    measured = 0
    for index, page in enumerate(document.pages):
        if not page.parts or index % 4:
            continue
        rendered = Rendered(content[index])
        for placed in page.parts:
            pattern = jobs["".join(filter(str.isdigit, placed.part.letter))]
            for feature in features_of(pattern)[placed.part.piece]:
                inside = placed.part.left + 8 < feature["x_mm"] < placed.part.right - 8
                if feature["kind"] == "fold" or not inside:
                    continue
                found = measured_place(rendered, placed, feature)
                assert found[2:] == pytest.approx(size_of(feature), abs=0.13)
                measured += 1
    assert measured > 20


def test_a_tag_is_there_for_every_strap():
    document = printed("a day", "a4")
    told = [text for page in document.pages if page.title == "Tags to cut out" for text in texts(page)]
    for tag in data("a day")["tags"]:
        copies = [text for text in told if text.startswith(tag["tag"])]
        assert len(copies) == tag["quantity"]
    assert sum("Wipe off dirt" in text for text in told) == data("a day")["quantity"]


def test_every_page_says_how_to_print_it():
    for page in printed("a day", "a4").pages:
        assert any(text.startswith(PRINT_SO) for text in texts(page))


def test_more_pages_than_may_be_are_not_made():
    order = subject("designs", "a4").order
    for most in (2, 20):
        few = WorkOrderSubject(order, SHOP, OutputOptions(form=PDF), most)
        with pytest.raises(TooManyPages) as caught:
            few.pages()
        assert caught.value.most == most
