"""What is tried before good leather is touched: punches and fixings on an offcut, the size in paper or string."""

from collections.abc import Iterator

from service.workshop.bench.step import Draft, State, Work
from service.workshop.bench.strap import Strap

TRIED = (State("tried", "offcut"), State("tried", "size"))


def trying_steps(strap: Strap) -> Iterator[Draft]:
    """The first steps of a strap (common practice). They touch nothing of it, and take nothing that is laid out."""
    works = [Work("try_out", 1), Work("try_out")]
    if any(
        piece.stitch_lines or any(each.action != "fold" for each in piece.features) for piece in strap.pattern.pieces
    ):
        yield Draft(op="test", work=works.pop(0), pieces=(), tool="offcut", gives=TRIED[:1])
    yield Draft(op="try", work=works.pop(0), pieces=(), tool="paper or string", gives=TRIED[1:])
