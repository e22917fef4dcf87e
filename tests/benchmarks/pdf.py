"""Six printed pages against the same pages through CairoSVG and pypdf, one SVG a page, put together afterwards.

Aim: 20 times as fast. pypdf is no requirement of the tests: without it only our own time is printed.
"""

import io
from dataclasses import replace

import cairosvg

from service.drawing.model import Drawing, Group, Layer
from service.drawing.printed.document import Document, Page
from service.drawing.printed.printed import printed
from service.forms.pdf import pdf
from service.forms.svg import svg
from service.shop_file import demo_shop
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Body, Size, Spec
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.benchmarks._timing import line, side_by_side

try:
    from pypdf import PdfWriter
except ImportError:
    PdfWriter = None

PAGES = 6
SPEC = Spec(
    construction="three_piece",
    size=Size(body_length=24 * INCH),
    body=Body(width=5 * INCH // 2),
    ornaments=Row(item="bell_30", count=6, spacing="ruler"),
    between=Between(item="spot_10", per_gap=1),
    border=Border(item="spot_6", inset=INCH // 4, step=INCH),
)


def laid_out(pattern: Pattern) -> Document:
    """What is printed of a pattern, without its encoding."""
    return printed(pattern, demo_shop(), paper="a4", piece=None, units="in", sheet="true")


def six_pages() -> Document:
    """Pattern and bench sheet of one strap, cut off after six pages."""
    document = laid_out(solve(SPEC, demo_shop()))
    if len(document.pages) < PAGES:
        raise RuntimeError(f"the strap of this benchmark takes {len(document.pages)} pages only")
    return replace(document, pages=document.pages[:PAGES])


def as_drawing(page: Page) -> Drawing:
    """The same page for the SVG writer; windows are groups there, as a neutral drawing clips nothing."""
    seen = tuple(Group(window.items, window.x, window.y) for window in page.windows)
    layer = Layer("notes", "Page", (*seen, *page.items))
    return Drawing(page.width, page.height, page.title, "", "en", (layer,))


def by_cairosvg(document: Document) -> bytes:
    """The pages as SVG, each turned into PDF by CairoSVG, put together by pypdf."""
    writer = PdfWriter()
    for page in document.pages:
        single = cairosvg.svg2pdf(bytestring=svg(as_drawing(page)).encode())
        writer.append(io.BytesIO(single))
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def main() -> None:
    """Print milliseconds, bytes and the ratio."""
    document = six_pages()
    pattern = solve(SPEC, demo_shop())
    jobs = {"ours": lambda: pdf(document), "layout": lambda: laid_out(pattern)}
    if PdfWriter is not None:
        jobs["theirs"] = lambda: by_cairosvg(document)
    taken = side_by_side(5, 3, **jobs)
    line("six pages as PDF", taken["ours"], "ms")
    line("six pages as PDF, size", len(pdf(document)) / 1024, "KiB")
    line("laying out pattern and bench sheet before that", taken["layout"], "ms")
    if PdfWriter is None:
        line("pypdf, for the comparison", 0, "installed")
        return
    line("the same pages through CairoSVG and pypdf", taken["theirs"], "ms")
    line("times as fast", taken["theirs"] / taken["ours"], "×", "aim: 20")
    line("times as fast, laying out included", taken["theirs"] / (taken["ours"] + taken["layout"]), "×")


if __name__ == "__main__":
    main()
