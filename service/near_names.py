"""Which of the names that are known somebody may have meant by one that is not."""

from collections.abc import Iterable
from difflib import get_close_matches

_LONGEST = 40
_LIKENESS = 0.55
"""Of 1, by `difflib.SequenceMatcher`: above it a name is taken for a slip of another."""


def near_names(name: str, known: Iterable[str], most: int = 1) -> list[str]:
    """The known names that are most like this one, the nearest first, at most so many; none where none is like it.

    Large and small letters are alike. What stands behind the fortieth character is not looked at, since the work
    grows with the square of the length.
    """
    by_letters = {each.lower(): each for each in known if each}
    close = get_close_matches(name[:_LONGEST].lower(), by_letters, n=most, cutoff=_LIKENESS)
    return [by_letters[each] for each in close]
