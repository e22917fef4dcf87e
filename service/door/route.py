"""One route of the service, as the route table has it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from flask import Response

from service.desk.pipeline import Form
from service.door.query import Parameter

KeyRule = Literal["none", "optional", "needed"]
Method = Literal["GET", "POST"]
Group = Literal["Patterns", "Designs", "Reckoning", "Pages", "The shop", "This document", "Running the service"]
"""What belongs together, in the order in which a reader wants it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One operation. `path` is written as OpenAPI writes it; `problems` are codes of the problem table."""

    name: str
    group: Group
    method: Method
    path: str
    summary: str
    view: Callable[..., Response]
    asks: str = "Spec"
    """The schema of what is posted."""
    answers: str
    """The schema of its JSON answer, or the media type of another one."""
    forms: tuple[Form, ...] = ("json",)
    parameters: tuple[Parameter, ...] = ()
    problems: tuple[str, ...] = ()
    takes_choices: bool = False
    """Whether every choice of the design in its path is a parameter too."""
    conditional: bool = True
    """Whether it answers `If-None-Match`."""
    reckons: bool = False
    """Whether it is a reckoning path: it takes a turn among large answers."""
    key: KeyRule = "none"
    """What a key does for it, once keys are given out: it may be needed, or show and set what things cost."""
    answers_without_key: str | None = None
    """The schema of its JSON answer to who shows no key, where that is another."""
