"""The OpenAPI document, and the page that shows it to people."""

from flask import Response, request

from service.http.caching import entity_tag, settle
from service.http.negotiation import MEDIA_TYPES
from service.http.query import read_query
from service.http.service import Service


def get_document(service: Service) -> Response:
    """`GET /openapi.json`."""
    read_query(request.query_string, ())
    return _fixed(service, service.document, MEDIA_TYPES["json"])


def get_page(service: Service) -> Response:
    """`GET /docs`."""
    response = _fixed(service, service.page, "text/html; charset=utf-8")
    response.headers["Content-Security-Policy"] = service.page_policy
    return response


def _fixed(service: Service, content: bytes, media_type: str) -> Response:
    response = Response(content, content_type=media_type)
    response.headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    return settle(request, response, entity_tag(service.stamp, content))
