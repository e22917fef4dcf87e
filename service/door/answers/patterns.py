"""The pattern of a strap: of a spec that is posted, or of its code, in every form that there is."""

from collections.abc import Callable, Mapping

from flask import g

from service.desk.pipeline import PatternRequest, PatternSubject, encode, read_coded, read_posted
from service.door.addresses import pattern_path
from service.door.answers.asked import Asked
from service.door.answers.variations import varied_reply
from service.door.call import Call
from service.door.machine.stages import stage
from service.door.reply import CachedReply
from service.forms.form import Budget
from service.schemas.codes import document_of
from service.schemas.json_text import read_json
from service.schemas.spec import units_of
from service.shop.shop import Shop


def post_pattern(call: Call) -> CachedReply:
    """`POST /v1/patterns`."""
    posted = call.body.content
    if call.options.vary:
        return varied_reply(call, posted, lambda: _read(call, read_json(posted), read_posted))
    return pattern_reply(call, posted, lambda: _read(call, read_json(posted), read_posted))


def get_pattern(call: Call) -> CachedReply:
    """`GET /v1/patterns/{code}`, with a suffix and without."""
    code = call.names["code"]
    return pattern_reply(call, code.encode(), lambda: _read(call, document_of(code), read_coded))


def pattern_reply(
    call: Call, source: bytes, read: Callable[[], PatternRequest], headers: Mapping[str, str] | None = None
) -> CachedReply:
    """The answer with the pattern that `source` asks for; `read` reads it."""

    def read_units() -> PatternRequest:
        request = read()
        g.units = request.spec.units or call.shop_units
        return request

    asked = Asked(
        call=call,
        read=read_units,
        address=lambda request: request.address,
        location=lambda address: pattern_path(address, call.suffix, call.values),
        make=_made,
    )
    return asked.reply(source, headers)


def _read(call: Call, document: object, read: Callable[[object, Shop], PatternRequest]) -> PatternRequest:
    g.document, g.units = document, units_of(document, call.shop_units)
    return read(document, call.shop)


def _made(call: Call, request: PatternRequest) -> bytes:
    with stage("solve"):
        pattern = request.make(call.shop)
    subject = PatternSubject(
        pattern=pattern,
        code=request.code,
        shop=call.shop,
        options=call.options,
        units=call.options.units or g.units,
        timed=stage,
    )
    return encode(subject, Budget(pixels=call.service.settings.pixels_max, pages=call.service.settings.pages_max))
