"""A posted strap before and after something is turned: no address stands for it, and none is told."""

from collections.abc import Callable

from flask import g

from service.desk.pipeline import PatternRequest
from service.desk.varying import Variation, turned_of
from service.door.answers.asked import Asked
from service.door.call import Call
from service.door.errors import ParameterFault, QueryError
from service.door.machine.stages import stage
from service.door.reply import CachedReply
from service.forms.form import Budget
from service.schemas.variations import VariationError, asked


def varied_reply(call: Call, posted: bytes, read: Callable[[], PatternRequest]) -> CachedReply:
    """The answer with the pattern that is posted, and with what is otherwise where something is turned."""
    varied = Asked(
        call=call,
        read=lambda: _variation(call, read()),
        address=lambda variation: variation.request.address,
        location=lambda _: "",
        make=_made,
    )
    return varied.reply(b"\0".join((posted, *(text.encode() for text in call.options.vary))))


def _variation(call: Call, request: PatternRequest) -> Variation:
    """What is asked to be seen before and after."""
    g.units = request.spec.units or call.shop_units
    things = tuple(asked(text) for text in call.options.vary)
    try:
        turned = turned_of(request, things, call.shop)
    except VariationError as error:
        raise QueryError(tuple(ParameterFault("vary", code, detail) for code, detail in error.faults)) from error
    return Variation(
        request=request,
        things=things,
        shop=call.shop,
        turned=turned,
        units=call.options.units or g.units,
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
