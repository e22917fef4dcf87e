"""What the door itself refuses, before or beside the spec. Each error carries what its answer needs."""

from dataclasses import dataclass, field

from service.strap.errors import StrapError
from service.words import say, say_count, say_list


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


class UnknownHost(DoorError):
    """A host that is not answered for."""

    def __init__(self) -> None:
        super().__init__("that host is not answered for; STRAP_PUBLIC_URL and STRAP_HOSTS name the hosts that are")


class WrongMediaType(DoorError):
    """A body that is not declared to be JSON."""


class WrongEncoding(DoorError):
    """A body in a content coding that is not read here."""


class BodyLate(DoorError):
    """A body that does not come, or comes too slowly."""

    def __init__(self, seconds: float) -> None:
        super().__init__(say("the body was not there within {seconds:g} s; please send it again", seconds=seconds))


class NoSuchForm(DoorError):
    """A suffix that no form goes by."""


class NoSuchDesign(DoorError):
    """A name that no design of the shop goes by."""


class NoPricesHere(DoorError):
    """A price was asked for, of a shop that has none at all."""


class NotEmbeddable(DoorError):
    """An address that no picture of this service belongs to."""


class FormatNotOffered(DoorError):
    """A format that oEmbed knows and this service does not speak."""


class NotReady(DoorError):
    """The service cannot do its work at the moment."""


class Busy(DoorError):
    """As much is being made as may be, and as many wait as may wait."""

    def __init__(self) -> None:
        super().__init__("too much is being made at the moment; please ask again in a second", Retry_After="1")


class TookTooLong(DoorError):
    """What was asked for was not made within the time that one request is given."""

    def __init__(self, seconds: float) -> None:
        super().__init__(say("this was not made within {seconds:g} s; please ask for less of it", seconds=seconds))


class TooOften(DoorError):
    """One caller does something more often than the limit allows. `seconds` from now there is room again."""

    def __init__(self, per_minute: int, seconds: int, what: str = "ask") -> None:
        detail = say(
            "one caller may {what} {per_minute} times a minute; please ask again in {seconds} s",
            what=what,
            per_minute=per_minute,
            seconds=seconds,
        )
        super().__init__(detail, Retry_After=str(seconds))


class NoKey(DoorError):
    """What needs an API key was asked for without one, or with one that is not known."""

    def __init__(self, what: str = "this path needs an API key") -> None:
        super().__init__(say("{what}: Authorization: Bearer KEY", what=what), WWW_Authenticate="Bearer")


class PageNeedsKey(NoKey):
    """A page that needs an API key: a browser asks for it as a password (RFC 7617), with any name."""

    def __init__(self, what: str) -> None:
        DoorError.__init__(
            self,
            say("{what}: the password is an API key, with any name", what=what),
            WWW_Authenticate='Basic realm="workshop", charset="UTF-8"',
        )


class MemberNeedsKey(NoKey):
    """Members of a body that only the holder of a key may give, by their `names`."""

    def __init__(self, names: tuple[str, ...]) -> None:
        listed = say_list(names)
        super().__init__(say_count("{listed} needs an API key", "{listed} need an API key", len(names), listed=listed))
        self.names = names


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
