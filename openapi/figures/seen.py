"""One measure of a rule on one example, with the pattern and the job that it was taken from."""

import json
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from service.schemas.spec import read_spec
from service.shop.goods import Nm
from service.shop_file import demo_shop
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Pattern, Piece
from service.strap.model.rule import Measured
from service.strap.model.stitch_line import StitchLine
from service.strap.rules.checks import measure_rules


@dataclass(frozen=True, slots=True)
class Seen:
    """What a rule measured, and of what."""

    measured: Measured
    pattern: Pattern
    job: Job

    @property
    def piece(self) -> Piece:
        """The piece that it was measured on: that of its first place, else the one that it is about."""
        names = [each.id.partition(".")[0] for each in self.measured.places] or list(self.measured.kinds)
        found = next((piece for name in names if (piece := self.pattern.piece(name))), None)
        return self.pattern.pieces[0] if found is None or found.name == "edging" else found

    @property
    def things(self) -> tuple[Feature | StitchLine, ...]:
        """The features and the lines of stitches that it was measured at."""
        return tuple(each for each in self.measured.places if isinstance(each, Feature | StitchLine))

    def feature(self, place: int = 0) -> Feature:
        """One of the features that it was measured at."""
        return [each for each in self.measured.places if isinstance(each, Feature)][place]

    def of(self, purpose: str) -> list[Feature]:
        """The piece's features of a purpose, along it."""
        return sorted((each for each in self.piece.features if each.purpose == purpose), key=lambda each: each.x)


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A small strap that shows a measure. `moved` shifts one feature, for what is right on every pattern."""

    document: str
    """JSON."""
    kind: str = ""
    """The kind of what the rule is about; the tightest of all where none is named."""
    moved: tuple[str, Nm] | None = None
    rules: tuple[tuple[str, Nm], ...] = ()
    """Figures of a stricter shop, where this one refuses nothing by the rule."""

    def seen(self, rule: str) -> Seen:
        """Where the rule has the least room."""
        job, pattern = _laid_out(self.document, self.rules)
        if self.moved:
            pattern = _shifted(pattern, *self.moved)
        found = [each for each in measure_rules(pattern, job) if each.rule.name == rule and self._is_meant(each)]
        return Seen(min(found, key=lambda each: each.room), pattern, job)

    def _is_meant(self, measured: Measured) -> bool:
        return not self.kind or self.kind in measured.kinds


def example(spec: dict[str, Any], kind: str = "", moved: tuple[str, Nm] | None = None, **rules: Nm) -> Example:
    """The example that a spec makes."""
    return Example(document=json.dumps(spec), kind=kind, moved=moved, rules=tuple(rules.items()))


@cache
def _laid_out(document: str, rules: tuple[tuple[str, Nm], ...]) -> tuple[Job, Pattern]:
    shop = demo_shop()
    shop = replace(shop, rules=replace(shop.rules, **dict(rules)))  # type: ignore[arg-type] # lengths all of them
    job = resolve(read_spec(json.loads(document), shop.defaults.units), shop)
    return job, lay_out(job)


def _shifted(pattern: Pattern, name: str, by: Nm) -> Pattern:
    """The pattern with one feature farther along, as a slip of the hand would have it."""
    pieces = tuple(
        replace(piece, features=tuple(replace(f, x=f.x + by) if f.id == name else f for f in piece.features))
        for piece in pattern.pieces
    )
    return replace(pattern, pieces=pieces)
