"""A strap closed at one of its holes: its loop, which ply lies on which, and what is set where. Millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from service.drawing.finished.leather import FLESH, thickness_of
from service.drawing.finished.made_up import MadeUp
from service.drawing.finished.ply import Ply
from service.drawing.finished.tint import mix
from service.drawing.model import Colour
from service.drawing.worn.loop import Loop
from service.drawing.worn.sheet import Rise, Sheet
from service.shop.goods import Leather
from service.strap.errors import StrapError
from service.strap.model.pattern import Pattern, Piece
from service.strap.plane.lengths import MM
from service.words import say, say_list

_BAR = -0.135
"""Of the loop: so far to the left of the foremost place lies the bar: it is seen, and what follows the tip too."""
_CLIMB = 1.0
"""An end that lies on the other has climbed onto it over so many of its own half widths."""


class HoleNotWorn(StrapError, LookupError):
    """A strap cannot be worn at that `hole`; `holes` are those at which it can."""

    def __init__(self, hole: int, holes: tuple[int, ...]) -> None:
        if holes:
            told = say_list(map(str, holes), "{most} or {last}")
            super().__init__(say("this strap is not worn at hole {hole}: choose {holes}", hole=hole, holes=told))
        else:
            super().__init__(say("nothing is buckled at hole {hole}: this strap hangs", hole=hole))
        self.hole = hole
        self.holes = holes


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """A closed strap. `sheets` lie on one another in that order, the turns of the loop in the order of `turns`."""

    strap: MadeUp
    loop: Loop
    hole: int
    sheets: tuple[Sheet, ...]
    turns: tuple[int, int]
    lining: float
    """Thickness of what lies behind its plies; 0 where nothing does."""
    inner_leather: tuple[Colour, Colour]
    """The colours of the inside, and of its edge."""

    def top_at(self, x: float) -> float:
        """How far out the uppermost leather lies at a place along the strap, or a turn farther on."""
        places = (x, x + self.loop.length, x - self.loop.length)
        return max(
            sheet.outer(each) for sheet in self.sheets for each in places if sheet.ply.left <= each <= sheet.ply.right
        )

    @property
    def half(self) -> float:
        """Half as wide as its leather is where it is widest."""
        return max(sheet.ply.half + sheet.ply.piece.stands_out / MM for sheet in self.sheets)


def closed(pattern: Pattern, strap: MadeUp, hole: int | None) -> Closed | None:
    """The strap closed at a hole, the nominal one where none is said; `None` where its ends do not close.

    Raises `HoleNotWorn`.
    """
    sizes = pattern.finished.sizes if pattern.closes or strap.joining else ()
    at = pattern.finished.nominal_hole if hole is None else hole
    holes = tuple(each.hole for each in pattern.worn_at) if sizes else ()
    if hole is not None and hole not in holes:
        raise HoleNotWorn(hole, holes)
    if at not in holes:
        return None
    return _at_hole(pattern, strap, at)


def _at_hole(pattern: Pattern, strap: MadeUp, hole: int) -> Closed:
    shut = _joined(pattern, strap, hole) if strap.joining else _shut(pattern, strap, hole)
    loop = Loop(shut.length, shut.start - _BAR * shut.length)
    plies = tuple(_ply_sheets(strap, shut, loop))
    lining = pattern.piece("lining")
    return Closed(
        strap=strap,
        loop=loop,
        hole=hole,
        sheets=plies,
        turns=(1, 0) if shut.is_head_over else (0, 1),
        lining=lining.thickness / MM if lining else 0.0,
        inner_leather=_inner(lining, strap.leather),
    )


def _inner(lining: Piece | None, leather: Leather) -> tuple[Colour, Colour]:
    """The lining's grain, or the flesh side of the strap's own leather."""
    if lining:
        return lining.leather.colour, lining.leather.edge_colour
    return mix(leather.edge_colour, leather.colour, FLESH), leather.edge_colour


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shut:
    """Where a strap is shut: at `start` and `length` farther on, which is the same place of the loop.

    From there the end that lies on the other reaches by `reach`, and what it is shut by the other way by `before`.
    """

    start: float
    length: float
    reach: float
    before: float
    is_head_over: bool = False
    joining: Ply | None = None
    foot_bar: float = 0.0


def _shut(pattern: Pattern, strap: MadeUp, hole: int) -> _Shut:
    """By a buckle at the head, or by a snap, whichever of its ends has the cap."""
    if pattern.is_snapped:
        return _snapped(strap, hole)
    holes = sorted({each.x for each in strap.holes if each.feature.purpose == "size_hole"})
    at, bar = holes[hole - 1], strap.buckles[0].x
    right = max(ply.right for ply in strap.plies)
    before = strap.buckles[0].buckle.bar_to_frame / MM
    return _Shut(start=bar, length=at - bar, reach=right - at, before=before)


def _snapped(strap: MadeUp, hole: int) -> _Shut:
    cap = next(each for each in strap.snaps if each.feature.purpose == "snap_cap")
    studs = sorted(each.x for each in strap.snaps if each.feature.purpose == "snap_stud")
    left, right = min(ply.left for ply in strap.plies), max(ply.right for ply in strap.plies)
    if cap.x > studs[-1]:
        stud = studs[len(studs) - hole]
        return _Shut(start=stud, length=cap.x - stud, reach=right - cap.x, before=0.0)
    stud = studs[hole - 1]
    return _Shut(start=cap.x, length=stud - cap.x, reach=0.0, before=cap.x - left, is_head_over=True)


def _joined(pattern: Pattern, strap: MadeUp, hole: int) -> _Shut:
    """By a strap between its two buckles, at the same hole at both its ends."""
    ply = strap.joining[0]
    holes = sorted(each.x - ply.left for each in strap.joining_holes)
    beyond = holes[len(holes) // 2 - hole]
    bar, foot = pattern.finished.head_at.bar / MM, pattern.finished.foot_at.bar / MM
    free = ply.length - 2 * beyond
    laid = _laid(ply, foot - beyond)
    return _Shut(start=bar, length=foot - bar + free, reach=beyond, before=free + beyond, joining=laid, foot_bar=foot)


def _laid(ply: Ply, left: float) -> Ply:
    """The same ply with its left end at another place."""
    return replace(ply, placement=ply.placement._replace(offset=round(left * MM)), left=left, right=left + ply.length)


def _ply_sheets(strap: MadeUp, shut: _Shut, loop: Loop) -> Iterator[Sheet]:
    """Every ply whose grain is seen, the lowest first."""
    plies = [ply for ply in strap.plies if ply.faces_front]
    inner = -thickness_of(plies[0]) / 2
    for ply in plies:
        under = sum(thickness_of(other) for other in plies if _lies_under(other, ply))
        yield Sheet(ply, loop, inner + under, tuple(_rises(ply, plies, shut)))
    if shut.joining:
        lift = sum(thickness_of(ply) for ply in plies if ply.left <= shut.start + 1 <= ply.right)
        climb = _CLIMB * shut.joining.half
        end = shut.start + shut.length
        rises = (Rise(shut.foot_bar + climb, shut.foot_bar, lift), Rise(end - climb, end, lift))
        yield Sheet(shut.joining, loop, inner, rises)


def _lies_under(other: Ply, ply: Ply) -> bool:
    return other.placement.layer < ply.placement.layer and other.left < ply.right and ply.left < other.right


def _rises(ply: Ply, plies: list[Ply], shut: _Shut) -> Iterator[Rise]:
    """Where the end that closes the strap climbs onto the other."""
    end, climb = shut.start + shut.length, _CLIMB * ply.half
    if shut.is_head_over and ply.left <= shut.start:
        lift = sum(thickness_of(other) for other in plies if other.left <= end <= other.right)
        yield Rise(shut.start + climb, shut.start, lift)
    elif not shut.joining and not shut.is_head_over and ply.right > end:
        lift = sum(thickness_of(other) for other in plies if other.left <= shut.start + 1 <= other.right)
        yield Rise(end - climb, end, lift)
