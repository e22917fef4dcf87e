"""The route table: what the app routes by and what the OpenAPI document is made from."""

from functools import partial
from typing import Any

from flask import Flask, Response, request

from service.desk.pipeline import Form
from service.door.answers.documents import get_document, get_page
from service.door.answers.health import METRICS_TYPE, get_live, get_metrics, get_ready
from service.door.answers.patterns import (
    drawn_problems,
    forms_of,
    get_pattern,
    get_pattern_as,
    pattern_parameters,
    post_pattern,
)
from service.door.answers.shop import SHOP_PARAMETERS, get_shop
from service.door.body import json_text
from service.door.design_routes import PAGE_ROUTES, design_routes
from service.door.errors import NoKey
from service.door.keys import holds_key
from service.door.machine.stages import stage
from service.door.query import Parameter
from service.door.reckoning_routes import reckoning_routes
from service.door.route import Route
from service.door.service import Service
from service.settings import Settings

_FORMS: tuple[Form, ...] = ("json", "svg", "png", "pdf")


def routes(settings: Settings) -> tuple[Route, ...]:
    """Every operation of the service."""
    own = (*_pattern_routes(settings), *reckoning_routes(settings), *_SHOP_AND_DOCUMENTS, *_OPERATIONS)
    return (*design_routes(settings, _FORMS), *PAGE_ROUTES, *own)


def register_routes(app: Flask, service: Service) -> None:
    """Route every operation of the table."""
    for route in routes(service.settings):
        rule = route.path.replace("{", "<").replace("}", ">")
        view: Any = partial(_reckoning if route.reckons else _plain, service, route)
        view.__name__ = view.__qualname__ = route.name  # the rate limit tells views apart by their names
        app.add_url_rule(rule, endpoint=route.name, view_func=view, methods=[route.method])


def quiet_routes() -> frozenset[str]:
    """The routes of machines: not counted, not logged, not limited."""
    return frozenset(route.name for route in _OPERATIONS)


def operation_paths() -> frozenset[str]:
    """The paths of machines."""
    return frozenset(route.path for route in _OPERATIONS)


def page_paths() -> tuple[str, ...]:
    """The paths of what a browser opens: pages, and what they and others take from here."""
    documents = (route for route in _SHOP_AND_DOCUMENTS if route.answers == "text/html")
    return tuple(route.path for route in (*PAGE_ROUTES, *documents))


def _plain(service: Service, route: Route, **path: str) -> Response:
    return route.view(service, **path)


def _reckoning(service: Service, route: Route, **path: str) -> Response:
    if route.key == "needed" and not holds_key(service.keys, request):
        raise NoKey
    json_text(request, service.settings.orders_body_max, service.bodies)  # before its turn: who drips holds nobody up
    return service.lanes.large.do(partial(route.view, service, **path), stage)


_BY_CODE = ("unknown_code", "spec_unreadable", "cannot_be_made", "shop_changed", "query_unreadable", "url_too_long")


def _pattern_routes(settings: Settings) -> tuple[Route, ...]:
    parameters = pattern_parameters(settings)
    post = Route(
        name="make_pattern",
        group="Patterns",
        method="POST",
        path="/v1/patterns",
        summary="Make the pattern of a strap",
        view=post_pattern,
        answers="Pattern",
        forms=_FORMS,
        parameters=parameters,
        problems=(
            "not_json", "not_acceptable", "request_timeout", "body_too_long", "wrong_media_type",
            "wrong_content_encoding",
            *_BY_CODE[1:], *drawn_problems(*_FORMS),
        ),
        conditional=False,
    )  # fmt: skip
    get = Route(
        name="get_pattern",
        group="Patterns",
        method="GET",
        path="/v1/patterns/{code}",
        summary="Get the pattern of a code, in the form that Accept asks for",
        view=get_pattern,
        answers="Pattern",
        forms=_FORMS,
        parameters=parameters,
        problems=("unknown_form", "not_acceptable", *_BY_CODE, *drawn_problems(*_FORMS)),
    )
    return (post, get, *(_suffix_route(form, parameters) for form in _FORMS))


def _suffix_route(form: Form, parameters: tuple[Parameter, ...]) -> Route:
    return Route(
        name=f"get_pattern_{form}",
        group="Patterns",
        method="GET",
        path=f"/v1/patterns/{{code}}.{form}",
        summary=f"Get the pattern of a code as {form.upper()}, whatever Accept says",
        view=partial(_as_form, form),
        answers="Pattern",
        forms=(form,),
        parameters=tuple(each for each in parameters if form in forms_of(each.name)),
        problems=(*_BY_CODE, *drawn_problems(form)),
    )


def _as_form(form: Form, service: Service, code: str) -> Response:
    return get_pattern_as(service, form, code)


_SHOP_AND_DOCUMENTS = (
    Route(
        name="get_shop",
        group="The shop",
        method="GET",
        path="/v1/shop",
        summary="What this shop works with: limits, defaults, rules and goods",
        view=get_shop,
        answers="Shop",
        parameters=SHOP_PARAMETERS,
        problems=("not_acceptable", "query_unreadable", "key_needed"),
        key="optional",
    ),
    Route(
        name="get_openapi",
        group="This document",
        method="GET",
        path="/openapi.json",
        summary="This document",
        view=get_document,
        answers="OpenApi",
        problems=("query_unreadable",),
    ),
    Route(
        name="get_docs",
        group="This document",
        method="GET",
        path="/docs",
        summary="A page to read this document on",
        view=get_page,
        answers="text/html",
    ),
)

_OPERATIONS = (
    Route(
        name="get_live",
        group="Running the service",
        method="GET",
        path="/health/live",
        summary="Whether the process answers",
        view=get_live,
        answers="Health",
        problems=("query_unreadable",),
        conditional=False,
    ),
    Route(
        name="get_ready",
        group="Running the service",
        method="GET",
        path="/health/ready",
        summary="Whether the process can do its work",
        view=get_ready,
        answers="Health",
        problems=("query_unreadable", "not_ready"),
        conditional=False,
    ),
    Route(
        name="get_metrics",
        group="Running the service",
        method="GET",
        path="/metrics",
        summary="What was counted, for Prometheus",
        view=get_metrics,
        answers=METRICS_TYPE,
        problems=("query_unreadable",),
        conditional=False,
    ),
)
