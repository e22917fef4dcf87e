"""The routes of designs: what there is, what may be chosen, what can be made, and the pattern of a choice."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

import orjson
from flask import Response, g, request

from service.desk.pipeline import Form
from service.desk.selling import chosen_or_refused, offers_of, price_of
from service.door.answers.patterns import answer, options_of, suffix_of
from service.door.caching import entity_tag, names_tag, not_modified, settle
from service.door.errors import NoPricesHere, NoSuchDesign
from service.door.machine.answer_cache import Located, request_key
from service.door.machine.stages import stage
from service.door.mounting import here
from service.door.negotiation import MEDIA_TYPES, negotiate
from service.door.problems import cached_refusals
from service.door.query import Parameter, read_query
from service.door.service import Service
from service.schemas.answers.designs import ChoicesDocument, DesignInShortDocument, DesignsDocument
from service.schemas.choosing import design_units, offered, query_text, read_value
from service.schemas.design_document import canonical_texts, choices_document, design_document
from service.schemas.mistakes import unknown_name
from service.shop.designs import Choice, Chosen, Design, Options, Value, range_of
from service.shop.shop import Units

QUOTES = "/v1/quotes"
"""Where prices are asked for."""


def find_design(service: Service, name: str) -> Design:
    """The design of that name. Raises `NoSuchDesign`."""
    designs = service.shop.designs
    if name not in designs:
        raise NoSuchDesign(unknown_name("design", name, designs) if designs else "this shop has no designs")
    return designs[name]


def get_designs(service: Service) -> Response:
    """`GET /v1/designs`: every design in short."""
    read_query(request.query_string, ())
    negotiate(request.headers.get("Accept", ""), ("json",))
    listed: list[DesignInShortDocument] = [
        {"name": each.name, "title": each.title, "about": each.about, "href": here(f"/v1/designs/{each.name}"),
         "picture": here(finished_url(service, each, each.defaults(), "svg"))}
        for each in service.shop.designs.values()
    ]  # fmt: skip
    document: DesignsDocument = {"designs": listed}
    return _fixed(service, document)


def get_design(service: Service, design: str) -> Response:
    """`GET /v1/designs/{design}`: one design with its choices."""
    read_query(request.query_string, ())
    negotiate(request.headers.get("Accept", ""), ("json",))
    found, units = find_design(service, design), service.shop.defaults.units
    priced = service.shop.pricing is not None
    price, quotes = (here(f"/v1/designs/{found.name}/price"), here(QUOTES)) if priced else (None, None)
    return _fixed(service, design_document(found, units, price, quotes))


def get_choices(service: Service, design: str) -> Response:
    """`GET /v1/designs/{design}/choices`: what can be made, with whatever else is chosen."""
    asked = find_design(service, design)
    given = read_query(request.query_string, choice_parameters(asked, service.shop.defaults.units))
    negotiate(request.headers.get("Accept", ""), ("json",))
    location = f"/v1/designs/{asked.name}/choices" + query_of(_texts(asked, given, service.shop.defaults.units))
    return _reckoned(service, location, lambda: _choices(service, asked, given))


def get_price(service: Service, design: str) -> Response:
    """`GET /v1/designs/{design}/price`: what a buyer pays for one as chosen, and nothing of what it costs the shop."""
    asked, default_units = find_design(service, design), service.shop.defaults.units
    given = read_query(request.query_string, choice_parameters(asked, default_units))
    negotiate(request.headers.get("Accept", ""), ("json",))
    if service.shop.pricing is None:
        raise NoPricesHere("this shop has no prices")
    chosen: Chosen = {**asked.defaults(), **given}
    g.units = design_units(asked, default_units)
    location = f"/v1/designs/{asked.name}/price" + query_of(canonical_texts(asked, chosen, default_units))
    return _reckoned(service, location, lambda: price_of(asked, chosen, service.shop))


def _reckoned(service: Service, location: str, document: Callable[[], Mapping[str, Any]]) -> Response:
    """The answer at its canonical address: kept from before, or reckoned in its turn."""
    tag = entity_tag(service.stamp, location.encode())
    response = Response(content_type=MEDIA_TYPES["json"])
    _head(service, response, location)
    if names_tag(request, tag):
        response.set_etag(tag)
        return not_modified(response)
    content = service.cache.content(tag)
    g.cache = "hit" if content is not None else "miss"
    if content is None:
        with cached_refusals(service.cache, location.encode(), service.shop.defaults.units):
            content = service.lanes.small.do(lambda: _solved(document), stage)
        service.cache.put(request_key(location.encode()), Located(tag, location), content)
    response.set_data(content)
    return settle(request, response, tag)


def _solved(document: Callable[[], Mapping[str, Any]]) -> bytes:
    with stage("solve"):
        return orjson.dumps(document())


def get_design_pattern(service: Service, design: str) -> Response:
    """`GET /v1/designs/{design}/pattern`: the form is negotiated."""
    return _pattern(service, design, negotiate(request.headers.get("Accept", ""), MEDIA_TYPES), "")


def get_design_pattern_as(service: Service, form: Form, design: str) -> Response:
    """`GET /v1/designs/{design}/pattern.json` and the like: the suffix says the form."""
    return _pattern(service, design, form, f".{form}")


def design_url(
    service: Service, design: Design, chosen: Chosen, form: Form, options: Mapping[str, Any], suffix: str | None = None
) -> str:
    """The canonical URL of a design's pattern: every choice in the design's order, then the options in theirs."""
    texts = canonical_texts(design, chosen, service.shop.defaults.units)
    named = [(each.name, options[each.name]) for each in service.pattern_parameters if each.name in options]
    path = f"/v1/designs/{design.name}/pattern" + (suffix_of(form) if suffix is None else suffix)
    return path + query_of([*texts, *named])


def finished_url(service: Service, design: Design, chosen: Chosen, form: Form, **more: Any) -> str:
    """The URL of the finished look of a design as chosen. `more` is written in the order of the parameters."""
    return design_url(service, design, chosen, form, {"view": "finished", **more})


@lru_cache(maxsize=256)
def choice_parameters(design: Design, default_units: Units) -> tuple[Parameter, ...]:
    """A query parameter for every choice of a design."""
    units = design_units(design, default_units)
    return tuple(_parameter(choice, units) for choice in design.choices)


def _parameter(choice: Choice, units: Units) -> Parameter:
    def read(text: str) -> Value:
        return read_value(choice, text, units)

    return Parameter(name=choice.name, meaning=choice.title, read=read, schema=_schema(choice, units))


def _schema(choice: Choice, units: Units) -> dict[str, Any]:
    if isinstance(choice.offer, Options):
        return {"type": "string", "enum": [query_text(choice, value, units) for value in choice.offer]}
    if choice.is_length:
        return {"type": "string", "description": offered(choice, units)}
    return {"type": "integer", "minimum": choice.offer.least, "maximum": choice.offer.most}


def _pattern(service: Service, name: str, form: Form, suffix: str) -> Response:
    design, default_units = find_design(service, name), service.shop.defaults.units
    parameters = (*choice_parameters(design, default_units), *service.pattern_parameters)
    values = read_query(request.query_string, parameters)
    chosen = design.defaults()
    chosen |= {each.name: values.pop(each.name) for each in design.choices if each.name in values}
    options = options_of(form, values, service.settings)
    canonical = design_url(service, design, chosen, form, values)

    def document() -> object:
        return chosen_or_refused(design, chosen, service.shop)

    g.units = design_units(design, default_units)
    response = answer(service, canonical.encode(), document, options, values, suffix or suffix_of(form))
    response.headers["Link"] = f'<{here(canonical)}>; rel="canonical"'
    return response


def _choices(service: Service, design: Design, given: Mapping[str, Value]) -> ChoicesDocument:
    """What can be made: of what is said of length and count only that, of all others the said or the default."""
    chosen: Chosen = {**design.defaults(), **given}
    offers = offers_of(design, service.shop)
    lengths = _given_or_all(design.length, given)
    counts = _given_or_all(design.count, given) if design.count else (0,)
    offered_values = {each.name: offers.values(chosen, each, lengths, counts) for each in design.others}
    shown = {each.name: chosen[each.name] for each in design.choices if each in design.others or each.name in given}
    lines = offers.lines(chosen, lengths, counts)
    return choices_document(design, shown, lines, offered_values, service.shop.defaults.units)


def _given_or_all(choice: Choice, given: Mapping[str, Value]) -> tuple[int, ...]:
    return (int(given[choice.name]),) if choice.name in given else tuple(range_of(choice))


def _texts(design: Design, given: Mapping[str, Value], default_units: Units) -> list[tuple[str, str]]:
    units = design_units(design, default_units)
    return [(each.name, query_text(each, given[each.name], units)) for each in design.choices if each.name in given]


def query_of(pairs: list[tuple[str, Any]]) -> str:
    """The pairs as a query with its question mark; nothing where there are none."""
    return f"?{urlencode(pairs)}" if pairs else ""


def _fixed(service: Service, document: Mapping[str, Any]) -> Response:
    content = orjson.dumps(document)
    response = Response(content, content_type=MEDIA_TYPES["json"])
    _head(service, response)
    return settle(request, response, entity_tag(service.stamp, content))


def _head(service: Service, response: Response, location: str | None = None) -> None:
    response.headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    response.headers["Vary"] = "Accept"
    if location:
        response.headers["Content-Location"] = here(location)
