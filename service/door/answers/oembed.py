"""`GET /oembed`: the picture of a design's page, for whoever shows links as pictures (oEmbed 1.0)."""

from dataclasses import replace
from urllib.parse import urlsplit

import orjson
from flask import request

from service.door.addresses import finished_path
from service.door.call import Call
from service.door.choice_query import choice_query, find_design
from service.door.errors import FormatNotOffered, NotEmbeddable, ParameterFault, QueryError
from service.door.mounting import here, origin_of
from service.door.pages.shop_pages import CARD
from service.door.query import one_of, read_link, text, whole
from service.door.reply import Reply
from service.door.service import Service
from service.forms.png import PNG
from service.schemas.answers.designs import OEmbedDocument
from service.shop.designs import Chosen, Design
from service.words import say

OEMBED_PARAMETERS = (
    text("url", "The address of a design's page here, with whatever is chosen there", 2000, required=True),
    whole("maxwidth", "Greatest width of the picture in pixels", 64, 8000),
    whole("maxheight", "Greatest height of the picture in pixels", 64, 8000),
    replace(one_of("format", "Only `json` is spoken here", "json", "xml"), schema={"type": "string", "enum": ["json"]}),
)


def get_oembed(call: Call) -> Reply:
    """The picture as a photo with its address, width and height."""
    values = call.values
    if call.faults:
        raise QueryError(call.faults)
    if values.get("format") == "xml":
        raise FormatNotOffered("oEmbed is answered as JSON only")
    if "url" not in values:
        raise QueryError((ParameterFault("url", "missing", "has to be given: the address of a design's page"),))
    design, chosen = _embedded(call.service, values["url"])
    size = _fitting(values.get("maxwidth", CARD[0]), values.get("maxheight", CARD[1]))
    return Reply(content=orjson.dumps(_photo(call.service, design, chosen, size)))


def _photo(service: Service, design: Design, chosen: Chosen, size: tuple[int, int]) -> OEmbedDocument:
    width, height = size
    picture = finished_path(design, chosen, PNG, service.shop.defaults.units, width_px=width, height_px=height)
    return {
        "version": "1.0",
        "type": "photo",
        "title": design.title,
        "url": site_of(service) + picture,
        "width": width,
        "height": height,
        "provider_name": service.shop.name,
        "provider_url": f"{site_of(service)}/",
        "cache_age": service.settings.cache_seconds,
    }


def site_of(service: Service) -> str:
    """Where others reach this service, without a slash at the end."""
    return origin_of(service.settings) + request.script_root


def _embedded(service: Service, url: str) -> tuple[Design, Chosen]:
    """The design that a page of this service shows, as it is shown there. Raises `NotEmbeddable`."""
    elsewhere = NotEmbeddable(say("only a design's page has a picture: {site}/designs/NAME", site=site_of(service)))
    try:
        parts = urlsplit(url)
    except ValueError as error:
        raise elsewhere from error
    ours = f"{parts.scheme}://{parts.netloc}" == origin_of(service.settings) and parts.path.startswith(here("/"))
    names = parts.path.removeprefix(request.script_root).rstrip("/").split("/")
    if not ours or len(names) != 3 or names[:2] != ["", "designs"]:
        raise elsewhere
    design = find_design(service.shop, names[2])
    given, _ = read_link(parts.query.encode(), choice_query(design, service.shop.defaults.units).parameters)
    return design, {**design.defaults(), **given}


def _fitting(max_width: int, max_height: int) -> tuple[int, int]:
    """A card's size, made smaller to fit."""
    width = min(CARD[0], max_width, max_height * CARD[0] // CARD[1])
    return width, width * CARD[1] // CARD[0]
