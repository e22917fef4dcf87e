"""PDF: what a reader of it finds, on every page, and the same bytes whenever and wherever it is made."""

import os
import subprocess
import sys
from dataclasses import replace

import pypdfium2
import pytest
from pypdfium2 import raw

from service.drawing.model import Text
from service.drawing.printed.document import Document, Page
from service.drawing.working.sheet import working_sheet
from service.forms.pdf import drawing_pdf, in_language, pdf
from tests.drawing.printed_support import print_out
from tests.drawing.support import SHOP, STRAPS, three_piece


def pdf_of_pages():
    return pdf(print_out(three_piece()))


def pdf_of_a_drawing():
    return drawing_pdf(working_sheet(three_piece(), SHOP, piece=None, units="in"))


def opened(content):
    return pypdfium2.PdfDocument(content)


def texts(content):
    return [page.get_textpage().get_text_range() for page in opened(content)]


@pytest.mark.parametrize("name", STRAPS)
def test_every_page_has_its_words_as_text(name):
    """Text on the second page and later is lost where a recorded surface is used twice."""
    document = print_out(STRAPS[name](), "letter")
    found = texts(pdf(document))
    assert len(found) == len(document.pages) >= 3
    for number, text in enumerate(found, 1):
        assert "Print at 100 %, no scaling" in text
        assert "100 mm" in text
        assert "4 in" in text
        assert f"page {number} of {len(found)}" in text
    for page, text in zip(document.pages, found, strict=True):
        for placed in page.parts:
            assert placed.part.name in text
            if placed.part.begins is not None:
                assert text.count(placed.part.joint_before) >= 3


def test_a_reader_is_told_title_language_and_a_time_that_never_changes():
    content = pdf(print_out(three_piece()))
    document = opened(content)
    told = document.get_metadata_dict()
    assert told["Title"].startswith("The bell bench: three-piece strap, ")
    assert "Body" in told["Subject"]
    assert "20000101000000" in told["CreationDate"]
    size = raw.FPDFCatalog_GetLanguage(document, None, 0)
    buffer = (raw.FPDF_WCHAR * (size // 2))()
    raw.FPDFCatalog_GetLanguage(document, buffer, size)
    assert "".join(map(chr, buffer[:-1])) == "en"


def test_its_pages_are_listed_and_labelled():
    document = print_out(three_piece())
    read = opened(pdf(document))
    listed = [(mark.get_title(), mark.get_dest().get_index()) for mark in read.get_toc()]
    assert listed == [(page.title, number) for number, page in enumerate(document.pages)]
    assert read.get_page_label(1) == "2"


@pytest.mark.parametrize(("sheet", "kinds"), [("true", {True, False}), ("false", {True}), ("only", {False})])
def test_the_bench_sheet_comes_behind_or_not_at_all_or_alone(sheet, kinds):
    pages = print_out(three_piece(), sheet=sheet).pages
    shown = [bool(page.parts) for page in pages]
    assert set(shown) == kinds
    assert shown == sorted(shown, reverse=True)


def test_one_piece_alone_is_printed_alone():
    pages = print_out(three_piece(), sheet="false", piece="keeper").pages
    assert [placed.part.piece for page in pages for placed in page.parts] == ["keeper"]


def test_a_name_from_anywhere_is_only_text():
    name = "Glöckchen (Ost) \\ <&> \x07 鈴"
    content = pdf(print_out(three_piece(), shop=replace(SHOP, name=name), sheet="only"))
    assert "Glöckchen (Ost) \\ <&>" in texts(content)[0]
    assert "Glöckchen (Ost)" in opened(content).get_metadata_dict()["Title"]


def test_saying_the_language_leaves_a_document_that_is_whole():
    """The update names the place of the table before it, and that table begins where it is said to."""
    content = pdf(Document("t", "d", "en", (Page(100, 50, "one", (), (Text(10, 10, "word", 5),)),)))
    for place in (int(part.split()[0]) for part in content.split(b"startxref")[1:]):
        assert content[place:].startswith(b"xref")
    assert content.count(b"/Lang (en)") == 1
    assert texts(content) == ["word"]


@pytest.mark.parametrize(
    "content",
    [b"%PDF-1.5\n9 0 obj\n<< /Type /XRef >>\nstartxref\n9\n%%EOF", b"xref\n0 1\ntrailer << >>\nstartxref\n0\n"],
)
def test_a_document_without_table_or_root_is_never_spoiled(content):
    """A document of PDF 1.5 may have a stream in the table's place (ISO 32000-1, section 7.5.8)."""
    with pytest.raises(ValueError, match="cairo wrote"):
        in_language(content, "en")


@pytest.mark.parametrize("make", [pdf_of_pages, pdf_of_a_drawing])
def test_a_document_has_a_table_whichever_cairo_wrote_it(make):
    """Cross-reference and object streams came with PDF 1.5 (ISO 32000-1, sections 7.5.7 and 7.5.8): 1.4 has none."""
    content = make()
    assert content.startswith(b"%PDF-1.4")
    assert b"/XRef" not in content
    assert b"/ObjStm" not in content
    assert content.count(b"trailer") == 2


SCRIPT = """
import hashlib
from service.drawing.cutting.cutter import cutter_drawing
from service.drawing.printed.printed import printed
from service.forms.pdf import drawing_pdf, pdf
from tests.drawing.support import SHOP, STRAPS
for make in STRAPS.values():
    document = printed(make(), SHOP, paper="a4", piece=None, units="mm", sheet="true")
    print(hashlib.sha256(pdf(document)).hexdigest())
    cut = cutter_drawing(make(), SHOP, piece=None, units="mm", kerf=200_000)
    print(hashlib.sha256(drawing_pdf(cut)).hexdigest())
"""


def test_two_processes_print_the_same_bytes():
    """Under other hash seeds, time zones and locales."""

    def run(seed, zone, locale):
        changed = {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale}
        done = subprocess.run([sys.executable, "-c", SCRIPT], env=os.environ | changed, capture_output=True, check=True)
        return done.stdout

    first = run("1", "UTC", "C")
    assert len(first.split()) == 6
    assert first == run("4711", "Asia/Kathmandu", "C.UTF-8")


def test_a_drawing_is_a_page_as_large_as_itself():
    drawing = working_sheet(three_piece(), SHOP, piece=None, units="in")
    (page,) = opened(pdf_of_a_drawing())
    assert page.get_size() == pytest.approx((drawing.width / 25.4 * 72, drawing.height / 25.4 * 72), abs=0.01)
    assert "Buckle billet" in page.get_textpage().get_text_range()
