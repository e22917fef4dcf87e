"""How much one request may make the solver do, counted and not timed: a spec is answered alike on every machine."""

from dataclasses import dataclass

SOLVE = 60
"""What a solve costs beside its features, in the cost of one feature laid out and checked."""


REQUEST = 3500
"""Of one request for one strap: its pattern, or what is wrong with it and what would help."""


@dataclass(slots=True)
class Work:
    """What is `left` of it, in features laid out and checked: about ten microseconds each. It may become negative."""

    left: int = REQUEST
