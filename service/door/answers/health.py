"""For the machines that run the service: whether it lives, and whether it can do its work."""

from flask import Response, request

from service.door.errors import NotReady
from service.door.machine.metrics import BUILD, exposition
from service.door.negotiation import MEDIA_TYPES
from service.door.query import read_query
from service.door.service import Service
from service.forms.face import FontError, check_font

METRICS_TYPE = "text/plain; version=0.0.4; charset=utf-8"


def get_live(_service: Service) -> Response:
    """The process answers."""
    read_query(request.query_string, ())
    return _status(b'{"status":"live"}')


def get_ready(_service: Service) -> Response:
    """The process can draw: what a drawing needs is in its place. Raises `NotReady`."""
    read_query(request.query_string, ())
    try:
        check_font()
    except FontError as error:
        raise NotReady("the drawing font cannot be used") from error
    return _status(b'{"status":"ready"}')


def get_metrics(service: Service) -> Response:
    """What was counted since the start, for Prometheus: of all of this server's processes."""
    read_query(request.query_string, ())
    BUILD.labels(service.shop.digest[:12]).set(1)
    return Response(exposition(), content_type=METRICS_TYPE, headers={"Cache-Control": "no-store"})


def _status(content: bytes) -> Response:
    return Response(content, content_type=MEDIA_TYPES["json"], headers={"Cache-Control": "no-store"})
