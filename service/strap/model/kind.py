"""A kind of end as an object: what belongs to it, what it is by default, and how it is told."""

from collections.abc import Callable
from typing import Generic, Protocol, TypeVar

from service.shop.goods import Buckle, Nm
from service.shop.shop import Defaults, Rules, Shop
from service.strap.errors import Path
from service.strap.model.filled_ends import FilledEnd
from service.strap.model.holding import Holding
from service.strap.model.job import End
from service.strap.model.spec import EndKind, Hold, StrapEnd
from service.strap.plane.outline import EndForm
from service.values import dataclass

FilledAs = TypeVar("FilledAs", bound=FilledEnd)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsaid:
    """What an end is filled in from: the width of its piece, and the shop."""

    width: Nm
    shop: Shop
    defaults: Defaults


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """What an end is made from: its place in the spec, the width of its piece, and the goods.

    `buckle` is the one that the strap has, if it has one.
    """

    place: Path
    width: Nm
    on_billet: bool
    shop: Shop
    rules: Rules
    buckle: Buckle | None
    holds: "Holds"


class Holds(Protocol):
    """What holds folds and joints, where an end asks for it and where it does not."""

    def of_joint(self, asked: Hold | None) -> Holding:
        """What joins a billet to the body."""

    def of_fold(self, asked: Hold | None) -> Holding:
        """What holds a turned-back end."""

    def of_kept_fold(self, asked: Hold | None) -> Holding:
        """What holds it where the two ends of a fixed keeper lie in it."""


class Words(Protocol):
    """How goods, lengths and shapes are told."""

    def title(self, item: str) -> str:
        """The shop's title of a good."""

    def read(self, length: Nm) -> str:
        """A length as it is read."""

    def shape(self, form: EndForm) -> str:
        """A shape with its depth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind(Generic[FilledAs]):
    """One kind of end, filled in as `filled`.

    `members` of the spec's end belong to it, beside shape and depth; those that it `needs` are said with it; where no
    kind is said, any of `tells` tells it. `fill` says what was left unsaid, `make` gives the end with its goods.
    `title` names it, `ordered` tells it on an order, `seen` in the words for a picture.
    """

    name: EndKind
    filled: type[FilledAs]
    title: str
    members: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    tells: tuple[str, ...] = ()
    fill: Callable[[StrapEnd, Unsaid], FilledAs]
    make: Callable[[FilledAs, Making], End]
    ordered: Callable[[FilledAs, Words], str]
    seen: Callable[[FilledAs, Words], str]
