"""The OpenAPI document, and the page that shows it to people."""

from functools import lru_cache

import orjson
from flask import Response, request

from service.door.caching import entity_tag, settle
from service.door.negotiation import MEDIA_TYPES
from service.door.query import read_query
from service.door.service import Service


def get_document(service: Service) -> Response:
    """`GET /openapi.json`."""
    read_query(request.query_string, ())
    return _fixed(service, _served(service.document, request.script_root), MEDIA_TYPES["json"])


@lru_cache(maxsize=4)
def _served(document: bytes, root: str) -> bytes:
    """The document as it is for who reaches the service below a path (OpenAPI 3.1, Server Object)."""
    if not root:
        return document
    told = orjson.loads(document)
    return orjson.dumps({**told, "servers": [{**server, "url": root} for server in told["servers"]]})


def get_page(service: Service) -> Response:
    """`GET /docs`."""
    response = _fixed(service, service.page, "text/html; charset=utf-8")
    response.headers["Content-Security-Policy"] = service.page_policy
    return response


def _fixed(service: Service, content: bytes, media_type: str) -> Response:
    response = Response(content, content_type=media_type)
    response.headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    return settle(request, response, entity_tag(service.stamp, content))
