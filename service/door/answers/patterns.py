"""The pattern of a strap: of a spec that is posted, or of its code, in every form that there is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from flask import g

from service.desk.pipeline import PatternRequest, PatternSubject, encode, read_coded, read_posted
from service.door.addresses import pattern_path
from service.door.answers.variations import varied_reply
from service.door.caching import entity_tag
from service.door.call import Call
from service.door.machine.answer_cache import Located, request_key
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
    asked = _Asked(call, read)
    return CachedReply(
        source=source,
        key=request_key(source, call.options, call.suffix),
        locate=asked.locate,
        prepare=asked.prepare,
        cost=call.form.cost(call.options),
        headers=headers or {},
    )


@dataclass(slots=True)
class _Asked:
    """What a call asks for, read once and only if it has to be."""

    call: Call
    read: Callable[[], PatternRequest]
    request: PatternRequest | None = None

    def locate(self) -> Located:
        """The tag of the answer, and its URL by code."""
        call, address = self.call, self._request().address
        tag = entity_tag(call.service.stamp, address.encode(), repr(call.options).encode())
        return Located(tag, pattern_path(address, call.suffix, call.values))

    def prepare(self) -> Callable[[], bytes]:
        """What makes the answer."""
        return partial(_made, self.call, self._request())

    def _request(self) -> PatternRequest:
        if self.request is None:
            with stage("read"):
                self.request = self.call.service.deadline.run(self.read)
                g.units = self.request.spec.units or self.call.shop_units
        return self.request


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
