"""One request as its route declares it, read once: a view gets this and reads nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from service.door.body import Body
from service.door.choice_query import find_design
from service.door.errors import ParameterFault
from service.door.service import Service
from service.forms.form import Form, OutputOptions
from service.shop.designs import Chosen, Design, Value
from service.shop.shop import Shop, Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """What a caller asks for. Members that its route does not declare are empty."""

    service: Service
    names: Mapping[str, str]
    """What stands in the path."""
    values: Mapping[str, Any]
    """The query's parameters, but for choices."""
    choices: Mapping[str, Value]
    """What the query chooses of a design; nothing that it leaves to the default."""
    faults: tuple[ParameterFault, ...]
    """What a link's query asks for in vain."""
    form: Form
    suffix: str
    """What stands for the form in the answer's own URL: nothing for JSON unless it was asked for by suffix."""
    options: OutputOptions
    has_key: bool
    """Whether the caller may see and set what things cost."""
    body: Body

    @property
    def shop(self) -> Shop:
        """The shop that is asked."""
        return self.service.shop

    @property
    def shop_units(self) -> Units:
        """Those of who says none."""
        return self.service.shop.defaults.units

    @property
    def design(self) -> Design:
        """The design in the path. Raises `NoSuchDesign`."""
        return find_design(self.service.shop, self.names["design"])

    @property
    def chosen(self) -> Chosen:
        """Every choice of the design in the path: as the query says it, else its default."""
        return {**self.design.defaults(), **self.choices}
