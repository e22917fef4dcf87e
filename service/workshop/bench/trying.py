"""What is tried before good leather is touched: punches and fixings on an offcut, the size in paper or string."""

from collections.abc import Iterator

from service.workshop.bench.step import Draft, State, Work
from service.workshop.bench.strap import Strap

TRIED = (State("tried", "offcut"), State("tried", "size"))


def trying_steps(strap: Strap) -> Iterator[Draft]:
    """The first steps of a strap (common practice). They touch nothing of it, and take nothing that is laid out."""
    if any(piece.features or piece.stitch_lines for piece in strap.pattern.pieces):
        yield Draft(op="test", work=Work("try_out"), pieces=(), tool="offcut", gives=TRIED[:1])
    yield Draft(op="try", work=Work("try_out", 1), pieces=(), tool="paper or string", gives=TRIED[1:])
