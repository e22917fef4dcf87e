"""What is made in leather that lies flat: lines of stitches pricked, holes and slots punched, marks scribed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby
from operator import itemgetter

from service.strap.model.pattern import Feature, Piece
from service.strap.model.stitch_line import StitchLine
from service.workshop.bench.step import Draft, Op, State, Work
from service.workshop.bench.strap import Strap

_Cut = tuple[Piece, Feature]


def hole_steps(strap: Strap) -> Iterator[Draft]:
    """Everything that has to be there before anything is set."""
    yield from _pricking(strap)
    yield from _punching(strap)
    yield from _marking(strap)


def through_steps(strap: Strap, covered: Piece) -> Iterator[Draft]:
    """What goes through a piece and the lining that covers it: cut through both once it is on."""
    cuts = [(covered, each) for each in covered.features if each.action == "punch" and not _is_set_on(strap, each)]
    for draft in _cutting(cuts):
        yield replace(
            draft,
            plies=strap.through(covered),
            needs=(State("edged", covered.name),),
            gives=(State("through", covered.name),),
        )


def _pricking(strap: Strap) -> Iterator[Draft]:
    """Every line of stitches but those of laps, which are sewn by now; equal ones of a piece together."""
    for piece in strap.pattern.pieces:
        alike = defaultdict[tuple[object, ...], list[StitchLine]](list)
        for line in (each for each in piece.stitch_lines if each.purpose != "splice_stitch"):
            alike[line.purpose, line.inset, line.holes, line.pitch, line.closed].append(line)
        for lines in alike.values():
            yield Draft(
                op="prick",
                work=Work("stitch"),
                pieces=(piece.name,),
                tool="pricking iron",
                features=tuple(line.id for line in lines),
                needs=(State("finish", piece.name), State("on before", piece.name)),
                gives=(State("holes", piece.name), State("pricked", piece.name)),
            )


def _punching(strap: Strap) -> Iterator[Draft]:
    """All that one tool cuts, over all pieces; of a piece that will be covered, only what ornaments are set in."""
    pieces = strap.pattern.pieces
    cuts = [(piece, each) for piece in pieces for each in piece.features if each.action == "punch"]
    yield from _cutting(cut for cut in cuts if cut[0] is not strap.covered or _is_set_on(strap, cut[1]))


def _is_set_on(strap: Strap, feature: Feature) -> bool:
    """Whether an ornament is set there."""
    return feature.item in strap.shop.ornaments


def _cutting(cuts: Iterable[_Cut]) -> Iterator[Draft]:
    """Tool by tool; slots without a punch of their own come last, with the knife."""
    by_tool = defaultdict[tuple[bool, str], list[_Cut]](list)
    for cut in cuts:
        by_tool[cut[1].method == "holes_and_cuts", cut[1].tool or ""].append(cut)
    for (is_cut_between, tool), found in sorted(by_tool.items(), key=itemgetter(0)):
        operation = "cut_slot" if is_cut_between else "punch"
        yield _made("punch", found, Work(operation, sum([piece.count for piece, _ in found]), tool), tool)


def _marking(strap: Strap) -> Iterator[Draft]:
    pieces = strap.pattern.pieces
    marks = [(piece, each) for piece in pieces for each in piece.features if each.action == "mark"]
    ordered = sorted(marks, key=lambda mark: (mark[0].name, mark[1].item or ""))
    for _, group in groupby(ordered, key=lambda mark: (mark[0].name, mark[1].item or "")):
        found = list(group)
        yield _made("mark", found, Work("mark", len(found)), "scratch awl")


def _made(op: Op, cuts: list[_Cut], work: Work, tool: str) -> Draft:
    names = tuple(dict.fromkeys([piece.name for piece, _ in cuts]))
    return Draft(
        op=op,
        work=work,
        pieces=names,
        tool=tool,
        features=tuple([each.id for _, each in cuts]),
        needs=tuple(State(done, name) for name in names for done in ("finish", "on before")),
        gives=tuple(State("holes", name) for name in names),
    )
