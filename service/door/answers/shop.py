"""`GET /v1/shop`: what this shop works with."""

import orjson
from flask import Response, request

from service.door.caching import entity_tag, settle
from service.door.keys import holds_key
from service.door.negotiation import MEDIA_TYPES, negotiate
from service.door.query import one_of, read_query
from service.door.service import Service
from service.schemas.shop_document import shop_document
from service.schemas.spec import UNITS

SHOP_PARAMETERS = (one_of("units", "Units of all readings, instead of the shop's own", *UNITS),)


def get_shop(service: Service) -> Response:
    """The shop as JSON; its purchase prices only for whom they are meant."""
    units = read_query(request.query_string, SHOP_PARAMETERS).get("units", service.shop.defaults.units)
    negotiate(request.headers.get("Accept", ""), ("json",))
    trusted = holds_key(service.keys, request)
    content = orjson.dumps(shop_document(service.shop, units, with_prices=trusted))
    response = Response(content, content_type=MEDIA_TYPES["json"])
    shown_key = trusted and "Authorization" in request.headers
    response.headers["Cache-Control"] = "no-store" if shown_key else f"public, max-age={service.settings.cache_seconds}"
    response.headers["Vary"] = "Accept, Authorization"
    return settle(request, response, entity_tag(service.stamp, content))
