"""An offer: what a quote is to a customer, row by row, with what it says of itself."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from service.strap.model.pattern import Pattern
from service.workshop.quote import PricedLine, Quote


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferLine:
    """One strap of an offer. `at` are greater quantities, each with what one costs then."""

    tag: str
    title: str
    pattern: Pattern
    priced: PricedLine
    at: tuple[tuple[int, Decimal], ...] = ()
    is_paired: bool = False


@dataclass(frozen=True, slots=True)
class OfferRow:
    """What a customer sees as one thing: a strap, or the left and the right one of a pair."""

    lines: tuple[OfferLine, ...]

    @property
    def first(self) -> OfferLine:
        """The strap that is shown: of a pair the left one."""
        return self.lines[0]

    @property
    def is_pair(self) -> bool:
        """Whether it is two straps, mirror images of one another."""
        return len(self.lines) == 2

    @property
    def quantity(self) -> int:
        """How many straps, or pairs."""
        return self.first.priced.quantity

    @property
    def unit_price(self) -> Decimal:
        """Of one strap, or one pair."""
        return sum((line.priced.unit_price for line in self.lines), Decimal(0))

    @property
    def total(self) -> Decimal:
        """Of all of them."""
        return sum((line.priced.total for line in self.lines), Decimal(0))

    @property
    def at(self) -> tuple[tuple[int, Decimal], ...]:
        """Greater quantities, each with what one strap, or one pair, costs then."""
        return tuple(
            (own[0][0], sum((price for _, price in own), Decimal(0)))
            for own in zip(*(line.at for line in self.lines), strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Everything that is printed but the shop's own words."""

    number: str
    date: str
    to: tuple[str, ...]
    rows: tuple[OfferRow, ...]
    quote: Quote


def rows_of(lines: Iterable[OfferLine]) -> tuple[OfferRow, ...]:
    """The lines as rows: of a pair the left strap and the right one, which follows it, are one."""
    left = iter(lines)
    return tuple(OfferRow((line, next(left)) if line.is_paired else (line,)) for line in left)
