"""A lining that covers the backs of what is set: glued on after all of it, then edged, cut through and sewn."""

from collections.abc import Iterator
from dataclasses import replace

from service.strap.model.pattern import Piece, PieceName
from service.workshop.bench.holes import through_steps
from service.workshop.bench.leather import beside_steps, edge_steps, lining_steps
from service.workshop.bench.setting import piercing, sewing
from service.workshop.bench.step import Draft, State, Work
from service.workshop.bench.strap import Strap


def covering_steps(strap: Strap) -> Iterator[Draft]:
    """Nothing on a strap whose lining, if it has one, was glued on before anything was set."""
    covered = strap.covered
    if covered is None:
        return
    backs = tuple(State(done, covered.name) for done in ("finish", "holes", "set", "laced"))
    if strap.lining and strap.lining.is_loose:
        yield _laid(covered, (*backs, State("finish", "lining")))
        yield from through_steps(strap, covered)
        return
    yield from _glued_on(strap, covered, backs)
    yield from through_steps(strap, covered)
    yield from piercing(strap, "edge_stitch", ("edged",))
    yield from sewing(strap, "edge_stitch")


def _glued_on(strap: Strap, covered: Piece, backs: tuple[State, ...]) -> Iterator[Draft]:
    """A lining over the backs, and an edging before it, or behind it once the edges of both are worked."""
    if strap.has_edging_between:
        yield from beside_steps(strap, backs)
        return
    yield from lining_steps(strap, covered, backs)
    *edges, last = edge_steps((covered,), (State("trimmed", "lining"),))
    yield from edges
    worked = State("edged", covered.name)
    yield replace(last, gives=(State("burnish", covered.name), worked))
    for draft in beside_steps(strap, (State("burnish", covered.name),)):
        yield replace(draft, gives=(*draft.gives, worked))


def _laid(covered: Piece, needs: tuple[State, ...]) -> Draft:
    """A lining strap laid behind the backs, for keepers to hold."""
    plies: tuple[PieceName, ...] = (covered.name, "lining")
    return Draft(
        op="lay",
        work=Work("rivet"),
        pieces=plies,
        plies=plies,
        tool="clamp",
        needs=needs,
        gives=(State("edged", covered.name),),
    )
