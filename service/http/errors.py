"""What the door itself refuses, before or beside the spec. Each error carries what its answer needs."""

from dataclasses import dataclass, field

from service.strap.errors import StrapError


class DoorError(StrapError, ValueError):
    """Base of the door's own errors. `headers` go into the answer."""

    def __init__(self, detail: str, **headers: str) -> None:
        super().__init__(detail)
        self.detail = detail
        self.headers = {name.replace("_", "-"): value for name, value in headers.items()}


class NotAcceptable(DoorError):
    """No form on offer is one that the caller accepts."""


class UrlTooLong(DoorError):
    """A path with query beyond the limit."""


class WrongMediaType(DoorError):
    """A body that is not declared to be JSON."""


class WrongEncoding(DoorError):
    """A body in a content coding that is not read here."""


class NoSuchForm(DoorError):
    """A suffix that no form goes by."""


class NotReady(DoorError):
    """The service cannot do its work at the moment."""


@dataclass(frozen=True, slots=True)
class ParameterFault:
    """One thing that is wrong with the query."""

    parameter: str
    code: str
    detail: str


@dataclass(slots=True)
class QueryError(StrapError, ValueError):
    """A query that cannot be read, with every fault in it."""

    faults: tuple[ParameterFault, ...] = field(default=())

    def __str__(self) -> str:
        return "; ".join(f"{fault.parameter}: {fault.detail}" for fault in self.faults)
