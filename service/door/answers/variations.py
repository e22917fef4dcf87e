"""A posted strap before and after something is turned: no address stands for it, and none is told."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from flask import g

from service.desk.pipeline import PatternRequest
from service.desk.varying import Variation, turned_of
from service.door.caching import entity_tag
from service.door.call import Call
from service.door.errors import ParameterFault, QueryError
from service.door.machine.answer_cache import Located, request_key
from service.door.machine.stages import stage
from service.door.reply import CachedReply
from service.forms.form import Budget
from service.schemas.variations import VariationError, asked


def varied_reply(call: Call, posted: bytes, read: Callable[[], PatternRequest]) -> CachedReply:
    """The answer with the pattern that is posted, and with what is otherwise where something is turned."""
    source = b"\0".join((posted, *(text.encode() for text in call.options.vary)))
    varied = _Varied(call, read)
    return CachedReply(
        source=source,
        key=request_key(source, call.options, call.suffix),
        locate=varied.locate,
        prepare=varied.prepare,
        cost=call.form.cost(call.options),
    )


@dataclass(slots=True)
class _Varied:
    """What a call asks to see before and after, read once and only if it has to be."""

    call: Call
    read: Callable[[], PatternRequest]
    variation: Variation | None = None

    def locate(self) -> Located:
        """The tag of the answer; it has no URL of its own."""
        call, address = self.call, self._variation().request.address
        return Located(entity_tag(call.service.stamp, address.encode(), repr(call.options).encode()), "")

    def prepare(self) -> Callable[[], bytes]:
        """What makes the answer."""
        return partial(_made, self.call, self._variation())

    def _variation(self) -> Variation:
        if self.variation is None:
            with stage("read"):
                self.variation = self.call.service.deadline.run(self._read)
        return self.variation

    def _read(self) -> Variation:
        call, request = self.call, self.read()
        g.units = request.spec.units or call.shop_units
        things = tuple(asked(text) for text in call.options.vary)
        try:
            turned = turned_of(request, things, call.shop)
        except VariationError as error:
            raise QueryError(tuple(ParameterFault("vary", code, detail) for code, detail in error.faults)) from error
        units = call.options.units or g.units
        return Variation(
            request=request,
            things=things,
            shop=call.shop,
            turned=turned,
            units=units,
            priced=call.options.price,
            timed=stage,
        )


def _made(call: Call, variation: Variation) -> bytes:
    """Both are solved before anything is drawn: the first is refused as if nothing were turned."""
    with stage("solve"):
        variation.solve()
    settings = call.service.settings
    with stage("encode"):
        return call.form.encode(variation, call.options, Budget(pixels=settings.pixels_max, pages=settings.pages_max))
