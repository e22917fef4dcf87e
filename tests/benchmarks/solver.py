"""Solver time per feature at about 10, 100 and 1,000 features: the cost must grow linearly."""

from dataclasses import replace

from service.shop.shop import Shop
from service.shop_file import demo_shop
from service.strap.model.spec import Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Border, Row
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.benchmarks._timing import line, side_by_side


def roomy_shop() -> Shop:
    """The demo shop without limits that a benchmark would meet."""
    shop = demo_shop()
    limits = replace(shop.limits, length_max=4000 * INCH, ornaments_max=5000, features_max=50000)
    leathers = {name: replace(leather, strip_length=5000 * INCH) for name, leather in shop.leathers.items()}
    return replace(shop, limits=limits, leathers=leathers)


def spec_of(count: int, *, border: bool) -> Spec:
    """An open strap with `count` spots along it, and a border of about twice as many where asked."""
    plain = StrapEnd(kind="plain", shape="round")
    return Spec(
        construction="open",
        size=Size(body_length=max(2 * (count + 1), 6) * INCH),
        body=replace(Spec(construction="open", size=Size()).body, width=2 * INCH),
        ends=Ends(head=plain, foot=plain),
        ornaments=Row(item="spot_10", count=count),
        border=Border(item="spot_6", step=2 * INCH) if border else None,
    )


def main() -> None:
    """Print microseconds per feature, and the ratio to the figure for 100 features."""
    shop = roomy_shop()
    specs = {10: spec_of(10, border=False), 100: spec_of(33, border=True), 1000: spec_of(333, border=True)}
    features = {size: sum(len(piece.features) for piece in solve(spec, shop).pieces) for size, spec in specs.items()}
    jobs = {str(size): (lambda spec=spec: solve(spec, shop)) for size, spec in specs.items()}
    times = side_by_side(9, 5, **jobs)
    per_feature = {size: times[str(size)] * 1000 / features[size] for size in specs}
    for size, cost in per_feature.items():
        line(f"solve, {features[size]} features", cost, "µs a feature")
    line("1,000 against 100 features, cost of one", per_feature[1000] / per_feature[100], "x", "aim: at most 1.5")


if __name__ == "__main__":
    main()
