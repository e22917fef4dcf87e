"""A document as PDF: every page drawn anew at true size, text as text, and nothing in it that changes by itself."""

import re
from io import BytesIO

import cairocffi

from service.drawing.font import shown
from service.drawing.model import Drawing, Group
from service.drawing.printed.document import Document, Page, TooManyPages
from service.forms.form import Budget, DownloadOffer, Form, OutputOptions, Subject, always
from service.forms.paint import CAIRO, Painter, paint

POINTS = 72 / 25.4
"""PostScript points a millimetre."""
_MADE = "2000-01-01T00:00:00Z"
"""Stands for the time of making: a document is the same whenever it is made."""
_ROOT = re.compile(rb"/Root (\d+) 0 R")
_SIZE = re.compile(rb"/Size (\d+)")
_INFO = re.compile(rb"/Info (\d+) 0 R")
_ENTRY = 20
"""Bytes of an entry in a cross-reference table, which begins with ten digits: where its object stands."""


def pdf(document: Document) -> bytes:
    """The document, one millimetre of it one millimetre of paper."""
    out = BytesIO()
    first = document.pages[0]
    surface = _surface(out, first.width, first.height, document.title, document.description)
    context = cairocffi.Context(surface)
    painter = Painter(context, "glyphs")
    for number, page in enumerate(document.pages, 1):
        surface.set_size(page.width * POINTS, page.height * POINTS)
        surface.set_page_label(str(number))
        _bookmark(surface, page.title, number)
        context.save()
        context.scale(POINTS, POINTS)
        _page(context, painter, page)
        context.restore()
        surface.show_page()
    surface.finish()
    return in_language(out.getvalue(), document.language)


def drawing_pdf(drawing: Drawing) -> bytes:
    """One drawing at true size, on a page as large as itself."""
    out = BytesIO()
    surface = _surface(out, drawing.width, drawing.height, drawing.title, drawing.description)
    context = cairocffi.Context(surface)
    context.scale(POINTS, POINTS)
    paint(context, drawing, text="glyphs")
    surface.finish()
    return in_language(out.getvalue(), drawing.language)


def _surface(out: BytesIO, width: float, height: float, title: str, subject: str) -> cairocffi.PDFSurface:
    surface = cairocffi.PDFSurface(out, width * POINTS, height * POINTS)
    surface.restrict_to_version(cairocffi.PDF_VERSION_1_4)  # from 1.5 on cairo 1.18 writes no table and no trailer
    surface.set_metadata(cairocffi.PDF_METADATA_TITLE, shown(title))
    surface.set_metadata(cairocffi.PDF_METADATA_SUBJECT, shown(subject))
    for date in (cairocffi.PDF_METADATA_CREATE_DATE, cairocffi.PDF_METADATA_MOD_DATE):
        surface.set_metadata(date, _MADE)
    return surface


def _bookmark(surface: cairocffi.PDFSurface, title: str, page: int) -> None:
    surface.add_outline(cairocffi.PDF_OUTLINE_ROOT, shown(title), f"page={page} pos=[0 0]", 0)


def _page(context: cairocffi.Context, painter: Painter, page: Page) -> None:
    """Draw a page. One painter serves all of them, so that a picture is in the document once."""
    for window in page.windows:
        box = window.box
        context.save()
        context.rectangle(box.left, box.top, box.width, box.height)
        context.clip()
        painter.items((Group(window.items, window.x, window.y),))
        context.restore()
    painter.items((Group(page.items),))


def in_language(content: bytes, language: str) -> bytes:
    """The document with its language said in its catalog, which cairo cannot: an update appended to the file.

    Sections 7.5.4 to 7.5.6 (table, trailer, incremental updates) and 14.9.2 (natural language) of ISO 32000-1.
    Raises `ValueError` for a document without a cross-reference table, as there may be from PDF 1.5 on.
    """
    before = int(content[content.rindex(b"startxref") :].split()[1])
    if not content.startswith(b"xref", before):
        raise ValueError("cairo wrote a document without a cross-reference table")
    trailer = content[content.index(b"trailer", before) :]
    root, size, info = (_found(form, trailer) for form in (_ROOT, _SIZE, _INFO))
    begin = _place(content, before, root)
    catalog = content[begin : content.index(b"endobj", begin) + len(b"endobj\n")]
    amended = catalog.replace(b"/Type /Catalog", b"/Type /Catalog\n   /Lang (%s)" % language.encode("ascii"), 1)
    at = len(content)
    table = b"xref\n%d 1\n%010d 00000 n \n" % (root, at)
    ends = b"trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /Prev %d >>\n" % (size, root, info, before)
    return content + amended + table + ends + b"startxref\n%d\n%%%%EOF\n" % (at + len(amended))


def _place(content: bytes, table: int, number: int) -> int:
    """Where an object stands, by a table of one section that begins with object 0."""
    _, _, _, entries = content[table:].split(maxsplit=3)
    return int(entries[number * _ENTRY :][:10])


def _found(form: re.Pattern[bytes], content: bytes) -> int:
    match = form.search(content)
    if match is None:
        raise ValueError(f"cairo wrote a trailer without {form.pattern!r}")
    return int(match[1])


def _encode(subject: Subject, options: OutputOptions, budget: Budget) -> bytes:
    """The pattern as pages, any other view as one drawing. Raises `TooManyPages`."""
    if options.view != "pattern" or options.vary:
        return drawing_pdf(subject.drawing())
    document = subject.pages()
    if len(document.pages) > budget.pages:
        raise TooManyPages(len(document.pages), budget.pages)
    return pdf(document)


PDF = Form(
    name="pdf",
    title="PDF",
    media_type="application/pdf",
    views=("pattern", "finished", "cutter", "worn"),
    parameters=frozenset(("view", "piece", "units", "background", "paper", "sheet", "kerf", "hole")),
    of_posted=frozenset(("vary",)),
    refusals=("unknown_piece", "paper_too_small", "too_many_pages", "kerf_too_wide", "hole_not_worn"),
    libraries=(CAIRO,),
    downloads=(
        DownloadOffer("print", "Pattern and bench sheet as PDF, A4", "paper=a4"),
        DownloadOffer("print", "Pattern and bench sheet as PDF, Letter", "paper=letter"),
        DownloadOffer("print", "Bench sheet alone as PDF, A4", "paper=a4&sheet=only"),
    ),
    cost=always("large"),
    encode=_encode,
)
