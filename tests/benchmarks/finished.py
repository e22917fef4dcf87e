"""The finished look as SVG and PNG at three sizes, against CairoSVG drawing our own SVG."""

import cairosvg

from service.drawing.finished.view import finished_view
from service.forms.png import png
from service.forms.svg import svg
from service.shop_file import demo_shop
from service.strap.solve import solve
from tests.benchmarks._timing import line, side_by_side
from tests.benchmarks.pictures import SPEC


def main() -> None:
    """Print milliseconds, and kilobytes of what is sent."""
    shop = demo_shop()
    pattern = solve(SPEC, shop)

    def drawn(aspect: float | None = None) -> object:
        return finished_view(pattern, shop, units="in", aspect=aspect, background=shop.finished.background)

    def painted(drawing: object, width: int) -> bytes:
        return png(drawing, width_px=width, max_pixels=10**8, colours="full")

    free, card = drawn(), drawn(1200 / 630)
    text = svg(free).encode()
    times = side_by_side(
        7,
        3,
        drawn=drawn,
        svg=lambda: svg(free),
        png_600=lambda: painted(free, 600),
        png_1200=lambda: painted(free, 1200),
        card=lambda: painted(card, 1200),
        cairosvg_600=lambda: cairosvg.svg2png(text, output_width=600),
        cairosvg_1200=lambda: cairosvg.svg2png(text, output_width=1200),
    )
    line("finished look, drawn", times["drawn"], "ms")
    line("encoded as SVG", times["svg"], "ms", f"{len(text) / 1024:.0f} kB")
    for width in (600, 1200):
        mine, theirs = times[f"png_{width}"], times[f"cairosvg_{width}"]
        line(f"encoded as PNG, {width} px", mine, "ms", f"{len(painted(free, width)) / 1024:.0f} kB")
        line(f"the same through CairoSVG, {width} px", theirs, "ms", f"{theirs / mine:.1f} x ours")
    line("social card, 1200 x 630 px", times["card"], "ms", f"{len(painted(card, 1200)) / 1024:.0f} kB")


if __name__ == "__main__":
    main()
