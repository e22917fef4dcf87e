"""Money: decimal amounts with the currency's own number of decimals, and one declared way to round."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

from service.shop.pricing import Margin, Profit, Rounding, decimals_of

_MODES = {"half_up": ROUND_HALF_UP, "half_even": ROUND_HALF_EVEN, "up": ROUND_CEILING}


@dataclass(frozen=True, slots=True)
class Purse:
    """A currency (ISO 4217) and how amounts in it are rounded. `up` rounds towards the dearer side."""

    currency: str
    rounding: Rounding

    def round(self, amount: Decimal) -> Decimal:
        """The amount with the currency's number of decimals."""
        return amount.quantize(Decimal(1).scaleb(-decimals_of(self.currency)), rounding=_MODES[self.rounding])


def price_for(cost: Decimal, profit: Profit) -> Decimal:
    """The exact price of a cost: cost / (1 - margin), or cost x (1 + markup)."""
    return cost / (1 - profit.share) if isinstance(profit, Margin) else cost * (1 + profit.share)
