"""Random straps to print, always the same ones, and what is printed of them."""

from functools import cache
from random import Random

from openapi.example_requests import examples
from service.drawing.printed.printed import printed
from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.drawing.support import SHOP


def print_out(pattern: Pattern, paper="a4", sheet="true", piece=None, units="in", shop=SHOP):
    """The pages of a pattern."""
    return printed(pattern, shop, paper=paper, piece=piece, units=units, sheet=sheet)


@cache
def example(name: str) -> Pattern:
    """The strap of one of the example requests."""
    return solve(read_spec(examples()[name], SHOP.defaults.units), SHOP)


@cache
def random_straps(count: int) -> tuple[Pattern, ...]:
    """So many straps of all constructions that can be made, up to five feet long."""
    random = Random(20)
    found: list[Pattern] = []
    while len(found) < count:
        spec = _spec(random, ("three_piece", "one_piece", "open")[len(found) % 3])
        try:
            found.append(solve(spec, SHOP))
        except Refusal:
            continue
    return tuple(found)


def _spec(random: Random, construction: str) -> Spec:
    quarters = random.randrange(60, 240)
    wide = random.choice([4, 6, 8, 10, 16]) * INCH // 4
    item = random.choice(["bell_25", "bell_30", "bell_38", "concho_25", "spot_10"])
    row = Row(item=item, count=random.randrange(2, 12), spacing=random.choice(["ruler", "even"]))
    return Spec(
        construction=construction,
        size=Size(body_length=quarters * INCH // 4 + random.choice([0, 1_234_567])),
        units=random.choice(["in", "mm"]),
        body=Body(width=wide) if construction == "three_piece" else Body(),
        ends=Ends(head=StrapEnd(kind="ring"), foot=StrapEnd(kind="hole")) if construction == "open" else Ends(),
        ornaments=row,
        between=Between(item="spot_6", per_gap=random.choice([1, 2])) if random.random() < 0.5 else None,
        border=Border(item="spot_6", inset=INCH // 4, step=INCH) if wide > INCH and random.random() < 0.5 else None,
    )
