"""The straps of a day: those that are one and the same are one job, made as many times as all that ask for it want."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from service.shop.shop import Shop
from service.strap.model.likeness import pattern_digest
from service.strap.model.pattern import Pattern
from service.workshop.bench.step import Step
from service.workshop.cautions import Cautions, cautions_of
from service.workshop.materials import Order
from service.workshop.steps import steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """So many of a strap for one order; `tag` is what they are called at the bench."""

    ref: str
    strap: str
    tag: str
    title: str
    """What is made, in words."""
    quantity: int
    code: str
    """Of its spec."""
    pattern: Pattern
    """The order's own: with its hand, and the name of its size."""


@dataclass(frozen=True)
class Job:
    """One distinct strap of the day, by its number, and those whose it is."""

    number: int
    shares: tuple[Share, ...]
    shop: Shop

    @property
    def pattern(self) -> Pattern:
        """By which all of them are made."""
        return self.shares[0].pattern

    @property
    def quantity(self) -> int:
        """How many are made."""
        return sum(share.quantity for share in self.shares)

    @property
    def order(self) -> Order:
        """For whatever counts materials."""
        return Order(pattern=self.pattern, quantity=self.quantity)

    @property
    def tags(self) -> str:
        """Whose it is, each with how many: `T-21 left/right × 2, T-30 × 1`."""
        told: dict[tuple[str, int], list[str]] = {}
        for each in self.shares:
            told.setdefault((each.ref, each.quantity), []).append(each.strap)
        named = ((f"{ref} {'/'.join(straps)}".rstrip(), count) for (ref, count), straps in told.items())
        return ", ".join(f"{name} × {count}" if count > 1 else name for name, count in named)

    @property
    def made(self) -> str:
        """What it is, whoever asked for it."""
        return "; ".join(dict.fromkeys(share.title for share in self.shares))

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The steps of making one of it."""
        return steps(self.pattern, self.shop)

    @cached_property
    def cautions(self) -> Cautions:
        """For the bench, and for who will use it."""
        return cautions_of(self.pattern, self.shop)


def jobs_of(shares: Iterable[Share], shop: Shop) -> tuple[Job, ...]:
    """The jobs of these straps in the order in which they are first asked for.

    Straps are one job where all that is cut, punched and set is the same to what answers tell, and their readings are
    in the same units.
    """
    alike: dict[tuple[str, str], list[Share]] = {}
    digests: dict[int, str] = {}
    for share in shares:
        key = id(share.pattern)
        if key not in digests:
            digests[key] = pattern_digest(share.pattern)
        alike.setdefault((digests[key], share.pattern.spec.units), []).append(share)
    return tuple(Job(number, tuple(own), shop) for number, own in enumerate(alike.values(), 1))
