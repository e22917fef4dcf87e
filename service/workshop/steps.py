"""The steps at the bench as they are told: the work as data, each step with its sentence."""

from service.shop.shop import Shop
from service.strap.model.pattern import Pattern
from service.workshop.bench.order import work_on
from service.workshop.bench.sentences import Words
from service.workshop.bench.step import Step


def steps(pattern: Pattern, shop: Shop) -> tuple[Step, ...]:
    """Every step of making the strap, numbered from 1, with its sentence in the strap's units."""
    return work_on(pattern, shop, Words(pattern, shop).sentence)
