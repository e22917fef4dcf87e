"""What one rule of the bench found on a pattern."""

from typing import Literal

from service.shop.goods import Nm
from service.values import dataclass

Sense = Literal["least", "most"]


@dataclass(frozen=True, slots=True)
class Check:
    """The tightest place of one rule. It passes while `value` is at least (or at most) `limit`."""

    rule: str
    sense: Sense
    value: Nm
    limit: Nm
    at: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether the tightest place keeps the rule."""
        return self.value >= self.limit if self.sense == "least" else self.value <= self.limit
