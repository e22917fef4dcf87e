"""The reckoning routes: quotes, and cut plans as JSON, SVG, PNG or PDF."""

import time

import orjson
from flask import Response, g, request

from service.desk.pipeline import Budget, Form, Options
from service.desk.reckoning import Planned, describe_cut_plan, draw_cut_plan, make_cut_plan, make_quote
from service.door.answers.patterns import SVG_POLICY, options_of, pattern_parameters
from service.door.body import json_body
from service.door.caching import entity_tag, settle
from service.door.errors import MemberNeedsKey
from service.door.keys import holds_key
from service.door.machine.stages import stage
from service.door.negotiation import MEDIA_TYPES, negotiate
from service.door.query import Parameter, read_query
from service.door.service import Service
from service.schemas.quote import overrides_in
from service.schemas.spec import units_of
from service.settings import Settings

CUT_PLAN_FORMS: tuple[Form, ...] = ("json", "svg", "png", "pdf")
_NAMES = ("units", "dpi", "width_px", "paper")


def cut_plan_parameters(settings: Settings) -> tuple[Parameter, ...]:
    """The query parameters of a cut plan: those of a pattern that have a meaning for it."""
    return tuple(each for each in pattern_parameters(settings) if each.name in _NAMES)


def post_quote(service: Service) -> Response:
    """`POST /v1/quotes`: with all that it costs the shop for who holds a key; else what a buyer is charged."""
    read_query(request.query_string, ())
    negotiate(request.headers.get("Accept", ""), ("json",))
    trusted = holds_key(service.keys, request)
    document = _document(service)
    if not trusted and (names := overrides_in(document)):
        raise MemberNeedsKey(names)
    with stage("solve"):
        quote = make_quote(document, service.shop, time.monotonic, with_costs=trusted)
    return _answer(service, "json", orjson.dumps(quote))


def post_cut_plan(service: Service) -> Response:
    """`POST /v1/cut-plans`: the form is negotiated."""
    values = read_query(request.query_string, cut_plan_parameters(service.settings))
    form = negotiate(request.headers.get("Accept", ""), CUT_PLAN_FORMS)
    options = options_of(form, values, service.settings)
    document = _document(service)
    with stage("solve"):
        planned = make_cut_plan(document, service.shop, time.monotonic)
    with stage("draw"):
        content = _content(service, planned, options)
    return _answer(service, form, content)


def _document(service: Service) -> object:
    document = json_body(request, service.settings.orders_body_max, service.bodies)
    g.document = document
    g.units = units_of(document, service.shop.defaults.units)
    return document


def _content(service: Service, planned: Planned, options: Options) -> bytes:
    if options.form == "json":
        return orjson.dumps(describe_cut_plan(planned, service.shop, options.units))
    budget = Budget(pixels=service.settings.pixels_max, pages=service.settings.pages_max)
    return draw_cut_plan(planned, service.shop, options, budget)


def _answer(service: Service, form: Form, content: bytes) -> Response:
    """An answer that nobody keeps: prices and stock are the caller's own, and change."""
    response = Response(content, content_type=MEDIA_TYPES[form])
    response.headers.update({"Cache-Control": "no-store", "Vary": "Accept"})
    if form == "svg":
        response.headers["Content-Security-Policy"] = SVG_POLICY
    return settle(request, response, entity_tag(service.stamp, content))
