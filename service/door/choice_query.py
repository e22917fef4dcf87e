"""A design as a URL names it, and what a URL may choose of it."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from service.door.errors import NoSuchDesign
from service.door.query import Parameter
from service.schemas.choosing import design_units, offered, query_text, read_value
from service.schemas.mistakes import unknown_name
from service.shop.designs import Choice, Design, Options, Value
from service.shop.shop import Shop, Units


def find_design(shop: Shop, name: str) -> Design:
    """The design of that name. Raises `NoSuchDesign`."""
    designs = shop.designs
    if name not in designs:
        raise NoSuchDesign(unknown_name("design", name, designs) if designs else "this shop has no designs")
    return designs[name]


@dataclass(frozen=True, slots=True)
class ChoiceQuery:
    """What a query may choose of a design: a parameter for every choice, and the units of their readings."""

    parameters: tuple[Parameter, ...]
    units: Units


@lru_cache(maxsize=256)
def choice_query(design: Design, default_units: Units) -> ChoiceQuery:
    """What a query may choose of a design."""
    units = design_units(design, default_units)
    return ChoiceQuery(tuple(_parameter(choice, units) for choice in design.choices), units)


def _parameter(choice: Choice, units: Units) -> Parameter:
    def read(text: str) -> Value:
        return read_value(choice, text, units)

    return Parameter(name=choice.name, meaning=choice.title, read=read, schema=_schema(choice, units))


def _schema(choice: Choice, units: Units) -> dict[str, Any]:
    if isinstance(choice.offer, Options):
        return {"type": "string", "enum": [query_text(choice, value, units) for value in choice.offer]}
    if choice.is_length:
        return {"type": "string", "description": offered(choice, units)}
    return {"type": "integer", "minimum": choice.offer.least, "maximum": choice.offer.most}
