"""What closes the strap: the keeper, turned-back ends with what they trap, joints, and the last look."""

from collections.abc import Iterator
from dataclasses import replace

from service.strap.model.pattern import Feature, Piece, PieceName
from service.workshop.bench.setting import piercing, sewing
from service.workshop.bench.step import Draft, Goods, State, Work
from service.workshop.bench.strap import Strap, flat_work, used


def closing_steps(strap: Strap) -> Iterator[Draft]:
    """Everything after the flat work: before a fold is closed whatever it traps is on it."""
    yield from _snaps(strap)
    yield from _keepers_between(strap)
    yield from _keeper(strap)
    yield from _slipped_on(strap)
    for piece, fold in strap.folds:
        yield from _tucked(strap, piece, fold)
        yield from _fold(strap, piece, fold)
    yield from piercing(strap, "fold_stitch", ("tail",))
    yield from sewing(strap, "fold_stitch")
    yield from _joints(strap)
    yield from piercing(strap, "joint_stitch", ("laid on",))
    yield from sewing(strap, "joint_stitch")


def _snaps(strap: Strap) -> Iterator[Draft]:
    """Both halves of a snap, while the piece still lies flat on the setter."""
    for piece in strap.pattern.pieces:
        for half in ("snap_cap", "snap_stud"):
            found = strap.on(piece, half)
            if found:
                item = str(found[0].item)
                yield Draft(
                    op="set",
                    work=Work("rivet", len(found), item),
                    pieces=(piece.name,),
                    plies=strap.through(piece),
                    tool="snap setter",
                    features=tuple(each.id for each in found),
                    uses=(Goods(item=item, count=len(found)),),
                    needs=flat_work(piece),
                    gives=(State("snapped", piece.name),),
                )


def _dampen(name: PieceName, what: str, features: tuple[str, ...], needs: tuple[State, ...]) -> Draft:
    """A sharp fold cracks dry leather (common practice)."""
    return Draft(
        op="dampen",
        work=Work("fold"),
        pieces=(name,),
        tool="sponge",
        features=features,
        needs=needs,
        gives=(State("damp", what),),
    )


def _keeper(strap: Strap) -> Iterator[Draft]:
    for keeper in strap.keepers:
        yield _dampen(keeper.name, keeper.name, (), flat_work(keeper))
        needs = (State("damp", keeper.name),)
        yield _each(keeper, _riveted(keeper.features, (keeper.name,), (keeper.name, keeper.name), needs))


def _each(keeper: Piece, one: Draft) -> Draft:
    """What is done to one of several keepers that are alike, done to all of them."""
    uses = tuple(replace(goods, count=goods.count * keeper.count) for goods in one.uses)
    return replace(one, uses=uses, work=replace(one.work, amount=keeper.count))


def _keepers_between(strap: Strap) -> Iterator[Draft]:
    """Keepers closed round the strap, and its lining, once all that they go over and hold lies there."""
    body = strap.lined
    for keeper in strap.keepers_between:
        yield _dampen(keeper.name, keeper.name, (), flat_work(keeper))
        plies: tuple[PieceName, ...] = (keeper.name, keeper.name)
        needs = (State("damp", keeper.name), *flat_work(body))
        tools = "rivet setter, thin steel"
        draft = _each(keeper, _riveted(keeper.features, (keeper.name, body.name), plies, needs, tools))
        yield replace(draft, gives=(State("riveted", keeper.name),))


