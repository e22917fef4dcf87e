"""Designs: what there is, what may be chosen, what of it can be made, what it costs, and the pattern of a choice."""

from collections.abc import Callable, Mapping
from typing import Any

import orjson

from service.desk.selling import offers_of, price_of, request_of
from service.door.addresses import canonical_suffix, design_pattern_path, finished_path, query_of
from service.door.answers.patterns import pattern_reply
from service.door.caching import entity_tag
from service.door.call import Call
from service.door.choice_query import choice_query
from service.door.errors import NoPricesHere
from service.door.machine.answer_cache import Located, request_key
from service.door.machine.stages import stage
from service.door.mounting import here
from service.door.reply import CachedReply, Reply
from service.forms.svg import SVG
from service.schemas.answers.designs import ChoicesDocument, DesignInShortDocument, DesignsDocument
from service.schemas.choosing import design_units, query_text
from service.schemas.design_document import canonical_texts, choices_document, design_document, missing_documents
from service.shop.designs import Choice, Value, range_of
from service.workshop.withheld import values_withheld, withheld

QUOTES = "/v1/quotes"
"""Where prices are asked for."""


def get_designs(call: Call) -> Reply:
    """`GET /v1/designs`: every design in short."""
    listed: list[DesignInShortDocument] = [
        {"name": each.name, "title": each.title, "about": each.about, "href": here(f"/v1/designs/{each.name}"),
         "picture": here(finished_path(each, each.defaults(), SVG, call.shop_units))}
        for each in call.shop.designs.values()
    ]  # fmt: skip
    document: DesignsDocument = {"designs": listed}
    return Reply(content=orjson.dumps(document))


def get_design(call: Call) -> Reply:
    """`GET /v1/designs/{design}`: one design with its choices."""
    design = call.design
    priced = call.shop.pricing is not None
    price, quotes = (here(f"/v1/designs/{design.name}/price"), here(QUOTES)) if priced else (None, None)
    table = call.shop.size_tables.get(design.size_table or "")
    sizes = table.sizes if table else ()
    return Reply(content=orjson.dumps(design_document(design, call.shop_units, sizes, price, quotes)))


def get_choices(call: Call) -> CachedReply:
    """`GET /v1/designs/{design}/choices`: what can be made, with whatever else is chosen."""
    design = call.design
    units = choice_query(design, call.shop_units).units
    texts = [(each.name, query_text(each, call.choices[each.name], units)) for each in _chosen(call)]
    return _reckoned(call, f"/v1/designs/{design.name}/choices" + query_of(texts), lambda: _choices(call))


def get_price(call: Call) -> CachedReply:
    """`GET /v1/designs/{design}/price`: what a buyer pays for one as chosen, and nothing of what it costs the shop."""
    if call.shop.pricing is None:
        raise NoPricesHere("this shop has no prices")
    design, chosen = call.design, call.chosen
    location = f"/v1/designs/{design.name}/price" + query_of(canonical_texts(design, chosen, call.shop_units))
    return _reckoned(call, location, lambda: price_of(design, chosen, call.shop))


def get_design_pattern(call: Call) -> CachedReply:
    """`GET /v1/designs/{design}/pattern`, with a suffix and without."""
    design, chosen = call.design, call.chosen
    canonical = design_pattern_path(design, chosen, canonical_suffix(call.form), call.values, call.shop_units)
    link = {"Link": f'<{here(canonical)}>; rel="canonical"'}
    return pattern_reply(call, canonical.encode(), lambda: request_of(design, chosen, call.shop), link)


def _reckoned(call: Call, location: str, document: Callable[[], Mapping[str, Any]]) -> CachedReply:
    """The answer at its canonical address."""

    def made() -> bytes:
        with stage("solve"):
            return orjson.dumps(document())

    source = location.encode()
    located = Located(entity_tag(call.service.stamp, source), location)
    return CachedReply(
        source=source, key=request_key(source), locate=lambda: located, prepare=lambda: made, cost="small"
    )


def _choices(call: Call) -> ChoicesDocument:
    """What can be made: of what is given of length and count only that, of all others the given or the default."""
    design, chosen, offers = call.design, call.chosen, offers_of(call.design, call.shop)
    lengths = _given_or_all(design.length, call.choices)
    counts = _given_or_all(design.count, call.choices) if design.count else (0,)
    offered = {each.name: offers.values(chosen, each, lengths, counts) for each in design.others}
    units, lines = design_units(design, call.shop_units), offers.lines(chosen, lengths, counts)
    had = [line.length for line in lines if line.counts]
    missing = {
        each.name: missing_documents(
            each, values_withheld(chosen, each, design, offers, offered[each.name]), chosen, units
        )
        for each in design.others
    }
    shown = {each.name: chosen[each.name] for each in design.choices if each in design.others or each in _chosen(call)}
    told = [(line, withheld(line, counts, had)) for line in lines]
    return choices_document(design, shown, told, offered, missing, call.shop_units)


def _chosen(call: Call) -> list[Choice]:
    """The choices that the query names, in the design's order."""
    return [each for each in call.design.choices if each.name in call.choices]


def _given_or_all(choice: Choice, given: Mapping[str, Value]) -> tuple[int, ...]:
    return (int(given[choice.name]),) if choice.name in given else tuple(range_of(choice))
