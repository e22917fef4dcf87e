"""How much one request may make the solver do, counted and not timed: a spec is answered alike on every machine."""

from service.values import dataclass

SOLVE = 60
"""What a solve costs beside its features, in the cost of one feature laid out and checked."""


REQUEST = 2800
"""Of one request for one strap: its pattern, or what is wrong with it and what would help."""


@dataclass(slots=True)
class Work:
    """What is `left` of it, in features laid out and checked: about ten microseconds each. It may become negative.

    `dearest` is what the solve with the most features took.
    """

    left: int = REQUEST
    dearest: int = 0

    def spend(self, features: int) -> None:
        """Take away what is done for so many features of one solve."""
        self.left -= features
        self.dearest = max(self.dearest, features)
