"""The route table: what the app routes by and what the OpenAPI document is made from."""

from functools import partial
from typing import Any

from flask import Flask

from service.door.answers.documents import get_document, get_page, get_rules
from service.door.answers.health import METRICS_TYPE, get_live, get_metrics, get_ready
from service.door.answers.patterns import get_pattern, post_pattern
from service.door.answers.shop import SHOP_PARAMETERS, get_shop
from service.door.design_routes import PAGE_ROUTES, design_routes, workshop_routes
from service.door.dispatch import dispatch
from service.door.options import output_parameters, refusals_of, vary_parameters
from service.door.reckoning_routes import reckoning_routes
from service.door.route import Route
from service.door.service import Service
from service.forms.form import Form
from service.forms.listed import FORMS
from service.settings import Settings
from service.words import say


def routes(settings: Settings) -> tuple[Route, ...]:
    """Every operation of the service."""
    own = (*_pattern_routes(settings), *reckoning_routes(settings), *_SHOP_AND_DOCUMENTS, *_OPERATIONS)
    return (*design_routes(settings), *PAGE_ROUTES, *workshop_routes(settings), *own)


def register_routes(app: Flask, service: Service) -> None:
    """Route every operation of the table."""
    for route in routes(service.settings):
        rule = route.path.replace("{", "<").replace("}", ">")
        view: Any = partial(dispatch, service, route)
        view.__name__ = view.__qualname__ = route.name  # the rate limit tells views apart by their names
        app.add_url_rule(rule, endpoint=route.name, view_func=view, methods=[route.method])


def quiet_routes() -> frozenset[str]:
    """The routes of machines: not counted, not logged, not limited."""
    return frozenset(route.name for route in _OPERATIONS)


def operation_paths() -> frozenset[str]:
    """The paths of machines."""
    return frozenset(route.path for route in _OPERATIONS)


def page_paths(settings: Settings) -> tuple[str, ...]:
    """The paths of what a browser opens: pages, and what they and others take from here."""
    return tuple(
        route.path
        for route in (*PAGE_ROUTES, *workshop_routes(settings), *_SHOP_AND_DOCUMENTS)
        if route.query == "link"
    )


_BY_SPEC = ("spec_unreadable", "cannot_be_made", "shop_changed", "url_too_long")


def _pattern_routes(settings: Settings) -> tuple[Route, ...]:
    post = Route(
        name="make_pattern",
        group="Patterns",
        method="POST",
        path="/v1/patterns",
        summary="Make the pattern of a strap",
        view=post_pattern,
        body_max=settings.body_max,
        answers="Pattern",
        forms=FORMS,
        known_parameters=(*output_parameters(settings), *vary_parameters()),
        has_output_options=True,
        own_problems=(*_BY_SPEC, "no_price", *refusals_of(FORMS)),
    )
    get = Route(
        name="get_pattern",
        group="Patterns",
        method="GET",
        path="/v1/patterns/{code}",
        summary="Get the pattern of a code, in the form that Accept asks for",
        view=get_pattern,
        answers="Pattern",
        forms=FORMS,
        known_parameters=output_parameters(settings),
        has_output_options=True,
        own_problems=("unknown_form", "unknown_code", *_BY_SPEC, *refusals_of(FORMS)),
    )
    return (post, get, *(_suffix_route(form, settings) for form in FORMS))


def _suffix_route(form: Form, settings: Settings) -> Route:
    return Route(
        name=f"get_pattern_{form.name}",
        group="Patterns",
        method="GET",
        path=f"/v1/patterns/{{code}}{form.suffix}",
        summary=say("Get the pattern of a code as {form}, whatever Accept says", form=form.title),
        view=get_pattern,
        answers="Pattern",
        forms=(form,),
        accept="suffix",
        known_parameters=output_parameters(settings),
        has_output_options=True,
        own_problems=("unknown_code", *_BY_SPEC, *form.refusals),
    )


_SHOP_AND_DOCUMENTS = (
    Route(
        name="get_shop",
        group="The shop",
        method="GET",
        path="/v1/shop",
        summary="What this shop works with: limits, defaults, rules and goods",
        view=get_shop,
        answers="Shop",
        known_parameters=SHOP_PARAMETERS,
        caching="by_key",
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
        accept="ignored",
    ),
    Route(
        name="get_docs",
        group="This document",
        method="GET",
        path="/docs",
        summary="A page to read this document on",
        view=get_page,
        answers="text/html",
        accept="ignored",
        query="link",
    ),
    Route(
        name="get_rules",
        group="This document",
        method="GET",
        path="/docs/rules",
        summary="The rules of the bench with a drawing of what each measures, and this shop's figures",
        view=get_rules,
        answers="text/html",
        accept="ignored",
        query="link",
    ),
)


def _operation(name: str, path: str, summary: str, view: Any, answers: str, *problems: str) -> Route:
    return Route(
        name=name, group="Running the service", method="GET", path=path, summary=summary, view=view, answers=answers,
        accept="ignored", caching="never", has_tag=False, own_problems=problems,
    )  # fmt: skip


_OPERATIONS = (
    _operation("get_live", "/health/live", "Whether the process answers", get_live, "Health"),
    _operation("get_ready", "/health/ready", "Whether the process can do its work", get_ready, "Health", "not_ready"),
    _operation("get_metrics", "/metrics", "What was counted, for Prometheus", get_metrics, METRICS_TYPE),
)
