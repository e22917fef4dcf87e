"""What a call asks for, to be located and made: read once, and only if it has to be."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Generic, TypeVar

from service.door.caching import entity_tag
from service.door.call import Call
from service.door.machine.answer_cache import Located, request_key
from service.door.machine.stages import stage
from service.door.reply import CachedReply

Read = TypeVar("Read")


@dataclass(slots=True, kw_only=True)
class Asked(Generic[Read]):
    """What is read of a call, where it is found again, and what makes the answer of it."""

    call: Call
    read: Callable[[], Read]
    address: Callable[[Read], str]
    """What tells it from anything else that may be asked for."""
    location: Callable[[str], str]
    """The URL of an address; empty where it has none of its own."""
    make: Callable[[Call, Read], bytes]
    known: Read | None = None

    def reply(self, source: bytes, headers: Mapping[str, str] | None = None) -> CachedReply:
        """The answer to what `source` says."""
        call = self.call
        return CachedReply(
            source=source,
            key=request_key(source, call.options, call.suffix),
            locate=self._locate,
            prepare=self._prepare,
            cost=call.form.cost(call.options),
            headers=headers or {},
        )

    def _locate(self) -> Located:
        """The tag of the answer, and its URL."""
        address = self.address(self._once())
        tag = entity_tag(self.call.service.stamp, address.encode(), repr(self.call.options).encode())
        return Located(tag, self.location(address))

    def _prepare(self) -> Callable[[], bytes]:
        """What makes the answer."""
        return partial(self.make, self.call, self._once())

    def _once(self) -> Read:
        if self.known is None:
            with stage("read"):
                self.known = self.call.service.deadline.run(self.read)
        return self.known
