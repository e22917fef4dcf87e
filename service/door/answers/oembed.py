"""`GET /oembed`: the picture of a design's page, for whoever shows links as pictures (oEmbed 1.0)."""

from dataclasses import replace
from urllib.parse import urlsplit

import orjson
from flask import Response, request

from service.door.answers.designs import choice_parameters, find_design, finished_url
from service.door.caching import entity_tag, settle
from service.door.errors import FormatNotOffered, NotEmbeddable, ParameterFault, QueryError
from service.door.mounting import here, origin_of
from service.door.negotiation import MEDIA_TYPES
from service.door.pages.shop_pages import CARD
from service.door.query import one_of, read_link, text, whole
from service.door.service import Service
from service.schemas.answers.designs import OEmbedDocument
from service.shop.designs import Chosen, Design

OEMBED_PARAMETERS = (
    text("url", "The address of a design's page here, with whatever is chosen there", 2000, required=True),
    whole("maxwidth", "Greatest width of the picture in pixels", 64, 8000),
    whole("maxheight", "Greatest height of the picture in pixels", 64, 8000),
    replace(one_of("format", "Only `json` is spoken here", "json", "xml"), schema={"type": "string", "enum": ["json"]}),
)


def get_oembed(service: Service) -> Response:
    """The picture as a photo with its address, width and height."""
    values, faults = read_link(request.query_string, OEMBED_PARAMETERS)
    if faults:
        raise QueryError(faults)
    if values.get("format") == "xml":
        raise FormatNotOffered("oEmbed is answered as JSON only")
    if "url" not in values:
        raise QueryError((ParameterFault("url", "missing", "has to be given: the address of a design's page"),))
    design, chosen = _embedded(service, values["url"])
    size = _fitting(values.get("maxwidth", CARD[0]), values.get("maxheight", CARD[1]))
    content = orjson.dumps(_photo(service, design, chosen, size))
    response = Response(content, content_type=MEDIA_TYPES["json"])
    response.headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    return settle(request, response, entity_tag(service.stamp, content))


def _photo(service: Service, design: Design, chosen: Chosen, size: tuple[int, int]) -> OEmbedDocument:
    width, height = size
    return {
        "version": "1.0",
        "type": "photo",
        "title": design.title,
        "url": site_of(service) + finished_url(service, design, chosen, "png", width_px=width, height_px=height),
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
    elsewhere = NotEmbeddable(f"only a design's page has a picture: {site_of(service)}/designs/NAME")
    try:
        parts = urlsplit(url)
    except ValueError as error:
        raise elsewhere from error
    ours = f"{parts.scheme}://{parts.netloc}" == origin_of(service.settings) and parts.path.startswith(here("/"))
    names = parts.path.removeprefix(request.script_root).rstrip("/").split("/")
    if not ours or len(names) != 3 or names[:2] != ["", "designs"]:
        raise elsewhere
    design = find_design(service, names[2])
    given, _ = read_link(parts.query.encode(), choice_parameters(design, service.shop.defaults.units))
    return design, {**design.defaults(), **given}


def _fitting(max_width: int, max_height: int) -> tuple[int, int]:
    """A card's size, made smaller to fit."""
    width = min(CARD[0], max_width, max_height * CARD[0] // CARD[1])
    return width, width * CARD[1] // CARD[0]
