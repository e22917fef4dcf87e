"""How a strip narrows to its ends, and where its long edge then runs: half of it, from the centre line."""

from service.shop.goods import Nm
from service.strap.plane.easing import eased
from service.values import dataclass

Place = tuple[float, float]
_EASED_STEPS = 64


@dataclass(frozen=True, slots=True)
class Narrowing:
    """How a strip narrows to one end: `width` wide for `parallel` from there on, and full width `over` farther in.

    Each edge is a straight line, or `eased`: the cubic 3t² - 2t³, which leaves both widths without a corner. An end
    that does not narrow has full width, and an `over` of 0.
    """

    width: Nm
    parallel: Nm
    over: Nm = 0
    eased: bool = False

    @property
    def reach(self) -> Nm:
        """From the end to where full width begins."""
        return self.parallel + self.over


Narrowings = tuple[Narrowing, Narrowing]
"""Of the head, and of the foot."""


def long_edge(length: Nm, width: Nm, narrowings: Narrowings) -> list[Place]:
    """The edge between what both ends keep parallel, an eased part as chords; y counts from the centre line.

    Where tapers meet, which is refused, each place has the lesser width.
    """
    near, far = narrowings
    places = sorted({*_steps(near), *(length - x for x in _steps(far))})
    return [(x, edge_at(length, width, narrowings, x)) for x in places]


def edge_at(length: Nm, width: Nm, narrowings: Narrowings, x: float) -> float:
    """How far from the centre line the long edge runs at `x`, past the shaped ends too."""
    near, far = narrowings
    return min(_half_at(near, x, width), _half_at(far, length - x, width))


def _steps(narrowing: Narrowing) -> list[float]:
    """Where chords of a taper begin and end."""
    count = _EASED_STEPS if narrowing.eased else 1
    return [narrowing.parallel + narrowing.over * n / count for n in range(count + 1)]


def _half_at(narrowing: Narrowing, x: float, width: Nm) -> float:
    """Half the width that one end leaves at `x` from it."""
    half, narrow = width // 2, narrowing.width // 2
    if x <= narrowing.parallel:
        return float(narrow)
    if x >= narrowing.reach:
        return float(half)
    share = (x - narrowing.parallel) / narrowing.over
    return narrow + (half - narrow) * (eased(share) if narrowing.eased else share)
