"""Every strap as a body between two ends, whichever way it was asked for: the only place that knows the short ways."""

from collections.abc import Iterator
from typing import assert_never

from service.shop.goods import Nm
from service.strap.errors import Path
from service.strap.model.spec import Billet, Body, Ends, SizeHoles, Spec, StrapEnd

HEAD: Path = ("ends", "head")
FOOT: Path = ("ends", "foot")
_UNSAID = Ends()


def two_ends(spec: Spec) -> Ends:
    """Head and foot of a spec as it was given."""
    match spec.construction:
        case "open" | "two_ends":
            return spec.ends
        case "one_piece":
            return Ends(head=_buckle(spec.billet), foot=_tip(spec.billet))
        case "three_piece":
            head, foot = (_riveted(spec.billet, end) for end in (_buckle(spec.billet), _tip(spec.billet)))
            return Ends(head=head, foot=foot)
        case _:
            assert_never(spec.construction)


def end_places(spec: Spec) -> tuple[Path, Path]:
    """Where the spec says its two ends."""
    return (HEAD, FOOT) if is_said_by_ends(spec) else (("billet",), ("billet",))


def is_said_by_ends(spec: Spec) -> bool:
    """Whether `ends` says them, and not `billet`."""
    return spec.construction in ("open", "two_ends")


def said_ends(spec: Spec) -> Iterator[tuple[Path, StrapEnd, Nm]]:
    """Each end that `ends` says, and what each billet ends in, with its place and the width of its piece."""
    if spec.ends == _UNSAID:
        return
    for place, end, is_foot in ((HEAD, spec.ends.head, False), (FOOT, spec.ends.foot, True)):
        width = end.width or end_width(spec.body, is_foot=is_foot)
        yield place, end, width
        if end.end:
            yield (*place, "end"), end.end, end.taper.to if end.taper else width


def end_width(body: Body, *, is_foot: bool) -> Nm:
    """Width of a body at one of its ends; 0 where nothing is said."""
    taper = body.tapers[is_foot]
    return taper.to if taper else body.width or 0


def narrowest(body: Body) -> Nm:
    """Width of a body at the narrower of its ends."""
    return min(end_width(body, is_foot=is_foot) for is_foot in (False, True))


def size_hole_rows(spec: Spec) -> Iterator[tuple[Path, SizeHoles]]:
    """Each row of size holes that is asked for, with its place."""
    yield ("billet", "size_holes"), spec.billet.size_holes
    for place, end, _ in said_ends(spec):
        yield (*place, "size_holes"), end.size_holes
    if spec.joining_strap:
        yield ("joining_strap", "size_holes"), spec.joining_strap.size_holes


def _buckle(billet: Billet) -> StrapEnd:
    return StrapEnd(
        kind="buckle",
        buckle=billet.buckle,
        prong_slot=billet.prong_slot,
        keeper=None if billet.keeper is None else "loose" if billet.keeper else "none",
        keeper_width=billet.keeper_width,
        ring=billet.ring,
    )


def _tip(billet: Billet) -> StrapEnd:
    return StrapEnd(
        kind="tip",
        shape=billet.tip.shape,
        depth=billet.tip.depth,
        size_holes=billet.size_holes,
        tip_length=billet.tip_length,
    )


def _riveted(billet: Billet, end: StrapEnd) -> StrapEnd:
    return StrapEnd(kind="billet", shape=billet.tip.shape, depth=billet.tip.depth, width=billet.width, end=end)
