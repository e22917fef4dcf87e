"""Questions about one length whose answer turns from no to yes once as that length grows."""

from collections.abc import Callable
from math import inf

from service.shop.goods import Nm


class Threshold:
    """Asks only where the answers so far do not settle it: a few times for any number of lengths.

    `guess` is where the answer is thought to turn: if that is right, it is asked twice and never again.
    """

    def __init__(self, ask: Callable[[Nm], bool], guess: Nm | None = None) -> None:
        self._ask = ask
        self._guess = guess
        self._no: float = -inf
        self._yes: float = inf

    def __call__(self, length: Nm) -> bool:
        """The answer for a length."""
        if length >= self._yes:
            return True
        if length <= self._no:
            return False
        if self._guess is not None:
            guess, self._guess = self._guess, None
            self._note(guess)
            self._note(guess - 1)
            return self(length)
        return self._note(length)

    def _note(self, length: Nm) -> bool:
        if self._ask(length):
            self._yes = min(self._yes, length)
            return True
        self._no = max(self._no, length)
        return False
