"""What is sewn and set on the flat strap: the edges, everything that stands on it, and behind it the laces."""

from collections import Counter
from collections.abc import Iterator

from service.strap.model.laces import laces_of
from service.strap.model.pattern import Feature, Hardware, Piece
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.workshop.bench.step import Draft, Goods, State, Work
from service.workshop.bench.strap import Strap, used

_ORDER = ("border", "between", "ornament")
"""Small things first, while the leather still lies flat on the anvil."""


_HELD: dict[StitchPurpose, tuple[str, str]] = {"fold_stitch": ("tail", "seamed"), "joint_stitch": ("laid on", "joined")}
"""What has to be glued down before it is sewn, and what is done then."""


def setting_steps(strap: Strap) -> Iterator[Draft]:
    """The edges sewn while nothing stands in the way, then what is set, small things first, then the laces.

    A lining that covers the backs is sewn on after them.
    """
    if strap.covered is None:
        yield from sewing(strap, "edge_stitch")
    for purpose in _ORDER:
        for line in strap.goods(purpose):
            if line.item in strap.shop.ornaments:
                yield _setting(strap, line)
    yield from _lacing(strap)


def sewing(strap: Strap, purpose: StitchPurpose) -> Iterator[Draft]:
    """All lines for one purpose, those of a piece together."""
    glued, done = _HELD.get(purpose, (None, "sewn"))
    for piece, lines, threads in seams(strap, purpose):
        needs = [State("pricked", piece.name), State(f"pierced {purpose}", piece.name)]
        yield Draft(
            op="stitch",
            work=Work("stitch", sum(line.stitches for line in lines)),
            pieces=(piece.name,),
            plies=strap.sewn_through(piece, purpose),
            tool="needles",
            features=tuple(line.id for line in lines),
            uses=threads,
            needs=(*needs, *((State(glued, piece.name),) if glued else ())),
            gives=(State(done, piece.name),),
        )


def piercing(strap: Strap, purpose: StitchPurpose, needs: tuple[str, ...]) -> Iterator[Draft]:
    """Lines that were pricked in the front ply alone, through all that lies behind it now."""
    for piece, lines, _ in seams(strap, purpose):
        yield Draft(
            op="pierce",
            work=Work("stitch"),
            pieces=(piece.name,),
            plies=strap.sewn_through(piece, purpose),
            tool="stitching awl",
            features=tuple(line.id for line in lines),
            needs=(State("pricked", piece.name), *(State(need, piece.name) for need in needs)),
            gives=(State(f"pierced {purpose}", piece.name),),
        )


def seams(strap: Strap, purpose: StitchPurpose) -> Iterator[tuple[Piece, tuple[StitchLine, ...], tuple[Goods, ...]]]:
    """The lines for one purpose piece by piece, with their threads: the longer line takes the longer thread."""
    sewn = strap.lines(purpose)
    if not sewn:
        return
    lines = sorted(sewn, key=lambda each: (each[1].length, each[1].holes))
    lengths = sorted(line.length or 0 for line in strap.goods(purpose) for _ in range(line.count))
    threaded = [(piece.name, line, length) for (piece, line), length in zip(lines, lengths, strict=True)]
    for piece in strap.pattern.pieces:
        mine = [(line, length) for name, line, length in threaded if name == piece.name]
        if mine:
            counts = Counter(length for _, length in mine)
            listed = [line.length for line in strap.goods(purpose) if line.length in counts]
            threads = tuple(Goods(item="thread", count=counts[length], length=length) for length in listed if length)
            own = tuple(line for of, line in sewn if of is piece)
            yield piece, own, threads


def _setting(strap: Strap, line: Hardware) -> Draft:
    """Everything of one kind that stands on the strap for one purpose: no punch comes near it any more."""
    piece, features = _carried(strap, line)
    fixing = strap.shop.ornaments[line.item].fixing
    return Draft(
        op="set",
        work=Work(fixing.operation, line.count, line.item),
        pieces=(piece.name,),
        plies=strap.set_through(piece),
        tool=fixing.tool,
        features=tuple(each.id for each in features),
        uses=(used(line), *_fasteners(features)),
        needs=(State("holes", piece.name),),
        gives=(State("set", piece.name), *((State("shanks", piece.name),) if fixing.is_laced else ())),
    )


def _fasteners(features: tuple[Feature, ...]) -> Iterator[Goods]:
    """The rivets or screw posts that hold what does not hold by itself."""
    held = [each.fastener for each in features if each.fastener]
    for item in dict.fromkeys(held):
        yield Goods(item=item, count=held.count(item))


def _carried(strap: Strap, line: Hardware) -> tuple[Piece, tuple[Feature, ...]]:
    """The piece that a line of the hardware list is set on, and its places there."""
    for piece in strap.pattern.pieces:
        found = tuple(each for each in piece.features if (each.purpose, each.item) == (line.purpose, line.item))
        if found:
            return piece, found
    raise AssertionError(f"{line.item} of the hardware list has no place on the strap")


def _lacing(strap: Strap) -> Iterator[Draft]:
    """Row by row, one lace each."""
    for piece in strap.pattern.pieces:
        for lace in laces_of(piece.features, strap.shop.ornaments, strap.shop.rules):
            yield Draft(
                op="lace",
                work=Work("lace", 1),
                pieces=(piece.name,),
                plies=strap.set_through(piece),
                tool="knife",
                features=tuple(each.id for each in lace.shanks),
                uses=(Goods(item="lace", count=1, length=lace.length),),
                needs=(State("shanks", piece.name),),
                gives=(State("laced", piece.name),),
            )
