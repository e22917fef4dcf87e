"""The working sheet as SVG and PNG, against CairoSVG drawing our own SVG."""

import cairosvg

from service.drawing.working.sheet import working_sheet
from service.forms.png import png
from service.forms.svg import svg
from service.shop_file import demo_shop
from service.strap.model.spec import Body, Size, Spec
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.benchmarks._timing import line, side_by_side
from tests.benchmarks.solver import roomy_shop, spec_of

SPEC = Spec(
    construction="three_piece",
    size=Size(body_length=24 * INCH),
    body=Body(width=5 * INCH // 2),
    ornaments=Row(item="bell_30", count=6),
    between=Between(item="spot_10"),
    border=Border(item="spot_6"),
)


def main() -> None:
    """Print milliseconds and the ratio to CairoSVG."""
    shop = demo_shop()
    pattern = solve(SPEC, shop)
    drawing = working_sheet(pattern, shop, piece=None, units="in")
    text = svg(drawing).encode()
    times = side_by_side(
        5,
        3,
        sheet=lambda: working_sheet(pattern, shop, piece=None, units="in"),
        svg=lambda: svg(drawing),
        png=lambda: png(drawing, dpi=None, width_px=600, max_pixels=10**8),
        cairosvg=lambda: cairosvg.svg2png(text, output_width=600),
    )
    line("working sheet, drawn", times["sheet"], "ms")
    line("encoded as SVG", times["svg"], "ms")
    line("encoded as PNG, 600 px", times["png"], "ms")
    line("our SVG through CairoSVG, 600 px", times["cairosvg"], "ms")
    line("PNG, times faster than CairoSVG", times["cairosvg"] / times["png"], "x", "aim: at least 5")
    cost_of_features()


def cost_of_features() -> None:
    """Print what a feature costs on a sheet of about 100 and of about 1,000."""
    shop = roomy_shop()
    patterns = {str(count): solve(spec_of(count, border=True), shop) for count in (33, 333)}
    jobs = {
        name: (lambda pattern=pattern: working_sheet(pattern, shop, piece=None, units="in"))
        for name, pattern in patterns.items()
    }
    times = side_by_side(5, 3, **jobs)
    few, many = (times[name] * 1000 / len(pattern.pieces[0].features) for name, pattern in patterns.items())
    line("working sheet of 100 features", few, "µs a feature")
    line("working sheet of 1,000 features, cost of one against that", many / few, "x")


if __name__ == "__main__":
    main()
