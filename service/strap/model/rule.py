"""What a rule of the bench is: what it measures, what is told where it fails, and what in the spec is to blame."""

from collections.abc import Callable, Mapping
from dataclasses import field
from typing import Literal, NamedTuple

from service.shop.figures import OwnLength
from service.shop.goods import Nm
from service.strap.errors import Cure, Path
from service.strap.model.check import Check, Sense
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, PieceName, Purpose
from service.strap.model.splice import Splice
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.values import dataclass

Placed = Feature | StitchLine | Splice
"""What a rule is measured at."""
Kind = Purpose | StitchPurpose | PieceName | Literal["lead", "head", "foot", "fold", "buckle", "splice"]
"""What a rule is about: the purpose of a feature, a piece, a ring's place, a stack, or the buckle."""

_DECORATION: tuple[Purpose, ...] = ("border", "between", "ornament")


@dataclass(frozen=True, slots=True)
class Code:
    """What a refusal is called, for programs: `name` stays what it is, `meaning` is one clause for people."""

    name: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Formula:
    """How a figure and its limit come about: expressions over `terms`, over the shop's figures by name, and numbers.

    Each of the `terms` is said in the trade's words; beside the four operations there are `min`, `max`, `hypot`, `sqrt`
    and `pi`.
    """

    found: str
    limit: str
    terms: Mapping[str, str] = field(default_factory=dict)


class Blame(NamedTuple):
    """What in the spec is to blame where `when` holds, under which code it is told, and what mends it, if anything."""

    code: Code
    at: "Path | Callable[[Measured, Job], Path]"
    cure: Cure | None = None
    when: "Callable[[Measured, Job], bool] | None" = None

    def path(self, measured: "Measured", job: Job) -> Path:
        """The field of the spec."""
        return self.at(measured, job) if callable(self.at) else self.at


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rule:
    """One rule of the bench. Its figure has to be the `least` or the `most`.

    `sentence` is told where it fails, `overlap` instead where there is less than nothing, with {what}, {What}, {found},
    {found_abs} and {limit} filled in; `of_pairs` says that two of a kind are told as one "and its neighbour". The first
    of the `blames` that holds is told, unless something else is told of the same field by one of the `unless` codes.
    """

    name: str
    meaning: str
    """What it measures, and what goes wrong without it, in a maker's words."""
    sense: Sense
    sentence: str
    overlap: str = ""
    of_pairs: bool = False
    advice: Callable[[Job], str] | None = None
    """A further sentence, of what would do."""
    blames: tuple[Blame, ...]
    unless: tuple[Code, ...] = ()
    figure: OwnLength | None = None
    """A figure of the shop's that is read by this rule alone; any other is a member of the shop's `Rules`."""
    formula: Formula
    source: str
    """Where the trade has it from: a publication, 'common practice', 'geometry', or 'from memory'."""

    def measured(
        self, value: float, limit: Nm, *places: Placed, kinds: tuple[Kind, ...] = (), item: str = ""
    ) -> "Measured":
        """The figure that was measured there, in nanometres; of the kinds of these places, unless others are said."""
        figure = round(value)
        room = figure - limit if self.sense == "least" else limit - figure
        return Measured(self, room, figure, limit, places, kinds, item)

    def blame(self, measured: "Measured", job: Job) -> Blame:
        """The first that holds: the last of them holds always."""
        return next(each for each in self.blames if each.when is None or each.when(measured, job))


@dataclass(frozen=True, slots=True)
class Measured:
    """A rule measured at some places. What it is about is worked out for those only that are told of.

    `room` is how far the figure is from its limit, negative where it is beyond;
    `named` are the kinds of what it is about and `of_item` is what is set there, where that is said and not seen.
    """

    rule: Rule
    room: Nm
    value: Nm
    limit: Nm
    places: tuple[Placed, ...]
    named: tuple[Kind, ...] = ()
    of_item: str = ""

    @property
    def check(self) -> Check:
        """It as a check."""
        at = tuple([each.id for each in self.places])
        return Check(self.rule.name, self.rule.sense, self.value, self.limit, at)

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """The kinds of what it is about."""
        return self.named or tuple(sorted({each.purpose for each in self.places}))

    @property
    def item(self) -> str:
        """The item of the decoration there: of a border before what stands between, and that before the row."""
        items = {each.purpose: each.item for each in reversed(self.places) if each.item}
        return self.of_item or next((items[kind] or "" for kind in _DECORATION if kind in items), "")


def of(*kinds: Kind) -> Callable[[Measured, Job], bool]:
    """Whether the first of what a rule is about is one of these."""
    return lambda measured, _job: measured.kinds[0] in kinds


def among(kind: Kind) -> Callable[[Measured, Job], bool]:
    """Whether this is among what a rule is about."""
    return lambda measured, _job: kind in measured.kinds
