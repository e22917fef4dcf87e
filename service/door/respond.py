"""How an answer becomes a response: caching, conditional requests and headers, as its route declares them."""

from contextlib import nullcontext

from flask import Response, g, request

from service.door.caching import entity_tag, names_tag, not_modified, settle
from service.door.call import Call
from service.door.machine.answer_cache import Located
from service.door.machine.front_cache import CACHED
from service.door.machine.stages import stage
from service.door.mounting import here
from service.door.problems import cached_refusals
from service.door.reply import Answer, CachedReply
from service.door.route import Route


def respond(route: Route, call: Call, answer: Answer) -> Response:
    """The response to a call: 304 where the caller has it, else what was made before, or is made now."""
    if isinstance(answer, CachedReply):
        return _recalled(route, call, answer)
    response = Response(answer.content, content_type=answer.media_type or call.form.media_type)
    _add_headers(route, call, response, answer)
    return settle(request, response, entity_tag(call.service.stamp, answer.content)) if route.has_tag else response


def _recalled(route: Route, call: Call, answer: CachedReply) -> Response:
    cache = call.service.cache
    with stage("cache"):
        located = cache.located(answer.key)
    with nullcontext() if located else cached_refusals(cache, answer.source, call.shop_units):
        return _located(route, call, answer, located)


def _located(route: Route, call: Call, answer: CachedReply, known: Located | None) -> Response:
    cache, lane = call.service.cache, call.service.lanes.of(answer.cost)
    if known is None:
        lane.refuse_if_full()
    located = known or answer.locate()
    response = Response(content_type=call.form.media_type)
    _add_headers(route, call, response, answer)
    if located.location:
        _add_location(response, here(located.location), call.service.settings.url_max)
    if names_tag(request, located.tag):
        response.set_etag(located.tag)
        return not_modified(response)
    content = cache.content(located.tag)
    g.cache = "hit" if content is not None else "miss"
    made = lane.do(answer.prepare(), stage) if content is None else content
    if known is None or content is None:
        cache.put(answer.key, located, made)
    request.environ[CACHED] = (located.tag, route.name)
    response.set_data(made)
    return settle(request, response, located.tag)


def _add_headers(route: Route, call: Call, response: Response, answer: Answer) -> None:
    """The headers of a good answer, which a 304 carries as well."""
    headers = response.headers
    headers["Cache-Control"] = _cache_control(route, call)
    if route.varies_by:
        headers["Vary"] = ", ".join(route.varies_by)
    for name, value in (*call.form.headers.items(), *answer.headers.items()):
        headers[name] = value


def _cache_control(route: Route, call: Call) -> str:
    by_key = route.caching == "by_key" and call.has_key and "Authorization" in request.headers
    if by_key or route.caching == "never":
        return "no-store"
    return f"public, max-age={call.service.settings.cache_seconds}"


def _add_location(response: Response, location: str, longest: int) -> None:
    if len(location) <= longest:
        response.headers["Content-Location"] = location
