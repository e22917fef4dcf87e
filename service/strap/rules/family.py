"""Rules that are measured in one sweep: of each piece as it lies flat, or of the strap made up."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from service.strap.model.job import Job
from service.strap.model.pattern import Pattern
from service.strap.model.rule import Measured, Rule
from service.strap.rules.surface import Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceFamily:
    """Rules of a single piece. `measure` gives the tightest place of each, by the kinds of what it lies between.

    `bare` says that nothing which is set on the strap bears on them, so that `offers` need not try ornaments by them.
    """

    rules: tuple[Rule, ...]
    measure: Callable[[Surface], Iterable[Measured]]
    bare: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapFamily:
    """Rules of the whole strap, measured as those of a `PieceFamily`."""

    rules: tuple[Rule, ...]
    measure: Callable[[Pattern, Job], Iterable[Measured]]
    bare: bool = False
