"""Strips lapped to one piece: thinned, glued and sewn while they are bare, before anything else is done to it.

Nothing is punched, shaped or edged before: a lap that is sewn is worked like any other leather.
"""

from collections.abc import Iterator

from service.strap.model.pattern import Piece
from service.workshop.bench.setting import seams
from service.workshop.bench.step import Draft, State, Work
from service.workshop.bench.strap import Strap


def splice_steps(strap: Strap, piece: Piece) -> Iterator[Draft]:
    """From strips that are cut to length to a piece that is; nothing of a piece that is one strip."""
    if not piece.splices:
        return
    laps, name = tuple(lap.id for lap in piece.splices), piece.name
    yield Draft(
        op="skive",
        work=Work("skive", 2 * len(laps)),
        pieces=(name,),
        tool="skiving knife",
        features=laps,
        needs=(State("strips", name),),
        gives=(State("thin laps", name),),
    )
    yield Draft(
        op="glue",
        work=Work("glue_lining", len(laps)),
        pieces=(name,),
        plies=(name, name),
        tool="glue brush",
        features=laps,
        needs=(State("thin laps", name),),
        gives=(State("glued laps", name),),
    )
    yield from _sewn_laps(strap, piece)


def _sewn_laps(strap: Strap, piece: Piece) -> Iterator[Draft]:
    """From laps that are glued to a piece that is cut."""
    name = piece.name
    for of, lines, threads in seams(strap, "splice_stitch"):
        if of is piece:
            ids = tuple(line.id for line in lines)
            yield Draft(
                op="prick",
                work=Work("stitch"),
                pieces=(name,),
                plies=(name, name),
                tool="pricking iron",
                features=ids,
                needs=(State("glued laps", name),),
                gives=(State("pricked laps", name),),
            )
            yield Draft(
                op="stitch",
                work=Work("stitch", sum(line.stitches for line in lines)),
                pieces=(name,),
                plies=(name, name),
                tool="needles",
                features=ids,
                uses=threads,
                needs=(State("pricked laps", name),),
                gives=(State("cut", name),),
            )