def _riveted(
    holes: tuple[Feature, ...],
    pieces: tuple[PieceName, ...],
    plies: tuple[PieceName, ...],
    needs: tuple[State, ...],
    tool: str = "rivet setter",
) -> Draft:
    """One rivet goes through each pair of holes that meet; a screw post is screwed together."""
    items = [each.item for each in holes if each.item]
    ids = tuple([each.id for each in holes])
    uses = tuple([Goods(item=item, count=items.count(item) // 2) for item in dict.fromkeys(items)])
    return Draft(
        op="rivet",
        work=Work("rivet", sum(each.count for each in uses), uses[0].item),
        pieces=pieces,
        plies=plies,
        tool=tool,
        features=ids,
        uses=uses,
        needs=needs,
        gives=tuple(State("riveted", name) for name in pieces),
    )


def _tool(strap: Strap, holes: tuple[Feature, ...]) -> str:
    """What sets the fastener in these holes."""
    return "screwdriver" if strap.shop.fasteners[str(holes[0].item)].is_screw else "rivet setter"


def _slipped_on(strap: Strap) -> Iterator[Draft]:
    """Closed loops over the end that is still open: once it is folded round a buckle nothing closed passes it.

    The collar ring first, since the keeper lies between it and the buckle.
    """
    for line in strap.goods("lead_ring"):
        piece, _ = next(each for each in strap.folds if not strap.pattern.is_at_foot(*each))
        yield Draft(
            op="slip",
            work=Work("fold"),
            pieces=(piece.name,),
            uses=(used(line),),
            needs=flat_work(piece),
            gives=(State("slipped", line.item),),
        )
    for piece, fold in strap.folds:
        keeper = strap.keeper_at(piece, fold)
        if keeper is None:
            continue
        yield Draft(
            op="slip",
            work=Work("fold"),
            pieces=(piece.name, keeper.name),
            needs=(State("riveted", keeper.name), *_threaded(strap, piece, fold), *flat_work(piece)),
            gives=(State("slipped", keeper.name),),
        )


def _threaded(strap: Strap, piece: Piece, fold: Feature) -> tuple[State, ...]:
    """The collar rings slipped on, where this fold will trap them: the head's."""
    rings = () if strap.pattern.is_at_foot(piece, fold) else strap.goods("lead_ring")
    return tuple(State("slipped", line.item) for line in rings)


def _tucked(strap: Strap, piece: Piece, fold: Feature) -> Iterator[Draft]:
    """Fixed keepers round the front ply, their ends behind it: the fold that is still open will close over them.

    A collar ring lies behind them, and cannot pass them.
    """
    keeper = strap.fixed_keeper_at(piece, fold)
    if keeper is None:
        return
    yield _dampen(keeper.name, keeper.name, (), flat_work(keeper))
    yield Draft(
        op="tuck",
        work=Work("fold"),
        pieces=(piece.name, keeper.name),
        features=(fold.id,),
        needs=(State("damp", keeper.name), *_threaded(strap, piece, fold), *flat_work(piece)),
        gives=(State("tucked", keeper.name),),
    )


def _fold(strap: Strap, piece: Piece, fold: Feature) -> Iterator[Draft]:
    """One turned-back end: dampened, folded round its buckle or ring, and riveted or glued to be sewn."""
    flat = _flat(strap, piece)
    yield _dampen(piece.name, fold.id, (fold.id,), flat)
    keeper, fixed = strap.keeper_at(piece, fold), strap.fixed_keeper_at(piece, fold)
    trapped = [*_threaded(strap, piece, fold)]
    trapped += [State("slipped", keeper.name)] if keeper else []
    trapped += [State("tucked", fixed.name)] if fixed else []
    slots = tuple(each for each in strap.on(piece, "prong_slot") if each.x == fold.x)
    yield Draft(
        op="fold",
        work=Work("fold", 1),
        pieces=(piece.name, *(each.name for each in (keeper, fixed) if each)),
        plies=strap.folded(piece),
        features=(fold.id, *(each.id for each in slots)),
        uses=tuple(used(line) for line in strap.held_by(piece, fold)),
        needs=(State("damp", fold.id), *trapped, *flat),
        gives=(State("folded", fold.id),),
    )
    folded = (State("folded", fold.id),)
    rivets = strap.rivets_of(piece, fold)
    through = {hole.id: hole for hole in fixed.features} if fixed else {}
    kept = tuple(each for each in rivets if any(mate in through for mate in each.mates))
    if fixed and kept:
        front = strap.through(piece)
        plies = (*front, fixed.name, fixed.name, *reversed(front))
        holes = (*kept, *through.values())
        yield _holding(_riveted(holes, (piece.name, fixed.name), plies, folded, _tool(strap, kept)), fold)
    alone = tuple(each for each in rivets if each not in kept)
    if alone:
        yield _holding(_riveted(alone, (piece.name,), strap.folded(piece), folded, _tool(strap, alone)), fold)
    if not rivets:
        yield _glued(strap, piece, fold)


def _flat(strap: Strap, piece: Piece) -> tuple[State, ...]:
    """All that is done to a piece before it is folded or joined, what closes round it while it lies flat with it."""
    around = strap.keepers_between if piece is strap.lined else ()
    return (*flat_work(piece), State("snapped", piece.name), *(State("riveted", each.name) for each in around))


def _folded(strap: Strap, piece: Piece) -> tuple[State, ...]:
    """All that is done to a piece before it is joined to another: its ends are turned back and held."""
    folds = [fold for of, fold in strap.folds if of is piece]
    held = (State(done, fold.id) for fold in folds for done in ("folded", "held"))
    return (*_flat(strap, piece), *held, State("seamed", piece.name))


def _holding(riveted: Draft, fold: Feature) -> Draft:
    return replace(riveted, gives=(*riveted.gives, State("held", fold.id)))


def _glued(strap: Strap, piece: Piece, fold: Feature) -> Draft:
    """The tail glued down, to be sewn."""
    return Draft(
        op="glue",
        work=Work("fold"),
        pieces=(piece.name,),
        plies=strap.folded(piece),
        tool="glue brush",
        features=(fold.id,),
        needs=(State("folded", fold.id),),
        gives=(State("tail", piece.name),),
    )


def _laid_on(strap: Strap, billet: Piece, body: Piece) -> Draft:
    """A billet glued over the body's end, to be sewn."""
    return Draft(
        op="glue",
        work=Work("fold"),
        pieces=(billet.name, body.name),
        plies=(billet.name, *strap.through(body)),
        tool="glue brush",
        features=tuple(line.id for line in billet.stitch_lines if line.purpose == "joint_stitch"),
        needs=(*_folded(strap, body), *_folded(strap, billet), State("pricked", billet.name)),
        gives=(State("laid on", billet.name),),
    )


def _joints(strap: Strap) -> Iterator[Draft]:
    """A billet riveted over the body's end, once everything on the body is set."""
    body = strap.pattern.pieces[0]
    for billet in strap.pattern.pieces[1:]:
        joints = strap.on(billet, "joint")
        if any(line.purpose == "joint_stitch" for line in billet.stitch_lines):
            yield _laid_on(strap, billet, body)
        if joints:
            met = {mate for each in joints for mate in each.mates}
            holes = (*joints, *(each for each in body.features if each.id in met))
            plies = (billet.name, *strap.through(body))
            needs = (*_folded(strap, body), *_folded(strap, billet))
            yield _riveted(holes, (billet.name, body.name), plies, needs, _tool(strap, joints))
