"""From a buyer's choices to a spec that can be made, or to the reasons why not and the ways out.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from service.desk.pipeline import CannotMake, PatternRequest
from service.schemas.answers.quote import PriceDocument
from service.schemas.choosing import chosen_document, query_text
from service.schemas.codes import code_of
from service.schemas.mistakes import unknown_name
from service.schemas.quote_document import price_document
from service.schemas.seals import seal_of
from service.schemas.spec import read_spec
from service.shop.designs import Choice, Chosen, Design, Value
from service.shop.shop import Shop
from service.strap.errors import Fault, Refusal, StrapError
from service.strap.filling.resolve import resolve
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Size, Spec
from service.strap.solve import solve
from service.words import say
from service.workshop.offers import Offers, WayOut
from service.workshop.quote import Quote, QuoteLine, quote_of
from service.workshop.withheld import Withheld, why_not


class ChoiceRefused(CannotMake):
    """Choices that are offered each by itself, but cannot be made together."""

    def __init__(
        self, faults: tuple[Fault, ...], design: Design, chosen: Chosen, ways: tuple[WayOut, ...], why: Withheld
    ) -> None:
        super().__init__(faults, ())
        self.design = design
        self.chosen = chosen
        self.ways = ways
        self.why = why


class DesignsError(StrapError, ValueError):
    """Designs of the shop file that cannot be sold. `mistakes` has every one, each beginning with its key."""

    def __init__(self, mistakes: tuple[str, ...]) -> None:
        super().__init__("\n  ".join(["the shop file's designs cannot be sold:", *mistakes]))
        self.mistakes = mistakes


def spec_of(design: Design, chosen: Mapping[str, Value], shop: Shop) -> Spec:
    """The spec of a design with everything chosen. Raises `SpecError`, but not for a design that was checked."""
    return read_spec(chosen_document(design, chosen, shop.defaults.units), shop.defaults.units)


def offers_of(design: Design, shop: Shop) -> Offers:
    """What can be made of a design."""
    return Offers(design, shop, lambda chosen: spec_of(design, chosen, shop))


def made_or_refused(design: Design, chosen: Chosen, spec: Spec, shop: Shop, offers: Offers | None = None) -> Pattern:
    """The pattern of a design by its spec, told to `offers` too. Raises `ChoiceRefused` where it cannot be made."""
    offers = offers or offers_of(design, shop)
    try:
        pattern = solve(spec, shop)
    except Refusal as refusal:
        offers.remember(spec, is_made=False)
        ways, why = offers.ways_out(chosen), why_not(chosen, design, offers)
        raise ChoiceRefused(refusal.faults, design, chosen, ways, why) from refusal
    offers.remember(spec, is_made=True)
    return pattern


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenRequest(PatternRequest):
    """A strap that is asked for as a design with everything chosen."""

    design: Design
    chosen: Chosen

    def make(self, shop: Shop) -> Pattern:
        """Its pattern. Raises `ChoiceRefused` with the ways out where it cannot be made."""
        return made_or_refused(self.design, self.chosen, self.spec, shop)


def request_of(design: Design, chosen: Chosen, shop: Shop) -> ChosenRequest:
    """What a design asks for with everything chosen."""
    spec = spec_of(design, chosen, shop)
    return ChosenRequest(spec=spec, code=code_of(spec, shop.defaults.units), design=design, chosen=chosen)


def price_of(design: Design, chosen: Chosen, shop: Shop) -> PriceDocument:
    """What one of a design costs as chosen, as JSON data. Raises `ChoiceRefused` and `NoPrices`."""
    pattern = made_or_refused(design, chosen, spec_of(design, chosen, shop), shop)
    quote = price_of_one(pattern, shop)
    return price_document(quote, seal_of(pattern), shop)


def price_of_one(pattern: Pattern, shop: Shop) -> Quote:
    """What one strap costs that is made by this pattern. Raises `NoPrices`."""
    return quote_of([QuoteLine(ref="", pattern=pattern, quantity=1)], shop)


def check_designs(shop: Shop) -> None:
    """Raise `DesignsError` with every design whose default cannot be made, and every value that the shop lacks."""
    mistakes = tuple(mistake for design in shop.designs.values() for mistake in _mistakes(design, shop))
    if mistakes:
        raise DesignsError(mistakes)


def _mistakes(design: Design, shop: Shop) -> Iterator[str]:
    key = f"designs.{design.name}"
    try:
        solve(spec_of(design, design.defaults(), shop), shop)
    except Refusal as refusal:
        yield from (
            say("{key}: its default cannot be made: {why}", key=key, why=fault.detail) for fault in refusal.faults
        )
        return
    if design.size_table:
        yield from _unmade_sizes(design, key, shop)
    for choice in design.choices:
        for value in choice.offer if choice in design.others else ():
            yield from (
                say("{key}.choices.{choice}: {why}", key=key, choice=choice.name, why=why)
                for why in _unknown(design, choice, value, shop)
            )


def _unmade_sizes(design: Design, key: str, shop: Shop) -> Iterator[str]:
    """The sizes of its table in which it cannot be made; or that there is no such table."""
    table = shop.size_tables.get(design.size_table or "")
    if table is None:
        why = unknown_name("size table", design.size_table or "", shop.size_tables)
        yield say("{key}.size_table: {why}", key=key, why=why)
        return
    spec = spec_of(design, design.defaults(), shop)
    for label in table.sizes:
        try:
            solve(replace(spec, size=Size(table=design.size_table, label=label)), shop)
        except Refusal as refusal:
            for fault in refusal.faults:
                yield say("{key}: it cannot be made in size {size}: {why}", key=key, size=label, why=fault.detail)


def _unknown(design: Design, choice: Choice, value: Value, shop: Shop) -> Iterator[str]:
    """Why a value can never be made in this shop, whatever else is chosen: it names what is not there."""
    spec = spec_of(design, {**design.defaults(), choice.name: value}, shop)
    try:
        resolve(spec, shop)
    except Refusal as refusal:
        for fault in refusal.faults:
            if fault.code.startswith("unknown_"):
                yield f"{query_text(choice, value, shop.defaults.units)}: {fault.detail}"
