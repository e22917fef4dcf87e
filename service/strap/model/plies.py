"""Which leathers lie on one another: on the decorated part, at a joint, and where the strip is folded on itself."""

from service.shop.goods import Leather, Nm
from service.strap.model.hardware import Stack
from service.strap.model.spec import FOLDED, Ends
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Plies:
    """The plies of one strap. `decorated` is the body or strip with its lining; `folded` is what a fold doubles.

    `set_through` is what ornaments go through: a lining that covers their backs is glued on after them.
    """

    decorated: tuple[Leather, ...]
    set_through: tuple[Leather, ...]
    joint: tuple[Leather, ...]
    folded: tuple[Leather, ...]

    @property
    def fold(self) -> tuple[Leather, ...]:
        """What a rivet or a stitch at a turned-back end goes through."""
        return self.folded * 2


def plies_of(ends: Ends, leather: Leather, lining: Leather | None, *, covers: bool = False) -> Plies:
    """The plies of a strap whose ends are named: billets are not lined, a single strip is lined all along."""
    lined = (leather, lining) if lining else (leather,)
    set_through = (leather,) if covers else lined
    if not ends.is_strip:
        direct = any(end.kind in FOLDED for end in ends.both)
        folded = lined if direct else (leather,)
        return Plies(decorated=lined, set_through=set_through, joint=(*lined, leather), folded=folded)
    return Plies(decorated=lined, set_through=set_through, joint=lined * 2, folded=lined)


def stack(plies: tuple[Leather, ...]) -> Stack:
    """How thick these are together, over their whole ranges."""
    return Stack(thin=sum(each.thin for each in plies), thick=sum(each.thick for each in plies))


def kept_fold(plies: Plies, lap: Stack) -> Stack:
    """A fold with the lap of a fixed keeper between its two plies."""
    fold = stack(plies.fold)
    return Stack(thin=fold.thin + lap.thin, thick=fold.thick + lap.thick)


def thickness(plies: tuple[Leather, ...]) -> Nm:
    """How thick these are together, each in the middle of its range."""
    return sum(each.thickness for each in plies)
