"""What a piece is lapped of that is longer than the strips of its leather."""

from typing import Literal

from service.shop.goods import Nm
from service.strap.plane.outline import Outline, part_of
from service.values import dataclass


@dataclass(frozen=True, slots=True)
class Splice:
    """A lap from `start` to `end` along a piece: there two of its strips lie over one another, thinned to one."""

    id: str
    start: Nm
    end: Nm

    @property
    def purpose(self) -> Literal["splice"]:
        """What a rule is told that is measured at it."""
        return "splice"

    @property
    def item(self) -> None:
        """Nothing is set on it."""
        return


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of a piece, from `start` to `end` along it, and the length that it is cut to."""

    name: str
    start: Nm
    end: Nm
    cut_length: Nm
    outline: Outline


def strips_of(name: str, outline: Outline, laps: tuple[Splice, ...], over: Nm, rise: Nm) -> tuple[Strip, ...]:
    """The strips between these laps, cut square there, in order.

    Each has its share of the piece's `rise`; what is cut `over` is so only where the piece itself ends.
    """
    starts, ends = (0, *(lap.start for lap in laps)), (*(lap.end for lap in laps), outline.length)
    last, found = len(laps), []
    for n, (start, end) in enumerate(zip(starts, ends, strict=True)):
        length = end - start + -(-rise * (end - start) // outline.length)
        cut = length + over * ((n == 0) + (n == last))
        part = part_of(outline, length, has_head=n == 0, has_foot=n == last)
        found.append(Strip(f"{name}.strip.{n + 1}", start, end, cut, part))
    return tuple(found)
