"""One route of the service, as the route table has it: everything that is read of a request is declared here."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from service.door.body import CSV_TYPE, JSON_TYPE
from service.door.call import Call
from service.door.query import Parameter
from service.door.reply import Answer
from service.forms.data import JSON
from service.forms.form import Cost, Form

KeyRule = Literal["none", "optional", "needed", "asked"]
Method = Literal["GET", "POST"]
Group = Literal["Patterns", "Designs", "Reckoning", "Pages", "The shop", "This document", "Running the service"]
"""What belongs together, in the order in which a reader wants it."""
QueryRule = Literal["strict", "link"]
"""A link's query may hold more than is known, and what cannot be read in it is no fault of who follows it."""
AcceptRule = Literal["negotiated", "suffix", "ignored"]
"""Whether `Accept` says the form of the answer, or the path's suffix, or there is only one."""
Caching = Literal["public", "by_key", "never"]
"""Who may keep the answer: everybody, everybody but of who shows a key, or nobody."""

_BODY = ("not_json", "request_timeout", "body_too_long", "wrong_media_type", "wrong_content_encoding")


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One operation. `path` is written as OpenAPI writes it."""

    name: str
    group: Group
    method: Method
    path: str
    summary: str
    view: Callable[[Call], Answer]
    asks: str = "Spec"
    """The schema of what is posted."""
    reads: tuple[str, ...] = (JSON_TYPE,)
    """The media types of what may be posted."""
    body_max: int = 0
    """Bytes of what is posted."""
    answers: str
    """The schema of its JSON answer, or the media type of another one."""
    forms: tuple[Form, ...] = (JSON,)
    accept: AcceptRule = "negotiated"
    query: QueryRule = "strict"
    known_parameters: tuple[Parameter, ...] = ()
    own_parameters: tuple[Parameter, ...] = ()
    """Further ones, which say nothing of how the answer is put out."""
    has_output_options: bool = False
    """Whether they say how the answer is put out."""
    takes_choices: bool = False
    """Whether every choice of the design in its path is a parameter too."""
    own_problems: tuple[str, ...] = ()
    """Codes of the problem table, beside those that follow from what else stands here."""
    caching: Caching = "public"
    has_tag: bool = True
    """Whether its answer has an entity tag."""
    turn: Cost | None = None
    """The lane in which the view is worked on; None for one that takes a turn itself, or needs none."""
    key: KeyRule = "none"
    """What a key does for it, once keys are given out: it may be needed, or show and set what things cost; `asked`:
    it is needed, and a browser asks for it."""
    answers_without_key: str | None = None
    """The schema of its JSON answer to who shows no key, where that is another."""

    @property
    def parameters(self) -> tuple[Parameter, ...]:
        """Those that have a meaning here. The other known ones are refused with the forms that they belong to."""
        if not self.has_output_options:
            return (*self.own_parameters, *self.known_parameters)
        meant = {name for form in self.forms for name in form.takes}
        return (*self.own_parameters, *(each for each in self.known_parameters if each.name in meant))

    @property
    def conditional(self) -> bool:
        """Whether it answers `If-None-Match`."""
        return self.has_tag and self.method == "GET"

    @property
    def varies_by(self) -> tuple[str, ...]:
        """The request headers that the answer varies by (RFC 9110, section 12.5.5)."""
        by_accept = ("Accept",) if self.accept != "ignored" else ()
        return (*by_accept, "Authorization") if self.caching == "by_key" else by_accept

    @property
    def problems(self) -> frozenset[str]:
        """Codes of everything that can be refused here, but for what can be everywhere."""
        return frozenset((*self.own_problems, *self._declared()))

    def _declared(self) -> Iterator[str]:
        if self.query == "strict":
            yield "query_unreadable"
        if self.accept == "negotiated":
            yield "not_acceptable"
        if self.method == "POST":
            yield from _BODY
        if CSV_TYPE in self.reads:
            yield "not_csv"
        if self.key != "none":
            yield "key_needed"
        if "{design}" in self.path:
            yield "unknown_design"
        if self.turn == "large":
            yield "busy"
