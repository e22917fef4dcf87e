"""A strap before and after a rule, a size or a good is turned: two patterns side by side, as data and as one drawing.

Every function is pure, as in `service.desk.pipeline`: the shop that is turned is another one, of this request alone.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from service.desk.pipeline import PatternRequest, Timed, describe, untimed
from service.desk.sealing import attempt
from service.desk.selling import price_of_one
from service.drawing.model import Drawing
from service.drawing.printed.document import Document
from service.drawing.working.overlay import Overlay
from service.drawing.working.sheet import working_sheet
from service.schemas.answers.pattern import CheckDocument, PatternDocument
from service.schemas.answers.variation import ReasonDocument, Side, TurnedDocument, TurnedPriceDocument, VariedDocument
from service.schemas.pattern import check_document
from service.schemas.problem import under
from service.schemas.quote_document import price_document
from service.schemas.spec import spec_document
from service.schemas.variation_document import moved_figures, reason_document, things_of, turned_checks
from service.schemas.variations import Asked, Turned, turn
from service.shop.shop import Shop, Units
from service.strap.errors import Refusal
from service.strap.filling.limits import limit_checks
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import reading
from service.strap.rules.checks import RULES, measure_rules, tightest
from service.words import say
from service.workshop.steps import steps

Json = Mapping[str, Any]
_OWN = {rule.figure.name: rule.figure for rule in RULES if rule.figure}


def turned_of(request: PatternRequest, things: Sequence[Asked], shop: Shop) -> Turned:
    """What a request becomes with these things turned. Raises `VariationError`."""
    units = request.spec.units or shop.defaults.units
    return turn(things, spec_document(request.spec, units), request.spec, shop)


@dataclass(frozen=True, kw_only=True)
class Variation:
    """A strap as it is asked for, and with `things` turned: each solved once, each with the work of one request."""

    request: PatternRequest
    things: tuple[Asked, ...]
    shop: Shop
    turned: Turned
    units: Units
    priced: bool = False
    timed: Timed = untimed

    @cached_property
    def before(self) -> Pattern:
        """The pattern as it is asked for. Raises `CannotMake` and `ShopChanged`."""
        return self.request.make(self.shop)

    @cached_property
    def after(self) -> Pattern | Refusal:
        """The pattern with all of it turned, or why there is none."""
        return attempt(self.turned.spec, self.turned.shop)

    def solve(self) -> None:
        """Both patterns, before anything is made of them. Raises what `before` does."""
        _ = self.before, self.after

    def data(self) -> PatternDocument:
        """The pattern as it is asked for, and what is otherwise where that is turned."""
        before = describe(self.before, steps(self.before, self.shop), self.request.code, self.shop, self.units)
        return {**before, "varied": self._varied(before)}

    def _varied(self, before: PatternDocument) -> VariedDocument:
        after = None if isinstance(self.after, Refusal) else self._described(self.after)
        old, new = (things_of(each) if each else [] for each in (before if after else None, after))
        found: VariedDocument = {
            "turned": list(self._turned(before["spec"])),
            "moved": moved_figures(before, after) if after else [],
            "gone": [each for each in old if each not in new],
            "new": [each for each in new if each not in old],
            "checks": turned_checks(before["checks"], after["checks"] if after else self._measured()),
            "refused": self._refused(),
            "spec": dict(self.turned.document),
        }
        return {**found, "price": self._price()} if self.priced else found

    def _described(self, pattern: Pattern) -> PatternDocument:
        shop = self.turned.shop
        return describe(pattern, steps(pattern, shop), self.request.code, shop, self.units)

    def _refused(self) -> list[ReasonDocument]:
        faults = self.after.faults if isinstance(self.after, Refusal) else ()
        return [reason_document(fault, self.units) for fault in faults]

    def _measured(self) -> list[CheckDocument]:
        """What the rules find where they refuse it; nothing of what could not even be laid out."""
        try:
            job = resolve(self.turned.spec, self.turned.shop)
            checks = (*tightest(measure_rules(lay_out(job), job)), *limit_checks(job.spec, self.turned.shop))
        except Refusal:
            return []
        return [check_document(check, self.units) for check in checks]

    def _price(self) -> TurnedPriceDocument:
        """Raises `NoPrices`."""
        before = _price_of(self.before, self.shop)
        after = None if isinstance(self.after, Refusal) else _price_of(self.after, self.turned.shop)
        return {
            "currency": before["currency"],
            "before": before["price"],
            "after": after["price"] if after else None,
        }

    def _turned(self, filled: Json) -> Iterator[TurnedDocument]:
        for each, path in zip(self.things, self.turned.paths, strict=True):
            if each.rule is None:
                yield {"vary": each.text, "before": _at(filled, path), "after": _at(self.turned.document, path)}
            else:
                before, after = (self._figure(each.rule, shop) for shop in (self.shop, self.turned.shop))
                yield {"vary": each.text, "before": before, "after": after}

    def _figure(self, name: str, shop: Shop) -> str:
        """A figure of the rules, as it counts in this job."""
        rules = shop.rules.in_units(self.request.spec.units or shop.defaults.units)
        figure = rules.of(_OWN[name]) if name in _OWN else getattr(rules, name)
        return reading(figure, self.units) if isinstance(figure, int) else str(figure)

    def drawing(self) -> Drawing:
        """The working drawing as it is turned, with what it was over it. Raises `UnknownPiece`."""
        with self.timed("draw"):
            before, after = self.before, self.after
            spec = spec_document(before.spec, self.units)
            lines = [_sentence(thing.name, told) for thing, told in zip(self.things, self._turned(spec), strict=True)]
            if isinstance(after, Refusal):
                lines += [say("It cannot be made so: {why}", why=fault.detail) for fault in after.faults]
                overlay = Overlay(None, (*lines, say("Drawn is what it is before.")))
                return working_sheet(before, self.shop, piece=None, units=self.units, overlay=overlay)
            overlay = Overlay(before, tuple(lines))
            return working_sheet(after, self.turned.shop, piece=None, units=self.units, overlay=overlay)

    def pages(self) -> Document:
        """Never asked for: on paper too it is one drawing."""
        raise NotImplementedError


def _sentence(name: str, told: TurnedDocument) -> str:
    before, after = told["before"], told["after"]
    if before is None:
        return say("{name}: {after} after", name=name, after=after)
    return say("{name}: {before} before, {after} after", name=name, before=before, after=after)


def _price_of(pattern: Pattern, shop: Shop) -> Json:
    return price_document(price_of_one(pattern, shop), "", shop)


def _at(document: object, path: Sequence[str]) -> Side:
    """What stands in a document at a place, told as a person reads it; nothing where there is no such place."""
    for name in path:
        document = under(document, name)
    return document if isinstance(document, str | int | float | bool) else None
