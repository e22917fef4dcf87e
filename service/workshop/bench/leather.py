"""Pieces cut, shaped, thinned, lined before anything is set, and their edges worked while they lie flat and bare."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from service.shop.goods import CutEdgeShape, Nm
from service.strap.model.irons import iron_for
from service.strap.model.pattern import Piece, PieceName
from service.strap.plane.edges import perimeter
from service.strap.plane.outline import EndForm
from service.strap.plane.profile import cut_edge
from service.workshop.bench.splicing import splice_steps
from service.workshop.bench.step import Draft, Op, State, Work
from service.workshop.bench.strap import Strap, states_of
from service.workshop.bench.trying import TRIED


def leather_steps(strap: Strap) -> Iterator[Draft]:
    """From the hide to pieces that are ready for their holes."""
    yield from _strips(strap)
    yield from _lengths(strap)
    for piece in strap.pattern.pieces:
        yield from splice_steps(strap, piece)
    yield from _tapers(strap)
    yield from _cut_edges(strap)
    yield from _ends(strap)
    yield from _skiving(strap)
    if strap.lining and strap.covered is None and not strap.lining.has_edges:
        yield from lining_steps(strap, strap.lined, _bare(strap.lined))
    yield from _edges(strap)
    if strap.covered is None:
        for draft in beside_steps(strap, (State("finish", strap.lined.name),)):
            yield replace(draft, gives=(*draft.gives, State("on before", strap.lined.name)))


def _strips(strap: Strap) -> Iterator[Draft]:
    """One strip for each width and leather, the widest first; the strap cutter is set once for each."""

    def setting(piece: Piece) -> tuple[Nm, str, bool]:
        return -piece.cut_width, piece.leather.id, piece is strap.lining

    ordered = sorted(strap.pattern.pieces, key=lambda piece: (*setting(piece), piece.name))
    for key, group in groupby(ordered, key=setting):
        pieces = tuple(group)
        yield Draft(
            op="strip",
            work=Work("cut_strip", sum(map(_strip_length, pieces)), key),
            pieces=tuple(piece.name for piece in pieces),
            tool="strap cutter",
            needs=TRIED,
            gives=tuple(State("strip", piece.name) for piece in pieces),
        )


def _strip_length(piece: Piece) -> Nm:
    """All that is cut off the strip for it."""
    return piece.count * sum(strip.cut_length for strip in piece.strips)


def _lengths(strap: Strap) -> Iterator[Draft]:
    for piece in strap.pattern.pieces:
        yield Draft(
            op="cut",
            work=Work("cut_length", piece.count * len(piece.strips)),
            pieces=(piece.name,),
            tool="knife",
            needs=(State("strip", piece.name),),
            gives=(State("strips" if piece.splices else "cut", piece.name),),
        )


def _tapers(strap: Strap) -> Iterator[Draft]:
    """Tapers alike to both ends together, before these are shaped; a lining is trimmed to what it lines."""
    for piece in strap.edged:
        tapers = piece.outline.tapers
        likeness = {each: (each.width, abs(each.full - each.narrow), each.eased) for each in tapers}
        for alike in dict.fromkeys(likeness.values()):
            ids = tuple(f"{piece.name}.taper.{each.n}" for each in tapers if likeness[each] == alike)
            yield Draft(
                op="taper",
                work=Work("shape_end", len(ids), alike),
                pieces=(piece.name,),
                tool="knife",
                features=ids,
                needs=(State("cut", piece.name),),
                gives=(State("tapered", piece.name),),
            )


_CUT: dict[CutEdgeShape, Op] = {"scalloped": "scallop", "pinked": "pink"}


def _cut_edges(strap: Strap) -> Iterator[Draft]:
    """Both long edges of a piece at once, with an iron, or by a template; a lining is trimmed to what it lines."""
    edging = (strap.edging,) if strap.edging and not strap.edging.has_edges else ()
    for piece in (*strap.edged, *edging):
        cut = cut_edge(piece.outline)
        if cut:
            iron, edges = iron_for(cut.shape, cut.repeat, cut.depth, strap.shop), cut.edges * piece.count
            by_hand = Work("cut_slot", edges * cut.count, (cut.shape, cut.depth))
            yield Draft(
                op=_CUT[cut.shape],
                work=Work("punch", edges * -(-cut.count // iron.count), iron.id) if iron else by_hand,
                pieces=(piece.name,),
                tool=iron.id if iron else "knife",
                features=tuple(f"{piece.name}.edge.{n}" for n in range(1, cut.edges + 1)),
                needs=(State("cut", piece.name), State("tapered", piece.name)),
                gives=(State("edge cut", piece.name),),
            )


def _ends(strap: Strap) -> Iterator[Draft]:
    """Ends of one form together; a lining is trimmed to what it lines."""
    for piece in strap.edged:
        forms = tuple(zip((piece.outline.head, piece.outline.foot), piece.outline.end_widths, strict=True))
        for form, width in dict.fromkeys(each for each in forms if each[0][0] != "square"):
            ids = tuple(f"{piece.name}.end.{n}" for n, each in enumerate(forms, 1) if each == (form, width))
            yield Draft(
                op="shape",
                work=Work("shape_end", len(ids), (form[0], width, form[1])),
                pieces=(piece.name,),
                tool=_end_punch(strap, form, width) or "knife",
                features=ids,
                needs=(State("cut", piece.name), State("tapered", piece.name)),
                gives=(State("shaped", piece.name),),
            )


def _end_punch(strap: Strap, form: EndForm, width: Nm) -> str | None:
    """The shop's punch of just this form and width, if it has one."""
    shape, depth = form
    punches = strap.shop.end_punches.values()
    return next((p.id for p in punches if (p.shape, p.width, p.depth) == (shape, width, depth)), None)


