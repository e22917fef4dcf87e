"""Questions about one length whose answer turns from no to yes once as that length grows."""

from collections.abc import Callable
from math import inf

from service.shop.goods import Nm


class Threshold:
    """Asks only where the answers so far do not settle it: a few times for any number of lengths."""

    def __init__(self, ask: Callable[[Nm], bool]) -> None:
        self._ask = ask
        self._no: float = -inf
        self._yes: float = inf

    def __call__(self, length: Nm) -> bool:
        """The answer for a length."""
        if length >= self._yes:
            return True
        if length <= self._no:
            return False
        if self._ask(length):
            self._yes = length
            return True
        self._no = length
        return False
