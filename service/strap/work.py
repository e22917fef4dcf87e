"""How much one request may make the solver do, counted and not timed: a spec is answered alike on every machine."""

from dataclasses import dataclass

SOLVE = 60
"""What a solve costs beside its features, in the cost of one feature laid out and checked."""


@dataclass(slots=True)
class Work:
    """What is `left` of it, in features laid out and checked: about ten microseconds each."""

    left: int

    def spend(self, features: int) -> None:
        """Take away one solve that laid out so many features. Less than nothing may be left: it ends the next."""
        self.left -= SOLVE + features

    @property
    def over(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0