def _bare(piece: Piece) -> tuple[State, ...]:
    """A piece cut, tapered where it narrows, its edges cut, and shaped where it has an end that is not square."""
    return states_of(piece.name, ("cut", "tapered", "edge cut", "shaped"))


def _skiving(strap: Strap) -> Iterator[Draft]:
    """Whole pieces, and folds where the shop thins them, with the lining that will lie in them."""
    for piece in strap.pattern.pieces:
        if piece.skived < piece.thickness:
            yield _skive(piece, (), State("skived", piece.name))
    if strap.shop.rules.fold_skive < 1:
        for piece, fold in strap.folds:
            for name in strap.through(piece):
                ply = next(each for each in strap.pattern.pieces if each.name == name)
                yield _skive(ply, (fold.id,), State("skived", f"{name} {fold.id}"))


def _skive(piece: Piece, features: tuple[str, ...], gives: State) -> Draft:
    return Draft(
        op="skive",
        work=Work("skive", piece.count),
        pieces=(piece.name,),
        tool="skiving knife",
        features=features,
        needs=_bare(piece),
        gives=(gives,),
    )


def lining_steps(strap: Strap, lined: Piece, needs: tuple[State, ...]) -> Iterator[Draft]:
    """A lining glued behind its piece, and trimmed to the edges of what it lines unless it is cut to size."""
    folds = [State("skived", f"{name} {fold.id}") for _, fold in strap.folds for name in ("lining", lined.name)]
    plies: tuple[PieceName, ...] = (lined.name, "lining")
    own = (State("finish", "lining"),) if strap.lining and strap.lining.has_edges else ()
    yield Draft(
        op="glue",
        work=Work("glue_lining", 1),
        pieces=plies,
        plies=(lined.name, "edging", "lining") if own else plies,
        tool="glue brush",
        needs=(*needs, State("cut", "lining"), *own, *folds),
        gives=(State("glued", "lining"), *((State("edged", lined.name),) if own else ())),
    )
    if not own:
        yield Draft(
            op="trim",
            work=Work("glue_lining"),
            pieces=("lining",),
            plies=plies,
            tool="knife",
            needs=(State("glued", "lining"),),
            gives=(State("trimmed", "lining"),),
        )


def beside_steps(strap: Strap, needs: tuple[State, ...]) -> Iterator[Draft]:
    """An edging glued along worked edges, to be sewn, and behind it the lining that it lies before."""
    edging, body = strap.edging, strap.lined
    if edging is None:
        return
    front: tuple[PieceName, ...] = (body.name,) if strap.has_edging_between else strap.through(body)
    on = State("edging on", body.name)
    yield Draft(
        op="glue",
        work=Work("glue_lining", edging.count),
        pieces=(body.name, edging.name),
        plies=(*front, edging.name),
        tool="glue brush",
        needs=(*needs, *(State(done, edging.name) for done in ("cut", "edge cut", "finish"))),
        gives=(on,),
    )
    if strap.has_edging_between:
        yield from lining_steps(strap, body, (*needs, on))


def _edges(strap: Strap) -> Iterator[Draft]:
    """All edges together, one thing after the other, and the grain dressed; what is charged is their length.

    The edges of a piece whose lining comes last wait for it.
    """
    ready = [state for piece in strap.edged for state in (*_bare(piece), State("skived", piece.name))]
    ready += [State("skived", f"{piece.name} {fold.id}") for piece, fold in strap.folds]
    ready += [State("trimmed", "lining")] if strap.covered is None else []
    now = tuple(piece for piece in strap.edged if piece is not strap.edged_late)
    yield from edge_steps(now, tuple(ready))
    yield Draft(
        op="finish",
        work=Work("finish_edge"),
        pieces=tuple(piece.name for piece in strap.edged),
        tool="cloth",
        needs=(*(State("burnish", piece.name) for piece in now), *(ready if strap.edged_late else ())),
        gives=tuple(State("finish", piece.name) for piece in strap.edged),
    )


def edge_steps(pieces: tuple[Piece, ...], needs: tuple[State, ...]) -> Iterator[Draft]:
    """The edges of these pieces bevelled, dyed and burnished."""
    amount = sum(piece.count * perimeter(piece.outline) for piece in pieces)
    names = tuple(piece.name for piece in pieces)
    works: tuple[tuple[Op, str], ...] = (
        ("bevel", "edge beveller"), ("dye", "dye brush"), ("burnish", "edge slicker"),
    )  # fmt: skip
    for op, tool in works if pieces else ():
        gives = tuple(State(op, name) for name in names)
        yield Draft(op=op, work=Work("finish_edge", amount), pieces=names, tool=tool, needs=needs, gives=gives)
        needs, amount = gives, 0
